"""Wiring to Solution: every setting, exact."""

from __future__ import annotations

import itertools
import time
from dataclasses import replace
from fractions import Fraction

import pytest
from circuits import (
    Circuit,
    Feed,
    alternate,
    at_the_switch,
    box,
    bridge,
    conversion,
    loop_in,
    plate,
    series,
    strappers,
    switched_neutral,
    wirings,
    with_end,
)
from commands.runs import chain_of_switches
from hypothesis import given, settings

from sheetgen.circuit.edits import edited
from sheetgen.model.accessory import Terminal
from sheetgen.model.reading import TakeOff
from sheetgen.model.solution import Group, LampState, Potential, Row, Rows, Solution
from sheetgen.model.wiring import Wiring
from sheetgen.pipeline import wiring_of
from sheetgen.solve.joined import Joined
from sheetgen.solve.nodal import islands
from sheetgen.solve.settings import MOST, gray
from sheetgen.solve.settings import settings as settings_of
from sheetgen.solve.solve import Solver
from sheetgen.solve.wiring_to_solution import wiring_to_solution


def one_room(room, *more, **kw) -> Wiring:
    c = Circuit()
    room(c, c.way(), "Study", *more, **kw)
    return c.wiring()


def states(wiring: Wiring) -> dict[tuple[str, ...], str]:
    (group,) = wiring_to_solution(wiring).groups
    return {row.setting: row.lamps[0].state.value for row in group.rows}


def condition(wiring: Wiring, accessory: str, terminal: str, **setting: str):
    """The condition of a terminal: (potential, fraction, ways, solid)."""
    solution = wiring_to_solution(wiring)
    node = Terminal(accessory, terminal)
    if node in solution.constant:
        assert not setting
        found = solution.constant[node]
    else:
        group = next(g for g in solution.groups if node in g.terminals)
        found = group.row(setting).conditions[group.terminals.index(node)]
    return found.potential.value, found.fraction, found.ways, found.solid


def test_numbers_joined_have_the_smallest_as_their_representative():
    joined = Joined(6)
    joined.join(4, 2)
    joined.join(5, 4)
    joined.join(1, 3)
    assert joined.all() == [0, 1, 2, 1, 2, 2]


def test_one_way():
    assert states(one_room(loop_in)) == {("off",): "off", ("on",): "on"}
    assert states(one_room(box)) == {("off",): "off", ("on",): "on"}
    assert states(one_room(at_the_switch)) == {("off",): "off", ("on",): "on"}


def test_conversion_lights_when_the_switches_differ_and_straight_strappers_when_they_agree():
    differ = {("L1", "L1"): "off", ("L1", "L2"): "on", ("L2", "L2"): "off", ("L2", "L1"): "on"}
    agree = {s: {"on": "off", "off": "on"}[v] for s, v in differ.items()}
    assert states(one_room(conversion)) == differ
    assert states(one_room(strappers)) == agree
    assert states(one_room(strappers, crossed=True)) == differ


def test_rows_follow_a_gray_code_from_the_first_positions():
    (group,) = wiring_to_solution(one_room(conversion, 4)).groups
    assert group.rows[0].setting == ("L1", "straight", "straight", "L1")
    assert len({row.setting for row in group.rows}) == len(group.rows) == 16
    for before, after in zip(group.rows, group.rows[1:], strict=False):
        assert sum(a != b for a, b in zip(before.setting, after.setting, strict=True)) == 1


@pytest.mark.parametrize("counts", [(), (2,), (3, 2), (2, 3, 4), (1, 2, 1)])
def test_gray_code_of_any_positions(counts):
    rows = gray(counts)
    total = 1
    for count in counts:
        total *= count
    assert len(set(rows)) == len(rows) == total
    assert all(0 <= p < count for row in rows for p, count in zip(row, counts, strict=True))
    for before, after in itertools.pairwise(rows):
        assert sum(abs(a - b) for a, b in zip(before, after, strict=True)) == 1


def test_a_group_of_too_many_switches_claims_only_what_it_solved():
    rows, complete = settings_of((2,) * 12)
    assert complete and len(rows) == MOST
    rows, complete = settings_of((2,) * 12 + (3,))
    assert not complete
    assert rows[0] == (0,) * 13
    singles = 12 + 2
    pairs = 12 * 11 // 2 + 12 * 2
    from_the_last = 1 + singles
    assert len(set(rows)) == len(rows) == 1 + singles + pairs + from_the_last
    assert (1,) * 12 + (2,) in rows
    rows, complete = settings_of((2,) * 65)  # 2,080 pairs
    assert not complete and len(set(rows)) == len(rows) == 2 * (1 + 65)
    (group,) = wiring_to_solution(one_room(strappers, 13)).groups
    assert not group.complete
    assert len(group.rows) == 1 + 13 + 13 * 12 // 2 + 1 + 13
    assert {sum(row.setting.count(p) for p in ("L2", "crossed")) for row in group.rows} == {0, 1, 2, 12, 13}


def test_of_a_star_of_lamps_the_middle_is_where_a_voltage_divider_has_it_and_what_hangs_on_it_too():
    """Two lamps to line, one to neutral, all alike: 2/3 of the voltage (resistances in series and parallel); sixty more
    that lead on to nothing carry no current."""
    fixed = {0: Fraction(1), 1: Fraction(0)}
    lamps = [(0, 2, Fraction(8)), (0, 2, Fraction(8)), (1, 2, Fraction(8))]
    loads = [*lamps, *((2, 3 + i, Fraction(5)) for i in range(60))]
    (island,) = islands(fixed, loads)
    assert len(island.knots) == 61 and set(island.potentials) == {Fraction(2, 3)}


def test_of_more_switches_than_are_solved_in_full_the_setting_with_all_of_them_on_is_among_those_solved():
    """A lamp behind thirteen switches in a row is lit in one setting of 8,192; that one has the greatest load too."""
    wiring = wiring_of(chain_of_switches(13))
    (group,) = wiring_to_solution(wiring).groups
    lit = [row.setting for row in group.rows if row.lamps[0].state is LampState.ON]
    assert not group.complete and lit == [("on",) * 13]


@pytest.mark.parametrize("switches", [2, 3, 5, 13])
def test_one_operation_leads_to_every_setting_solved_that_differs_by_one_switch(switches):
    (group,) = wiring_to_solution(one_room(strappers, switches)).groups
    for row, reached in group.operations:
        apart = [[i for i, (a, b) in enumerate(zip(row.setting, other.setting, strict=True)) if a != b]
                 for other in group.rows]
        wanted = sorted((places[0], other.setting) for places, other in zip(apart, group.rows, strict=True)
                        if len(places) == 1)
        assert sorted((place, other.setting) for place, other in reached) == wanted
    assert [row for row, _ in group.operations] == list(group.rows)


def test_what_a_terminal_was_seen_at_is_every_condition_it_has():
    (group,) = wiring_to_solution(one_room(strappers, 3)).groups
    for i in range(len(group.terminals)):
        assert set(group.seen[i]) == {row.conditions[i] for row in group.rows}
        assert len(set(group.seen[i])) == len(group.seen[i])
        assert (i in group.changing) == (len(group.seen[i]) > 1)


def test_conditions_of_a_loop_in_rose():
    wiring = one_room(loop_in)
    way = ("way 1",)
    assert condition(wiring, "Study", "loop") == ("line", 1, way, True)
    assert condition(wiring, "Study", "N") == ("neutral", 0, way, True)
    assert condition(wiring, "Study", "E") == ("earth", 0, way, True)
    assert condition(wiring, "Study", "SL", **{"Study door": "on"}) == ("line", 1, way, True)
    assert condition(wiring, "Study", "SL", **{"Study door": "off"}) == ("neutral", 0, way, False)
    assert condition(wiring, "Study lamp", "L", **{"Study door": "off"}) == ("neutral", 0, way, False)


def test_a_strapper_that_no_contact_reaches_floats():
    wiring = one_room(strappers)
    both_on_one = {"Study 1": "L1", "Study 2": "L1"}
    assert condition(wiring, "Study 2", "L2", **both_on_one) == ("floating", None, (), False)
    assert condition(wiring, "Study 2", "L1", **both_on_one) == ("line", 1, ("way 1",), True)


def test_a_switch_in_the_neutral_leaves_the_lamp_off_but_live():
    wiring = one_room(switched_neutral)
    assert states(wiring) == {("off",): "off but live", ("on",): "on"}
    assert condition(wiring, "Study", "N", **{"Study door": "off"}) == ("through a load", 1, ("way 1",), False)
    assert condition(wiring, "Study", "N", **{"Study door": "on"}) == ("neutral", 0, ("way 1",), True)


def test_alternate_polarity_goes_through_all_four_states():
    assert states(one_room(alternate)) == {
        ("L1", "L1"): "off but live", ("L1", "L2"): "on", ("L2", "L2"): "off", ("L2", "L1"): "on"}


def test_lamps_in_series_share_the_voltage_by_their_watts():
    (group,) = wiring_to_solution(one_room(series)).groups
    on = group.row({"Study door": "on"})
    assert [(x.state, x.fraction) for x in on.lamps] == [
        (LampState.DIM, Fraction(40, 100)), (LampState.DIM, Fraction(60, 100))]
    assert condition(one_room(series), "Study b", "L", **{"Study door": "on"}) == (
        "between", Fraction(60, 100), ("way 1",), False)
    assert all(x.state is LampState.OFF for x in group.row({"Study door": "off"}).lamps)


def test_a_lamp_without_a_switch_has_one_row_and_nothing_varies():
    c = Circuit()
    feed = c.way()
    c.put("Porch", "batten lampholder")
    c.twin("way 1", "Porch", ("L", "L"), ("N", "N"))
    solution = wiring_to_solution(c.wiring())
    (group,) = solution.groups
    assert (group.switches, group.terminals, group.lamps) == ((), (), ("Porch",))
    (row,) = group.rows
    assert row.setting == () and row.lamps[0].state is LampState.ON
    assert set(solution.constant) == set(c.wiring().nodes())
    assert feed == Feed("way 1")


def test_a_bridge_of_unequal_lamps_is_solved_exactly():
    # Wheatstone: 10 W and 20 W above, 30 W and 60 W below balance; the 5 W across them carries nothing.
    fixed = {0: Fraction(1), 1: Fraction(0)}
    loads = [(0, 2, 10), (0, 3, 20), (2, 1, 30), (3, 1, 60), (2, 3, 5)]
    (island,) = islands(fixed, [(a, b, Fraction(w)) for a, b, w in loads])
    assert dict(zip(island.knots, island.potentials, strict=True)) == {2: Fraction(1, 4), 3: Fraction(1, 4)}
    loads[3] = (3, 1, 20)
    (island,) = islands(fixed, [(a, b, Fraction(w)) for a, b, w in loads])
    at = dict(zip(island.knots, island.potentials, strict=True))
    for knot, near in ((2, [(1, 10), (0, 30), (at[3], 5)]), (3, [(1, 20), (0, 20), (at[2], 5)])):
        assert sum(w * (at[knot] - other) for other, w in near) == 0


def test_a_load_with_one_contact_loose_carries_nothing():
    c = Circuit()
    c.way()
    c.put("Porch", "batten lampholder")
    c.twin("way 1", "Porch", (None, None), ("N", "N"))
    assert wiring_to_solution(c.wiring()).groups[0].rows[0].lamps[0].state is LampState.OFF
    assert condition(c.wiring(), "Porch", "L") == ("neutral", 0, ("way 1",), False)
    c.cables.clear()
    assert condition(c.wiring(), "Porch", "L") == ("floating", None, (), False)


def test_a_load_with_both_contacts_on_one_net_carries_nothing():
    c = Circuit()
    c.way()
    c.put("Porch", "batten lampholder")
    c.twin("way 1", "Porch", ("L", "L"), ("N", None))
    c.single("Porch", "L", "Porch", "N")
    assert wiring_to_solution(c.wiring()).groups[0].rows[0].lamps[0].state is LampState.OFF_BUT_LIVE
    c.cables = c.cables[1:]
    assert wiring_to_solution(c.wiring()).groups[0].rows[0].lamps[0].state is LampState.OFF


def test_terminals_joined_to_nothing_float():
    c = Circuit()
    c.way()
    c.put("Spare", "joint box")
    assert condition(c.wiring(), "Spare", "3") == ("floating", None, (), False)


def test_a_short_in_one_setting_names_the_terminals_it_goes_through():
    c = Circuit()
    loop_in(c, c.way(), "Study")
    bad = replace(c.wiring(), cables=(*c.cables, bridge("X1", Terminal("Study", "SL"), Terminal("Study", "N"))))
    solution = wiring_to_solution(bad)
    off, on = solution.group_of_switch("Study door").rows
    assert off.shorts == () and solution.shorts == ()
    (short,) = on.shorts
    assert short.rails == (Terminal("way 1", "L"), Terminal("way 1", "N"))
    assert [str(t) for t in short.through] == [
        "way 1 L", "Study loop", "Study door COM", "Study door L1", "Study SL", "Study N", "way 1 N"]
    assert solution.group_of_lamp("Study lamp").rows[0].lamps[0].state is LampState.OFF  # both contacts on neutral


def test_a_lamp_in_a_part_that_is_shorted_says_so():
    c = Circuit()
    conversion(c, c.way(), "Study")
    bad = replace(c.wiring(), cables=(*c.cables, bridge("X1", Terminal("Study 1", "COM"), Terminal("Study", "E"))))
    (group,) = wiring_to_solution(bad).groups
    assert {row.setting: row.lamps[0].state.value for row in group.rows} == {
        ("L1", "L1"): "short", ("L1", "L2"): "short", ("L2", "L2"): "off", ("L2", "L1"): "short"}
    assert [len(row.shorts) for row in group.rows] == [1, 1, 0, 1]


def test_a_short_that_no_switch_makes_is_said_once():
    c = Circuit()
    feed = loop_in(c, c.way(), "Study")
    bad = replace(c.wiring(), cables=(*c.cables, bridge("X1", Terminal("Study", feed.line), Terminal("Study", "E"))))
    solution = wiring_to_solution(bad)
    (short,) = solution.shorts
    assert [str(t) for t in short.through] == ["way 1 L", "Study loop", "Study E", "way 1 E"]
    assert all(row.shorts == () and row.lamps[0].state is LampState.SHORT for row in solution.groups[0].rows)
    assert solution.constant[Terminal("Study", "E")].potential is Potential.LINE


def test_a_shorted_neutral_beats_the_earth_by_a_shorter_path():
    c = Circuit()
    c.way()
    c.put("Box", "joint box", terminals=["A"])
    c.single("way 1", "L", "Box", "A")
    c.single("Box", "A", "way 1", "E")
    c.single("way 1", "N", "way 1", "E")
    (short,) = wiring_to_solution(c.wiring()).shorts
    assert short.rails == (Terminal("way 1", "L"), Terminal("way 1", "E"))
    (meeting,) = wiring_to_solution(c.wiring()).meetings
    assert [str(t) for t in meeting.through] == ["way 1 N", "way 1 E"]


def test_rails_of_two_ways_that_meet_are_no_short():
    c = Circuit()
    c.way("1")
    c.way("2")
    c.put("Door", "one-way switch")
    c.single("way 1", "L", "Door", "COM")
    c.single("way 2", "L", "Door", "L1")
    c.neutral("way 1", "N", "way 2", "N")
    c.earth("way 1", "way 2")
    solution = wiring_to_solution(c.wiring())
    off, on = solution.groups[0].rows
    assert off.meetings == () and on.shorts == ()
    assert [str(t) for t in on.meetings[0].through] == ["way 1 L", "Door COM", "Door L1", "way 2 L"]
    assert [m.rails for m in solution.meetings] == [(Terminal("way 1", "N"), Terminal("way 2", "N"))]
    assert solution.constant[Terminal("way 2", "N")].ways == ("way 1", "way 2")


def test_each_part_depends_only_on_its_own_switches():
    c = Circuit()
    feed = c.way()
    for i in range(40):
        feed = (loop_in, box, at_the_switch)[i % 3](c, feed, f"Room {i}")
    began = time.process_time()
    solution = wiring_to_solution(c.wiring())
    assert time.process_time() - began < 0.2
    assert [len(g.switches) for g in solution.groups] == [1] * 40
    assert all([x.lamps[0].state.value for x in g.rows] == ["off", "on"] for g in solution.groups)


def test_two_gangs_of_one_plate_are_two_groups():
    solution = wiring_to_solution(one_room(plate))
    assert [(g.switches, g.lamps) for g in solution.groups] == [
        (("Study plate.a",), ("Study a",)), (("Study plate.b",), ("Study b",))]


def test_nets_have_the_first_terminal_of_the_wiring_as_their_name():
    solution = wiring_to_solution(one_room(loop_in))
    assert solution.nets[Terminal("Study door", "COM")] == Terminal("way 1", "L")
    assert solution.nets[Terminal("Study lamp", "L")] == Terminal("Study", "SL")


@settings(deadline=None, max_examples=60, derandomize=True)
@given(wirings())
def test_every_terminal_is_in_one_place_and_currents_sum_to_zero(wiring: Wiring):
    solution = wiring_to_solution(wiring)
    placed = [*solution.constant, *(t for g in solution.groups for t in g.terminals)]
    assert sorted(placed) == sorted(wiring.nodes())
    loads = {name: (accessory.terminal(x.a), accessory.terminal(x.b), x.watts) for name, accessory, x in wiring.loads()}
    assert sorted(n for g in solution.groups for n in g.lamps) == sorted(loads)
    for group in solution.groups:
        for row in group.rows:
            at = {**solution.constant, **dict(zip(group.terminals, row.conditions, strict=True))}
            for name, lamp in zip(group.lamps, row.lamps, strict=True):
                a, b, _ = loads[name]
                if lamp.state is not LampState.SHORT and at[a].fraction is not None and at[b].fraction is not None:
                    assert lamp.fraction == abs(at[a].fraction - at[b].fraction)


@settings(deadline=None, max_examples=60, derandomize=True)
@given(wirings())
def test_the_order_of_cables_changes_nothing(wiring: Wiring):
    turned = replace(wiring, cables=tuple(reversed(wiring.cables)))
    one, two = wiring_to_solution(wiring), wiring_to_solution(turned)
    assert one.constant == two.constant and one.nets == two.nets
    for a, b in zip(one.groups, two.groups, strict=True):
        for x, y in zip(a.rows, b.rows, strict=True):
            assert (x.setting, x.lamps, x.conditions) == (y.setting, y.lamps, y.conditions)


def test_loosening_the_neutral_makes_the_rose_live_through_its_lamp():
    wiring = one_room(loop_in)
    supply = next(c for c in wiring.cores() if c.cable == "W2" and c.index == 2)
    broken = with_end(wiring, supply, 1, None)
    assert condition(broken, "Study", "N", **{"Study door": "on"}) == ("through a load", 1, ("way 1",), False)
    assert condition(broken, "Study", "N", **{"Study door": "off"}) == ("floating", None, (), False)


def lamps_between(*ends: tuple[str, str]) -> Wiring:
    """Equal lamps in a row from the first board terminal to the last; those in the middle hang on the first joint."""
    c = Circuit()
    for number in "123":
        c.way(number)
    c.put("Box", "joint box", terminals=["J"])
    for i, (way, terminal) in enumerate(ends):
        c.put(f"Lamp {i}", "batten lampholder")
        c.single(way, terminal, f"Lamp {i}", "L")
        c.single(f"Lamp {i}", "N", "Box", "J")
    return c.wiring()


def test_what_lies_between_loads_names_every_way_around_it():
    wiring = lamps_between(("way 1", "L"), ("way 2", "N"), ("way 3", "E"))
    assert condition(wiring, "Box", "J") == ("between", Fraction(1, 3), ("way 1", "way 2", "way 3"), False)


def test_what_is_at_nothing_through_loads_is_at_neutral_before_earth():
    assert condition(lamps_between(("way 3", "E"),), "Box", "J") == ("earth", 0, ("way 3",), False)
    both = lamps_between(("way 3", "E"), ("way 2", "N"))
    assert condition(both, "Box", "J") == ("neutral", 0, ("way 2",), False)
    assert condition(lamps_between(("way 1", "L")), "Box", "J") == ("through a load", 1, ("way 1",), False)


def test_a_group_says_its_positions_and_that_it_is_complete():
    (group,) = wiring_to_solution(one_room(conversion, 3)).groups
    assert group.positions == (("L1", "L2"), ("straight", "crossed"), ("L1", "L2")) and group.complete
    c = Circuit()
    c.way()
    c.put("Porch", "batten lampholder")
    (alone,) = wiring_to_solution(c.wiring()).groups
    assert (alone.positions, alone.complete) == ((), True)


def test_a_switch_that_makes_two_shorts_and_two_meetings_names_them_all():
    c = Circuit()
    c.way("1")
    c.way("2")
    c.put("Switch", "double-pole switch")
    c.put("Other", "double-pole switch")
    c.single("way 1", "L", "Switch", "L in")
    c.single("way 1", "N", "Switch", "L out")
    c.single("way 2", "L", "Switch", "N in")
    c.single("way 2", "N", "Switch", "N out")
    off, on = wiring_to_solution(c.wiring()).group_of_switch("Switch").rows
    assert off.shorts == () and [s.rails[0].accessory for s in on.shorts] == ["way 1", "way 2"]
    c.cables = []
    for pole, terminal in (("L", "L"), ("N", "N")):
        c.single("way 1", terminal, "Other", f"{pole} in")
        c.single("way 2", terminal, "Other", f"{pole} out")
    off, on = wiring_to_solution(c.wiring()).group_of_switch("Other").rows
    assert off.meetings == () and [m.rails[0].name for m in on.meetings] == ["L", "N"]


def test_a_short_beside_rails_that_conductors_join_and_a_contact_with_nothing_on_it():
    c = Circuit()
    c.way("1")
    c.way("2")
    c.put("Switch", "two-way switch")
    c.put("Lamp", "batten lampholder")
    c.single("way 2", "N", "way 2", "E")
    c.single("way 1", "L", "Switch", "L1")
    c.single("way 1", "N", "Switch", "COM")
    c.single("Switch", "L2", "Lamp", "L")
    c.single("way 2", "N", "Lamp", "N")
    one, two = wiring_to_solution(c.wiring()).group_of_switch("Switch").rows
    assert [len(row.shorts) for row in (one, two)] == [1, 0] and [len(row.meetings) for row in (one, two)] == [0, 0]
    assert one.lamps[0].fraction == 0 and one.lamps[0].state is LampState.SHORT
    c.cables = [x for x in c.cables if x.name not in ("W4", "W5")]
    c.single("way 1", "L", "way 1", "E")
    (short,) = wiring_to_solution(c.wiring()).shorts
    assert [str(t) for t in short.through] == ["way 1 L", "way 1 E"]
    c.cables[-1] = bridge("X9", Terminal("Switch", "L2"), Terminal("way 1", "E"))
    rows = wiring_to_solution(c.wiring()).group_of_switch("Switch").rows
    assert [[str(t) for t in s.through] for row in rows for s in row.shorts] == [
        ["way 1 L", "Switch L1", "Switch COM", "way 1 N"]]


def test_the_search_for_a_path_passes_contacts_with_nothing_on_them():
    c = Circuit()
    c.way()
    c.put("Switch", "plate", gangs={"a": "one-way", "b": "two-way", "c": "one-way"})
    c.single("way 1", "L", "Switch", "a.COM")
    c.single("Switch", "a.L1", "Switch", "b.COM")  # nothing on either contact of b
    c.single("Switch", "b.COM", "Switch", "c.COM")
    c.single("Switch", "c.L1", "way 1", "N")
    rows = wiring_to_solution(c.wiring()).group_of_switch("Switch.b").rows
    assert {row.setting: len(row.shorts) for row in rows if row.setting[1] == "L1"} == {
        ("off", "L1", "off"): 0, ("off", "L1", "on"): 0, ("on", "L1", "off"): 0, ("on", "L1", "on"): 1}


def test_a_short_is_found_beside_a_knot_whose_rails_conductors_join():
    c = Circuit()
    c.way("1")
    c.way("2")
    c.put("Switch", "double-pole switch")
    c.single("way 2", "N", "way 2", "E")
    c.single("way 2", "N", "Switch", "L in")
    c.single("way 1", "L", "Switch", "N in")
    c.single("way 1", "N", "Switch", "N out")
    off, on = wiring_to_solution(c.wiring()).group_of_switch("Switch").rows
    assert [len(row.shorts) for row in (off, on)] == [0, 1]


def spread(solution: Solution) -> Solution:
    """With every row solved."""
    return replace(solution, groups=tuple(replace(g, rows=tuple(g.rows)) for g in solution.groups))


@given(wirings(max_rooms=2))
@settings(max_examples=60, deadline=None, derandomize=True)
def test_a_solver_that_knows_others_and_solves_rows_when_asked_finds_what_one_alone_does(wiring):
    """A wiring, then with each of some cores off, then the wiring again: one solver for all of them."""
    solver = Solver(at_once=2)
    keys = [core.key for core in wiring.cores() if any(end.node for end in core.ends)][:6]
    wanted = [wiring, *(edited(wiring, [TakeOff((key, 0)), TakeOff((key, 1))]) for key in keys), wiring]
    for each in wanted:
        found = solver.solve(each)
        assert all(g.settings == tuple(row.setting for row in g.rows) for g in found.groups)
        assert spread(found) == wiring_to_solution(each)


def test_rows_are_solved_when_they_are_asked_for_and_once():
    solved = []

    def solve(i: int) -> Row:
        solved.append(i)
        return Row((f"at {i}",), (), ())

    rows = Rows([("at 0",), ("at 1",), ("at 2",)], solve)
    group = Group(("S",), (("at 0", "at 1", "at 2"),), (), (), rows)
    assert group.settings == (("at 0",), ("at 1",), ("at 2",)) and solved == []
    assert group.row({"S": "at 2", "other": "on"}).setting == ("at 2",) and solved == [2]
    assert [row.setting for row in rows] == [("at 0",), ("at 1",), ("at 2",)] and sorted(solved) == [0, 1, 2]
    assert rows[-1] is rows[2] and rows[1:] == (rows[1], rows[2]) and len(rows) == 3
    with pytest.raises(KeyError):
        group.row({"S": "at 3"})


def test_of_few_settings_and_no_pairs_each_switch_is_operated_from_both_ends():
    chosen, complete = settings_of((2,) * 8, 128, 0)
    assert not complete and len(chosen) == 2 * (1 + 8)
    assert settings_of((2,) * 7, 128, 0) == (gray((2,) * 7), True)


RING = """
job: Ring
board: {ways: {1: {serves: Lights}}}
accessories:
  Near: {kind: ceiling rose, lamp: 8 W}
  Far: {kind: ceiling rose, lamp: 8 W}
  Door: {kind: one-way switch}
cables:
  A: {type: twin and earth 1.0, from: way 1, to: Near, cores: {BN: [L, loop], BU: [N, N], cpc: [E, E]}}
  B: {type: twin and earth 1.0, from: way 1, to: Far, cores: {BN: [L, loop], BU: [N, N], cpc: [E, E]}}
  C: {type: twin and earth 1.0, from: Far, to: Near, cores: {BN: [loop, loop], BU: [N, N], cpc: [E, E]}}
  D: {type: twin and earth 1.0, from: Near, to: Door, cores: {BN: [loop, COM], BU: [%s, L1], cpc: [E, E]}}
"""


def test_a_short_leads_through_what_this_wiring_has_whatever_the_solver_knows_of_others():
    """The door switch joins line and neutral; fed from both sides, and with one side off: the nets are the same."""
    solver, ring = Solver(), wiring_of(RING % "N")
    one_side = edited(ring, [TakeOff(("A/1", 0)), TakeOff(("A/1", 1))])
    through = [solver.solve(each).groups[0].rows[1].shorts[0].through for each in (ring, one_side)]
    far = Terminal("Far", "loop")
    assert far not in through[0] and far in through[1]


def test_what_may_be_joined_to_an_unknown_end_is_not_known_whatever_the_solver_knows_of_others():
    solver = Solver()
    for end, off in (("nothing", Potential.FLOATING), ("not known", Potential.NOT_KNOWN)) * 2:
        group = solver.solve(wiring_of((RING % "SL").replace("[SL, L1]", f"[SL, {end}]"))).group_of_switch("Door")
        at = group.terminals.index(Terminal("Door", "L1"))
        assert [row.conditions[at].potential for row in group.rows] == [off, Potential.LINE]
