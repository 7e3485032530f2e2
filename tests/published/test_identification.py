"""Codes and colours of conductors, and how they are over-marked."""

from __future__ import annotations

from dataclasses import replace

import pytest
from circuits import SETS, Circuit, conversion, core_at, loop_in, with_core
from judged_circuit import solution_to_reading

from sheetgen.catalogue.colours import CODES, read_colour
from sheetgen.judge.sleeves import colour_needed
from sheetgen.model.reading import Role, Standing
from sheetgen.model.wiring import Core, CoreEnd
from sheetgen.solve.wiring_to_solution import wiring_to_solution

# IEC 60757:1983, the whole table in its order (by way of a national text identical to it; letter for letter in the
# edition of 2021 from memory).
IEC_60757 = [
    ("BK", "black"), ("BN", "brown"), ("RD", "red"), ("OG", "orange"), ("YE", "yellow"), ("GN", "green"),
    ("BU", "blue"), ("VT", "violet"), ("GY", "grey"), ("WH", "white"), ("PK", "pink"), ("GD", "gold"),
    ("TQ", "turquoise"), ("SR", "silver"), ("GNYE", "green-and-yellow"),
]


def test_every_code_of_iec_60757_in_its_order():
    assert list(CODES.items()) == IEC_60757


@pytest.mark.parametrize(("code", "word"), IEC_60757)
def test_codes_are_read_as_codes_and_as_words(code, word):
    assert read_colour(code) == read_colour(code.lower()) == read_colour(word) == code


def test_light_blue_is_blue_and_green_with_yellow_is_one_code():
    assert read_colour("light blue") == "BU"
    assert read_colour("green and yellow") == "GNYE"


def test_table_51_of_bs_7671():
    # BS 7671 Table 51 (a secondary source): line brown, neutral blue, protective green-and-yellow; three-core flat
    # brown, black, grey.
    current = SETS["current"]
    assert (current.line, current.neutral, current.protective) == ("BN", "BU", "GNYE")
    assert current.cores["three-core and earth"][:3] == ("BN", "BK", "GY")
    assert current.cores["twin and earth"][:2] == ("BN", "BU")


def test_colours_before_2004():
    # IEE Wiring Regulations, 14th to 16th editions (a secondary source): red, black; three-core red, yellow, blue.
    legacy = SETS["legacy"]
    assert (legacy.line, legacy.neutral, legacy.protective) == ("RD", "BK", "GNYE")
    assert legacy.cores["three-core and earth"][:3] == ("RD", "YE", "BU")
    assert legacy.cores["twin and earth"][:2] == ("RD", "BK")


def test_flexible_cords_before_and_after_1970():
    # Electrical Appliances (Colour Code) Regulations 1969 (parliamentary answer of 14 March 1969).
    assert SETS["legacy"].cores["three-core flex"] == ("RD", "BK", "GN")
    assert SETS["current"].cores["three-core flex"] == ("BN", "BU", "GNYE")


@pytest.mark.parametrize("colours", ["current", "legacy"])
@pytest.mark.parametrize("cable", ["twin", "twin and earth", "three-core", "three-core and earth", "four-core"])
def test_colours_of_a_cable_are_colours_of_iec_60757(colours, cable):
    assert all(colour in CODES or colour == "" for colour in SETS[colours].cores[cable])


@pytest.mark.parametrize(("colours", "drop", "straps", "line"), [
    ("current", "BU", ("BK", "GY"), "BN"), ("legacy", "BK", ("YE", "BU"), "RD")])
def test_switch_drops_and_three_cores_are_marked_as_line(colours, drop, straps, line):
    # BS 7671 appendix 7 and 514.3 (practice confirmed in a secondary source, clause from memory): the second core of a
    # twin used as switch drop, and the second and third of a three-core between switches.
    c = Circuit(colours)
    conversion(c, c.way(), "Study")
    wiring = c.wiring()
    for core in list(wiring.cores()):
        if core.colour:
            wiring = with_core(wiring, replace(core, ends=tuple(replace(e, sleeve=None) for e in core.ends)))
    reading = solution_to_reading(wiring, wiring_to_solution(wiring), SETS)
    missing = {(s.core, s.colour) for s in reading.sleeves if s.standing is Standing.MISSING}
    assert missing == {("W3/2", line), ("W4/2", line), ("W4/3", line)}
    assert core_at(wiring, "W3/2").colour == drop
    assert tuple(core_at(wiring, k).colour for k in ("W4/2", "W4/3")) == straps


def core(colour: str, cpc: bool = False) -> Core:
    return Core("W1", 1, colour, (CoreEnd("A", "1"), CoreEnd("B", "1")), cpc=cpc)


@pytest.mark.parametrize("role", list(Role))
@pytest.mark.parametrize("colours", ["current", "legacy"])
def test_green_and_yellow_is_never_over_marked(role, colours):
    # BS 7671 514.4.2 (a secondary source): single cores to A1, cores of multicore cables too from A2:2022.
    assert colour_needed(core("GNYE", True), role, SETS[colours], SETS) is None


def test_a_bare_cpc_is_sleeved_green_and_yellow():
    # BS 7671 543.3.201, in the 17th edition 543.3.2 (a secondary source; the clause of the 18th from memory).
    for chosen in SETS.values():
        assert colour_needed(core("", True), Role.CPC, chosen, SETS) == "GNYE"


def test_a_black_core_as_cpc_and_a_grey_one_as_neutral():
    # A convention of 2004 for three-core (a secondary source): black sleeved green-and-yellow, grey sleeved blue.
    assert colour_needed(core("BK"), Role.CPC, SETS["current"], SETS) == "GNYE"
    assert colour_needed(core("GY"), Role.NEUTRAL, SETS["current"], SETS) == "BU"


def test_the_traps_black_and_blue():
    # Black: neutral in old twin, line in new three-core. Blue: line in old three-core, neutral in new twin.
    def need(colour, role, name):
        return colour_needed(core(colour), role, SETS[name], SETS)
    assert need("BK", Role.NEUTRAL, "legacy") is None and need("BK", Role.SWITCHED_LINE, "current") == "BN"
    assert need("BU", Role.NEUTRAL, "current") is None and need("BU", Role.SWITCHED_LINE, "legacy") == "RD"


def test_old_cable_with_modern_flex_needs_nothing():
    c = Circuit("legacy")
    loop_in(c, c.way(), "Study")
    wiring = c.wiring()
    reading = solution_to_reading(wiring, wiring_to_solution(wiring), SETS)
    assert {s.standing for s in reading.sleeves} == {Standing.FITTED}
    assert {wiring.cable(k).colours for k in ("W1", "W2")} == {"current", "legacy"}
