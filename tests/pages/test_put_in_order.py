"""What a sheet says where conductors are not connected as they should be: it is not taken for sound."""

from __future__ import annotations

import pytest
from pages.jobs import FAULTY, NAMES, example, faulty, job_of, tables, words

from sheetgen.circuit import circuit_of
from sheetgen.judge.methods import what_is_where
from sheetgen.judge.roles import nets_of, roles_of, ways_of
from sheetgen.model.job import Job
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.method import compose
from sheetgen.pipeline import style_of, wiring_of

PAIR = """job: Stairs
colours: current
accessories:
  Rose: {kind: ceiling rose, room: Stairs, lamp: 8 W}
  Top: {kind: two-way switch}
  Foot: {kind: two-way switch}
  Porch: {kind: batten lampholder, lamp: 6 W}
  Door: {kind: one-way switch, connectors: [N joint]}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Rose, cores: {BN: [L, loop], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Rose, to: Foot, sleeved: [BU],
       cores: {BN: [loop, %s], BU: [SL, L2], cpc: [E, E]}}
  W3: {type: three-core and earth 1.0, from: Foot, to: Top,
       cores: {BN: [COM, COM], BK: [L1, L1], GY: [L2, L2], cpc: [E, E]}, sleeved: [BK, GY]}
  W4: {type: twin and earth 1.0, from: Rose, to: Door, cores: {BN: [loop, COM], BU: [N, N joint], cpc: [E, E]}}
  W5: {type: twin and earth 1.0, from: Door, to: Porch, cores: {BN: [L1, L], BU: [N joint, N], cpc: [E, E]}}
"""
ROSE = """job: Study
colours: current
accessories:
  Study: {kind: ceiling rose, room: Study, lamp: 10 W}
  Door: {kind: one-way switch}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Study, cores: {BN: [L, loop], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Study, to: Door, cores: {BN: [%s, COM], BU: [%s, L1], cpc: [E, E]}}
%s"""
FLEX = "  W3: {type: two-core flex 0.75, from: Study, to: Study lamp, cores: {BN: [loop, L], BU: [SL, N]}}\n"
SHORTED = ROSE % ("N", "SL", FLEX)
SHORT_WITH_DOOR_ON = ROSE % ("loop", "N", "")
FIRST = "Nothing before it is put in order: see the findings"


def read(text: str) -> Job:
    return job_of(wiring_of(text.encode()))


def could(job: Job) -> dict[str, str]:
    """Accessory -> what could be fitted there, as printed."""
    (table,) = [t for t in tables(compose(Lookup(job))[0]) if t.head[0] == "Accessory"]
    return {name: words(row[-1]) for row in table.rows for name in words(row[0]).split(", ")}


def test_nothing_is_fitted_to_a_set_of_switches_that_does_not_always_work_and_elsewhere_it_is():
    """Line on a common of a conversion: two of four settings are bypassed, and so would a dimmer be."""
    sound, wrong = could(read(PAIR % "L1")), could(read(PAIR % "COM"))
    assert "One two-way dimmer for the whole set" in sound["Top"] and "One two-way dimmer" in sound["Foot"]
    assert [wrong[name] for name in ("Top", "Foot", "Rose")] == [FIRST] * 3
    assert wrong["Door"] == sound["Door"] != FIRST and wrong["Porch"] == sound["Porch"] != FIRST


def test_nothing_is_fitted_in_a_short_that_no_switch_makes():
    assert could(read(SHORTED))["Door"] == FIRST


def test_nothing_is_fitted_where_a_lamp_has_no_neutral():
    cut = PAIR.replace("BU: [N joint, N]", "BU: [nothing, N]")
    found = could(read(cut % "L1"))
    assert found["Porch"] == found["Door"] == FIRST and found["Top"] != FIRST


@pytest.mark.parametrize("job", [*map(example, NAMES), *map(faulty, FAULTY)], ids=[*NAMES, *FAULTY])
def test_of_every_accessory_something_is_said(job: Job):
    assert all(could(job).values())
    assert all((place.fits or place.lacks) for place in job.reading.places)


def test_a_light_without_its_neutral_lacks_it_in_words():
    """The reason stands in the place itself, whatever is found besides: never a blank cell."""
    wiring = wiring_of((PAIR.replace("BU: [N joint, N]", "BU: [nothing, N]") % "L1").encode())
    circuit = circuit_of(wiring)
    nets = nets_of(circuit)
    roles, ways = roles_of(circuit, nets, style_of().sets), ways_of(circuit, nets)
    (porch,) = [p for p in what_is_where(
        wiring, circuit.solution, roles, ways, {}, frozenset({"Porch"})) if p.accessory == "Porch"]
    assert porch.lacks == ("no light, sensor or fan: there is no neutral here",) and porch.fits == ()
