"""Figures of whole circuits: shared conductors, worst settings, the fewest settings of a test, what is missing."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import combinations
from pathlib import Path

import numpy
import pytest
from circuits import Circuit, Feed, at_the_switch, box, conversion, loop_in, plate, strappers, wirings
from hypothesis import given, settings
from hypothesis import strategies as st
from reckoned import reckoned, with_lengths

from sheetgen.judge.figures.conductors import volts_per_ampere
from sheetgen.judge.figures.drops import drops_of
from sheetgen.judge.figures.flow import solve
from sheetgen.judge.figures.insulation import fewest
from sheetgen.judge.figures.loads import Loads
from sheetgen.model.reckoning import Shared
from sheetgen.model.wiring import Wiring
from sheetgen.pipeline import judged, wiring_of
from sheetgen.solve.wiring_to_solution import wiring_to_solution

F = Fraction
EXAMPLES = Path(__file__).parents[1] / "examples"


def test_lamps_share_the_drop_of_what_they_share():
    # way --10 m-- A (230 W = 1 A) --20 m-- B (460 W = 2 A), 1.0 mm2: 44 mV/A/m
    c = Circuit()
    c.way()
    for name, watts in (("A", 230), ("B", 460)):
        c.put(name, "batten lampholder", lamp=F(watts))
    c.twin("way 1", "A", ("L", "L"), ("N", "N"), length=F(10))
    c.twin("A", "B", ("L", "L"), ("N", "N"), length=F(20))
    found = reckoned(c.wiring())
    assert [d.volts for d in found.drops] == [pytest.approx(3 * 0.44), pytest.approx(3 * 0.44 + 2 * 0.88)]
    assert [x.amps for x in found.cables] == [pytest.approx(3), pytest.approx(2)]


def test_the_worst_setting_has_the_others_on_and_takes_the_longer_strapper():
    c = Circuit()
    strappers(c, c.way(), "Study")
    wiring = c.wiring()
    long = {"W4": F(50)}  # the strapper from L1 to L1
    wiring = replace(wiring, cables=tuple(replace(x, length=long.get(x.name, F(10))) for x in wiring.cables))
    (drop,) = reckoned(wiring).drops
    assert dict(drop.setting) == {"Study 1": "L1", "Study 2": "L1"}
    assert drop.volts == pytest.approx(8 / 230 * 0.022 * (10 + 50 + 10 + 10))


def test_a_lamp_on_in_one_setting_only_has_its_own_worst_setting():
    c = Circuit()
    c.way()
    c.put("S", "two-way switch")
    for name, watts in (("A", 100), ("B", 10)):
        c.put(name, "batten lampholder", lamp=F(watts))
        c.single("S", "L1" if name == "A" else "L2", name, "L", length=F(1))
        c.neutral(name, "N", "way 1", "N")
    c.single("way 1", "L", "S", "COM", length=F(1))
    found = reckoned(c.wiring())
    assert {d.lamp: dict(d.setting) for d in found.drops} == {"A": {"S": "L1"}, "B": {"S": "L2"}}
    assert [w.watts for w in found.ways] == [100]


def test_what_is_missing_is_named_and_nothing_is_made_up():
    c = Circuit()
    loop_in(c, c.way(device=None), "Study")
    wiring = c.wiring()
    found = reckoned(replace(wiring, cables=tuple(
        replace(x, length=F(5)) if x.name == "W3" else x for x in wiring.cables)))
    rose, door = found.points
    assert (rose.r1_r2, rose.zs, rose.missing) == (None, None, ("length of W2", "Ze"))
    assert door.missing == ("length of W2", "Ze")
    (drop,) = found.drops
    assert (drop.volts, drop.missing, drop.at) == (None, ("length of W2",), "Study")
    assert found.ways[0].missing == ("device of circuit 1",)
    assert {m for x in found.cables for m in x.missing} == {"installation method of W2", "installation method of W3"}


def test_a_point_without_cpc_says_so():
    c = Circuit(ze=F("0.3"))
    c.way()
    c.put("Light", "light fitting")
    c.cable("twin", "way 1", "Light", ("L", "L"), ("N", "N"), length=F(10))
    (point,) = reckoned(c.wiring()).points
    assert (point.r1_r2, point.zs, point.missing) == (None, None, ("a cpc at Light",))


def test_the_furthest_terminal_is_given_with_the_setting_it_needs():
    c = Circuit()
    loop_in(c, c.way(), "Study")
    wiring = c.wiring()
    wiring = replace(wiring, cables=tuple(replace(x, length=F(10)) for x in wiring.cables))
    rose, door = reckoned(wiring).points
    assert str(rose.line) == "Study SL" and dict(rose.setting) == {"Study door": "on"}
    assert rose.r1_r2 == pytest.approx(0.0362 * 10 + 2 * 0.0181 * 10)
    assert rose.rn_r2 == pytest.approx(0.0362 * 10)
    assert door.r1_r2 == pytest.approx(0.0362 * 20) and door.setting == ()


def test_a_flex_of_unknown_length_is_left_out_and_a_known_one_counted():
    c = Circuit()
    loop_in(c, c.way(), "Study")
    wiring = with_lengths(c.wiring())
    (short,) = reckoned(wiring).drops
    assert short.at == "Study"
    (whole,) = reckoned(replace(wiring, cables=tuple(
        replace(x, length=F(1)) if x.flex else x for x in wiring.cables))).drops
    assert whole.at == "Study lamp"
    assert whole.volts - short.volts == pytest.approx(8 / 230 * 0.062)


def test_insulation_takes_two_settings_for_strappers_and_one_for_a_switch_drop():
    c = Circuit()
    feed = loop_in(c, c.way(), "Study")
    plan = reckoned(c.wiring()).insulation
    assert [dict(s) for s in plan.settings] == [{"Study door": "on"}] and plan.proven
    strappers(c, feed, "Stairs")
    plan = reckoned(c.wiring()).insulation
    assert len(plan.settings) == 2 and plan.uncovered == ()
    assert all(dict(s)["Study door"] == "on" for s in plan.settings)
    # in one setting the strapper on the L1s is joined to the line, in the other that on the L2s
    assert {dict(s)["Stairs 1"] for s in plan.settings} == {"L1", "L2"}


def test_two_ways_are_tested_against_one_another_where_they_lie_together_and_nowhere_else():
    """Two lights on ways of their own have nothing in common, but for a plate that holds the switch of each."""
    c = Circuit()
    c.way()
    c.way("2")
    loop_in(c, Feed("way 1"), "Study")
    loop_in(c, Feed("way 2"), "Hall")
    assert reckoned(c.wiring()).insulation.between == ()
    c.put("Box", "joint box", terminals=["A", "B", "C", "D", "E"])
    c.twin("Study", "Box", ("loop", "A"), ("N", "B"))
    assert reckoned(c.wiring()).insulation.between == ()
    c.twin("Hall", "Box", ("loop", "C"), ("N", "D"))
    assert reckoned(c.wiring()).insulation.between == (Shared(("way 1", "way 2"), ("Box",)),)


def test_two_ways_in_one_conduit_are_tested_against_one_another_and_a_shared_earth_is_no_reason():
    text = """
job: Two lights
board: {ways: {1: {serves: A}, 2: {serves: B}}}
colours: current
accessories: {A: {kind: batten lampholder}, B: {kind: batten lampholder}}
cables:
  W1: {type: single 1.0, in: %s, from: way 1, to: A, cores: {BN: [L, L]}}
  W2: {type: single 1.0, in: %s, from: way 1, to: A, cores: {BU: [N, N]}}
  W3: {type: single 1.0, in: %s, from: way 2, to: B, cores: {BN: [L, L]}}
  W4: {type: single 1.0, in: pipe two, from: way 2, to: B, cores: {BU: [N, N]}}
  W5: {type: single 1.0, from: way 1, to: A, cores: {GNYE: [E, E]}}
  W6: {type: single 1.0, from: A, to: B, cores: {GNYE: [E, E]}}
"""
    apart, together = ("pipe one", "pipe one", "pipe two"), ("pipe one", "pipe two", "pipe two")
    assert reckoned(wiring_of((text % apart).encode())).insulation.between == ()
    assert reckoned(wiring_of((text % together).encode())).insulation.between == (
        Shared(("way 1", "way 2"), ("pipe two",)),)


def test_a_core_that_nothing_reaches_is_named():
    c = Circuit()
    c.way()
    c.put("Box", "joint box", terminals=["A", "B", "E"])
    c.put("Door", "two-way switch")
    c.twin("Box", "Door", ("A", "COM"), ("B", "L1"))
    assert reckoned(c.wiring()).insulation.uncovered == ("W1/1", "W1/2")


@settings(deadline=None, max_examples=60, derandomize=True)
@given(st.lists(st.integers(0, 63), max_size=7))
def test_fewest_masks_are_fewest(masks):
    wanted = 0
    for mask in masks:
        wanted |= mask

    def covers(chosen):
        have = 0
        for i in chosen:
            have |= masks[i]
        return have == wanted

    found = fewest(masks)
    assert covers(found)
    assert not any(covers(c) for size in range(len(found)) for c in combinations(range(len(masks)), size))


@settings(deadline=None, max_examples=30, derandomize=True)
@given(wirings(max_rooms=2))
def test_the_insulation_plan_covers_what_it_says(wiring: Wiring):
    solution = wiring_to_solution(wiring)
    plan = reckoned(wiring).insulation
    covered = {t for t, c in solution.constant.items() if c.solid}
    for setting in plan.settings:
        position = dict(setting)
        for group in solution.groups:
            if set(group.switches) <= set(position) and group.switches:  # others reach no core at all
                row = group.row(position)
                covered |= {t for t, c in zip(group.terminals, row.conditions, strict=True)
                            if c.solid and c.potential in ("line", "neutral")}
    for core in wiring.cores():
        nodes = {end.node for end in core.ends if end.node}
        if not core.cpc:
            assert bool(nodes & covered) == (core.key not in plan.uncovered)


@settings(deadline=None, max_examples=40, derandomize=True)
@given(st.integers(2, 7).flatmap(lambda n: st.tuples(
    st.just(n), st.lists(st.tuples(st.integers(0, n - 1), st.integers(0, n - 1), st.integers(1, 50)), max_size=12),
    st.lists(st.integers(-5, 5), min_size=n, max_size=n))))
def test_currents_against_a_linear_algebra_library(case):
    n, edges, injected = case
    edges = [*edges, *((i, i + 1, 3) for i in range(n - 1))]  # one piece, held at node 0
    found = solve([(a, b, float(g)) for a, b, g in edges], dict(enumerate(injected)), [0])
    matrix = numpy.zeros((n, n))
    for a, b, g in edges:
        for i, j in ((a, b), (b, a)):
            if a != b:
                matrix[i, i] += g
                matrix[i, j] -= g
    expected = numpy.linalg.solve(matrix[1:, 1:], numpy.array(injected[1:], dtype=float))
    assert [found[i] for i in range(1, n)] == pytest.approx(list(expected))


@settings(deadline=None, max_examples=30, derandomize=True)
@given(st.lists(st.sampled_from([loop_in, box, at_the_switch, plate]), min_size=1, max_size=4))
def test_the_power_lost_in_the_conductors_is_the_power_lost_at_the_lamps(rooms):
    c = Circuit()
    feed = c.way()
    for i, room in enumerate(rooms):
        feed = room(c, feed, f"Room {i}")
    wiring = with_lengths(c.wiring())
    drops, greatest = drops_of(Loads(wiring, wiring_to_solution(wiring)))
    lost = sum(
        float(volts_per_ampere(cable, core)) * greatest.amps[core.key] ** 2
        for cable in wiring.cables if not cable.flex for core in cable.cores if not core.cpc)
    assert lost > 0
    assert sum(d.volts * d.amps for d in drops) == pytest.approx(lost, rel=1e-4)


def test_conversion_current_goes_out_and_back_in_the_three_core():
    c = Circuit()
    conversion(c, c.way(), "Study")
    found = reckoned(with_lengths(c.wiring()))
    assert {x.cable: x.amps for x in found.cables}["W4"] == pytest.approx(8 / 230)


def test_a_switch_that_a_route_passes_twice_is_named_once():
    (kitchen,) = [p for p in judged((EXAMPLES / "three-switches.yaml").read_bytes())[1].figures.points
                  if p.accessory == "Kitchen"]
    assert sorted(kitchen.setting) == [("Kitchen", "L2"), ("Middle", "crossed"), ("Porch", "L2")]


def cpc_of_two_ways():
    """The board feeds a switch by 8 m and 6 m; a cable of another way, 6 m, ends there with its cpc too."""
    c = Circuit(ze=F("0.2"))
    c.way("6")
    c.way("5")
    for name in ("Front", "Back"):
        c.put(name, "one-way switch")
    c.twin("way 6", "Front", ("L", "COM"), (None, None), size="1.5", length=F(8))
    c.twin("Front", "Back", ("COM", "COM"), (None, None), size="1.5", length=F(6))
    c.twin("way 5", "Back", (None, None), (None, None), size="1.5", length=F(6))
    return c


def test_where_the_cpcs_of_two_ways_meet_a_meter_reads_both():
    """18.1 milliohm a metre: 14 m beside 6 m, 0.2534 beside 0.1086, is 0.0760; 8 m beside 12 m is 0.0869."""
    front, back = reckoned(cpc_of_two_ways().wiring()).points
    assert back.r1_r2 == pytest.approx(14 * 0.0121 + 0.2534 * 0.1086 / 0.3620)
    assert back.zs == pytest.approx(0.2 + 0.1694 + 0.0760, abs=1e-4)
    assert front.r1_r2 == pytest.approx(8 * 0.0121 + 0.1448 * 0.2172 / 0.3620)


def test_a_bridge_of_cpcs_is_read_whole():
    """Two switches each with a cpc from the board, one between them, and a light with one from each: no row of ways
    beside one another. By the bridge's symmetry nothing flows between the switches: 10 m and 10 m twice is 10 m."""
    c = Circuit()
    c.way()
    for name in ("A", "B"):
        c.put(name, "one-way switch")
    c.put("Light", "light fitting")
    c.twin("way 1", "A", ("L", "COM"), (None, None), length=F(10))
    c.twin("way 1", "B", (None, None), (None, None), length=F(10))
    c.twin("A", "B", (None, None), (None, None), length=F(3))
    c.twin("A", "Light", ("COM", "L"), (None, None), length=F(10))
    c.twin("B", "Light", (None, None), (None, None), length=F(10))
    (light,) = [p for p in reckoned(c.wiring()).points if p.accessory == "Light"]
    assert light.r1_r2 == pytest.approx(20 * 0.0181 + 10 * 0.0181)


def test_of_cpcs_each_joined_to_each_half_of_one_is_read():
    """Between two of four points that are joined each to each by the same resistance there is half of it."""
    c = Circuit()
    c.way()
    names = ("A", "B", "C")
    for name in names:
        c.put(name, "one-way switch")
    for i, name in enumerate(names):
        c.twin("way 1", name, ("L", "COM"), (None, None), length=F(10))
        for other in names[:i]:
            c.twin(other, name, (None, None), (None, None), length=F(10))
    assert [p.r1_r2 for p in reckoned(c.wiring()).points] == [pytest.approx(10 * 0.0181 + 5 * 0.0181)] * 3


def test_of_several_cpcs_the_length_that_is_not_given_is_asked_for():
    wiring = cpc_of_two_ways().wiring()
    cut = replace(wiring, cables=tuple(replace(x, length=None) if x.name == "W3" else x for x in wiring.cables))
    front, back = reckoned(cut).points
    assert (front.r1_r2, front.missing, back.r1_r2) == (None, ("length of W3",), None)
