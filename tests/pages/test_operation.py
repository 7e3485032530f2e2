"""The operation page: every lamp in a state table that agrees with the solution, and the law it follows."""

from __future__ import annotations

from fractions import Fraction

import pytest
from circuits import Circuit, conversion, strappers
from commands.runs import chain_of_switches
from houses import house_without
from hypothesis import given, settings
from kept_houses import houses, one_process
from pages.jobs import NAMES, example, job_of, says, tables, words

from sheetgen.model.job import Job
from sheetgen.model.solution import Condition, Lamp, LampState, Potential
from sheetgen.model.words import condition, lamp
from sheetgen.pages.job_to_pages import job_to_pages
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.method import evidence
from sheetgen.pages.what_switches_do import changes, operated_once
from sheetgen.pipeline import style_of, understood


def operation(job):
    """The page."""
    (page,) = job_to_pages(job, ("operation",))
    return page


@one_process
@settings(max_examples=30, deadline=None, derandomize=True)
@given(houses())
def test_every_lamp_and_switch_has_a_column_of_a_state_table(wiring):
    heads = [head for table in tables(operation(job_of(wiring))) for head in table.head]
    for name, accessory, load in wiring.loads():
        assert f"{accessory.name} {load.name}".strip() in heads, name
    for name, accessory, switch in wiring.switches():
        assert f"{accessory.name} {switch.name}".strip() in heads, name


@pytest.mark.parametrize("name", NAMES)
def test_the_rows_say_what_the_solution_says(name):
    job = example(name)
    groups = [g for g in job.solution.groups if g.lamps or g.switches]
    found = {table.head[: len(g.switches) + len(g.lamps)]: table for table in tables(operation(job)) for g in groups}
    look = Lookup(job)
    for group in groups:
        table = found[(*(look.switches[s] for s in group.switches), *(look.loads[n] for n in group.lamps))]
        rows = group.rows if len(group.rows) <= 16 else operated_once(group)
        assert len(table.rows) == len(rows)
        first = len(group.switches)
        for row, cells in zip(rows, table.rows, strict=True):
            printed = [words(c) for c in cells[first: first + len(group.lamps)]]
            assert printed == [lamp(state) for state in row.lamps]


@pytest.mark.parametrize("switches", [2, 3, 4, 5, 6])
@pytest.mark.parametrize("method", [conversion, strappers])
def test_a_multiway_lamp_follows_the_parity_law(method, switches):
    circuit = Circuit()
    method(circuit, circuit.way(), "Stairs", switches)
    job = job_of(circuit.wiring())
    total = 2**switches
    text = says(operation(job))
    assert f"Worked out in all {total} settings: each operation of Stairs 1" in text
    assert f"changes the lamp; lit in {total // 2} of {total}." in text
    (table,) = tables(operation(job))
    assert len(table.rows) == (total if total <= 16 else switches + 1)


def test_operating_a_switch_that_does_nothing_is_counted_as_nothing():
    job = example("two-way-conversion")
    (group,) = [g for g in job.solution.groups if len(g.switches) == 2]
    assert changes(group)[0][0] == (2, 2)
    row = group.rows[0]
    stuck = type(group)(group.switches, group.positions, group.lamps, group.terminals,
                        tuple(type(row)(r.setting, row.lamps, row.conditions) for r in group.rows))
    assert changes(stuck)[0][0] == (0, 2)


@pytest.mark.parametrize(("core", "rows"), [
    ("BU", [("All 14 switches off", "All 14 lamps off"),
            ("Any one of them on, the others as in the first row", "All 14 lamps off but live"),
            ("All 14 switches on", "All 14 lamps off but live")]),
    ("BN", [("All 14 switches off", "All 14 lamps off", "floating"),
            ("Any one of them on, the others as in the first row", "All 14 lamps off", "neutral via lamp"),
            ("All 14 switches on", "All 14 lamps off", "neutral via lamp")]),
])
def test_of_many_switches_what_is_alike_is_a_row_and_names_are_counted(core, rows):
    """A lamp whose neutral goes to nothing is live at both contacts as soon as another of the same neutral is switched
    on (common practice); with the line in nothing they are all at neutral through one another."""
    wiring, solution, reading = understood(house_without(core, 14, 1))
    page = operation(Job(wiring, solution, reading, sets=style_of().sets))
    assert [tuple(map(words, row)) for row in tables(page)[0].rows] == rows
    text = says(page)
    assert "14 lamps, switched at 14 switches" in text
    assert "Worked out in 121 settings of 16384: no switch ever changes any of the 14 lamps; lit in 0 of 121." in text
    assert "all switches in their first position, all in their last, and each operated once" in text


def test_what_goes_on_from_lamp_to_lamp_for_sheets_is_left_to_the_connections():
    few, many = (understood(house_without("BN", rooms, 1))[2].circuits for rooms in (3, 40))
    says = [" ".join(block.text for block in evidence(circuits[0])) for circuits in (few, many)]
    assert "Flex 2 BU to Rose 2 lamp N" in says[0] and "under Connections" not in says[0]
    assert "Flex 2 BU to Rose 2 lamp N" not in says[1]
    assert says[1].endswith("not a two-way switch at each end. Its conductors one by one are under Connections.")


def test_many_switches_without_a_lamp_have_a_table_without_lamps():
    text = "\n".join(line for line in chain_of_switches(13).split("\n") if "Lamp" not in line)
    wiring, solution, reading = understood(text)
    page = operation(Job(wiring, solution, reading, sets=style_of().sets))
    assert "No lamp, switched at 13 switches" in says(page)
    assert tables(page)[0].head[0] == "Setting" and "Lamps" not in tables(page)[0].head


def test_one_of_many_switches_that_does_nothing_is_in_no_row():
    """Fourteen rooms without a neutral, in one of them a switch without a line: it does nothing, and has no row."""
    text = house_without("BU", 14, 1).replace("D3: {type: twin and earth 1.0, from: Rose 3, to: Switch 3, length: 3 m, "
                                              "cores: {BN: [loop, COM]",
                                              "D3: {type: twin and earth 1.0, from: Rose 3, to: Switch 3, length: 3 m, "
                                              "cores: {BN: [nothing, COM]")
    wiring, solution, reading = understood(text)
    page = operation(Job(wiring, solution, reading, sets=style_of().sets))
    _, second, last = [tuple(map(words, row)) for row in tables(page)[0].rows]
    others = ", ".join(f"Switch {i}" for i in (1, 2, *range(4, 14)))
    assert second == (f"{others} or Switch 14 on, the others as in the first row", "All 14 lamps off but live")
    assert last == ("All 14 switches on", "All 14 lamps off but live")


def test_of_two_switches_in_a_row_each_is_said_to_do_nothing_while_the_other_is_off():
    circuit = Circuit()
    way = circuit.way()
    for name in ("Porch", "Hall"):
        circuit.put(name, "one-way switch")
    circuit.put("Lamp", "batten lampholder")
    circuit.single(way.accessory, "L", "Porch", "COM")
    circuit.single("Porch", "L1", "Hall", "COM")
    circuit.single("Hall", "L1", "Lamp", "L")
    circuit.neutral("Lamp", "N", way.accessory, "N")
    text = says(operation(job_of(circuit.wiring())))
    assert "Porch changes the lamp, but not with Hall off; Hall changes the lamp, but not with Porch off" in text
    assert "lit in 1 of 4." in text


@pytest.mark.parametrize("state, printed", [
    (Lamp(LampState.ON, Fraction(1)), "\N{BLACK CIRCLE} on"),
    (Lamp(LampState.DIM, Fraction(1, 2)), "\N{CIRCLE WITH LEFT HALF BLACK} dim, 50 % of the voltage"),
    (Lamp(LampState.OFF, Fraction(0)), "\N{WHITE CIRCLE} off"),
    (Lamp(LampState.OFF_BUT_LIVE, Fraction(0)), "\N{WHITE CIRCLE} off but live"),
    (Lamp(LampState.SHORT, Fraction(0)), "\N{WARNING SIGN} short"),
])
def test_a_lamp_has_a_mark_and_a_word(state, printed):
    assert lamp(state) == printed


@pytest.mark.parametrize("given_condition, printed", [
    (Condition(Potential.LINE, Fraction(1)), "line"),
    (Condition(Potential.NEUTRAL, Fraction(0)), "neutral"),
    (Condition(Potential.NEUTRAL, Fraction(0), solid=False), "neutral via lamp"),
    (Condition(Potential.THROUGH_LOAD, Fraction(1), solid=False), "line via lamp"),
    (Condition(Potential.BETWEEN, Fraction(2, 3), solid=False), "67 % of line"),
    (Condition(Potential.FLOATING, None, solid=False), "floating"),
])
def test_a_terminal_has_a_word(given_condition, printed):
    assert condition(given_condition) == printed


def test_a_terminal_is_told_by_the_kind_of_load_that_lies_behind_it():
    """On the cord's switched line lie a lamp and, while its timer is idle, the motor of the fan."""
    text = says(operation(example("outbuildings")))
    assert "via electronics: nothing with them disconnected; can differ by tens of volts" in text
    assert "via load: several, lamps, fans or electronics" in text
    text = says(operation(example("two-way-conversion")))
    assert "LED lamps can shift it by tens of volts" in text and "via load" not in text and "via fan" not in text


def test_what_is_said_of_a_fan_and_its_electronics_reads_as_english():
    text = says(operation(example("outbuildings")))
    assert "neither Isolator nor Fan timer changes Bathroom" in text
    assert "each operation of Isolator starts or stops Fan electronics; on in 4 of 8." in text.replace("Each", "each")
    text = says(*job_to_pages(example("outbuildings"), ("cables",)))
    assert "1 W for 2 sets of electronics, 20 W for the fan" in text


def test_electronics_start_and_stop() -> None:
    """Only what takes their supply is named: that a sensor does not stop its own electronics says nothing."""
    said = says(operation(example("outbuildings")))
    assert "each operation of Yard switch starts or stops Sensor electronics; on in 2 of 4." in said
