"""The card: what the chart at the board must say, what stays live, which notices hang beside it."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from circuits import Circuit, conversion, loop_in, wirings
from hypothesis import given, settings
from pages.jobs import NAMES, example, job_of, says, tables, words

from sheetgen.job_to_pages import job_to_pages
from sheetgen.model.solution import LampState
from sheetgen.pages.lookup import Lookup, is_live
from sheetgen.words import MIXED_COLOURS, isolation


def card(job):
    """The page."""
    (page,) = job_to_pages(job, ("card",))
    return page


def facts(job, way: int = 0) -> dict[str, str]:
    """The chart of one way."""
    charts = [t for t in tables(card(job)) if t.plain]
    return {words(label): words(text) for label, text in charts[way].rows}


def test_the_chart_says_what_each_way_serves_and_how():
    chart = facts(example("two-way-line-at-switch"))
    assert chart["Device"] == "type B 6 A, RCD 30 mA"
    assert chart["Isolate by"] == "switching off way 4 at the consumer unit"
    assert chart["Lights"] == "Landing lamp (8 W) and Bedroom lamp (8 W); 2 points, 16 W together"
    assert chart["Switches"] == "Hall, Top and Bed switch"
    assert "\N{MULTIPLICATION SIGN} single 1.0 mm²" in chart["Conductors"]
    assert "1 \N{MULTIPLICATION SIGN} three-core and earth 1.0 mm², cpc 1.0 mm²" in chart["Conductors"]
    assert chart["Fault protection"] == "automatic disconnection of supply (ADS), TN-C-S"


def test_what_is_not_given_is_said_not_to_be_given():
    job = example("two-way-line-at-switch")
    (way,) = job.wiring.board.ways
    board = replace(job.wiring.board, earthing="", ze=None, where="", ways=(replace(way, device=None, rcd=None),))
    bare = replace(job, wiring=replace(job.wiring, board=board, drawn_by="", drawn_on=""))
    chart = facts(bare)
    assert chart["Device"] == "device not given, RCD not given"
    assert chart["Fault protection"].startswith("not given")
    assert "earthing: not given, Ze: not given" in says(card(bare))


def test_a_lamp_counts_for_the_way_of_its_line_only():
    job = example("landing-borrowed-neutral")
    assert "Landing lamp" in facts(job, 0)["Lights"]
    assert facts(job, 1)["Lights"] == "none; only the neutral of Landing lamp"
    assert facts(job, 1)["Switches"] == "none"


@pytest.mark.parametrize("name", NAMES)
def test_every_way_has_its_chart_and_every_step_of_isolation_is_there(name):
    job = example(name)
    text = says(card(job))
    for number, way in enumerate(job.wiring.board.ways):
        assert f"Way {way.number}" in text
        assert facts(job, number)["Device"].startswith(str(way.device or "device not given"))
    for step in isolation("")[1:]:
        assert step in text


def test_the_loop_and_the_common_stay_live_at_a_one_way_light():
    circuit = Circuit()
    loop_in(circuit, circuit.way(), "Study")
    live = {x.accessory.name: (x.always, x.sometimes) for x in Lookup(job_of(circuit.wiring())).stays_live()}
    assert live == {"Study": (("loop",), ()), "Study door": (("COM",), ())}


def test_straps_can_be_live_with_the_lamp_out():
    circuit = Circuit()
    conversion(circuit, circuit.way(), "Stairs")
    live = {x.accessory.name: (x.always, x.sometimes) for x in Lookup(job_of(circuit.wiring())).stays_live()}
    assert live["Stairs 1"] == (("L1",), ("COM",))
    assert live["Stairs 2"] == (("L1",), ("COM",))


@settings(max_examples=60, deadline=None, derandomize=True)
@given(wirings())
def test_no_terminal_that_is_live_with_every_lamp_out_is_left_off_the_card(wiring):
    job = job_of(wiring)
    look = Lookup(job)
    listed = {(x.accessory.name, t) for x in look.stays_live() for t in (*x.always, *x.sometimes)}
    out = (LampState.OFF, LampState.OFF_BUT_LIVE)
    for terminal in wiring.nodes():
        if wiring.way(terminal.accessory):
            continue
        if terminal in job.solution.constant:
            live = is_live(job.solution.constant[terminal])
        else:
            group = next(g for g in job.solution.groups if terminal in g.terminals)
            i = group.terminals.index(terminal)
            live = any(is_live(row.conditions[i]) for row in group.rows if all(x.state in out for x in row.lamps))
        assert not live or (terminal.accessory, look.label(terminal)) in listed


def test_the_notice_of_two_colour_versions_is_for_fixed_wiring_only():
    assert MIXED_COLOURS in says(card(example("old-meets-new")))
    for name in ("two-way-line-at-switch", "bungalow"):  # old cable with modern flex; one set throughout
        assert MIXED_COLOURS not in says(card(example(name)))


def test_the_notice_of_two_colour_versions_goes_when_all_is_redrawn_in_one():
    assert MIXED_COLOURS not in says(card(example("old-meets-new", "current")))


def test_accessories_without_a_cpc_are_named_in_a_notice():
    circuit = Circuit()
    way = circuit.way()
    circuit.put("Shed", "batten lampholder")
    circuit.cable("twin", way.accessory, "Shed", ("L", "L"), ("N", "N"))
    assert "No cpc at Shed." in says(card(job_of(circuit.wiring())))
    assert "No cpc" not in says(card(example("bungalow")))


def test_loads_are_added_exactly():
    circuit = Circuit()
    way = circuit.way()
    for i in range(3):
        circuit.put(f"Lamp {i}", "batten lampholder", lamp=Fraction(1, 3))
        circuit.twin(way.accessory, f"Lamp {i}", ("L", "L"), ("N", "N"))
    assert facts(job_of(circuit.wiring()))["Lights"].endswith("3 points, 1 W together")
