"""Figures of less usual circuits: totals, routes, TT supplies, fans, imperial sizes, series, shorts, fuses."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import networkx
import numpy
import pytest
from circuits import Circuit, bridge, conversion, series, sound_wirings, strappers
from hypothesis import given, settings
from reckoned import reckoned, with_lengths

from sheetgen.judge.figures.conductors import volts_per_ampere
from sheetgen.judge.figures.flow import solve
from sheetgen.judge.figures.loads import Loads
from sheetgen.model.accessory import Terminal
from sheetgen.model.reckoning import Limit, Total
from sheetgen.model.wiring import Device, Wiring
from sheetgen.solve.wiring_to_solution import wiring_to_solution

F = Fraction


def test_totals_by_type_and_size():
    c = Circuit()
    c.way()
    for name, length, size in (("A", F(7), "1.0"), ("B", F("2.5"), "1.0"), ("C", None, "1.0"), ("D", F(4), "1.5")):
        c.put(name, "batten lampholder")
        c.twin("way 1", name, ("L", "L"), ("N", "N"), length=length, size=size)
    c.cables[-1] = replace(c.cables[-1], size=None)
    assert reckoned(c.wiring()).totals == (
        Total("twin and earth", "1.0", 3, F("9.5"), ("length of W3",)), Total("twin and earth", "", 1, F(4)))


def test_current_that_comes_back_by_another_route():
    c = Circuit()
    c.way("1")
    c.put("Door", "one-way switch")
    c.put("A", "batten lampholder", lamp=F(230))
    c.single("way 1", "L", "Door", "COM")
    c.single("A", "L", "Door", "L1")
    c.neutral("A", "N", "way 1", "N")
    found = {x.cable: x.unbalanced for x in reckoned(with_lengths(c.wiring())).cables}
    assert found == {"W1": pytest.approx(1), "W2": pytest.approx(1), "W3": pytest.approx(1)}


def test_line_and_neutral_between_the_same_two_places_are_balanced_in_whatever_order_they_are_written():
    c = Circuit()
    c.way("1")
    c.way("2")
    c.put("A", "batten lampholder", lamp=F(230))
    c.single("way 1", "L", "A", "L")
    c.neutral("A", "N", "way 2", "N")  # from another way, in the same board
    found = {x.cable: (x.amps, x.unbalanced) for x in reckoned(with_lengths(c.wiring())).cables}
    assert found["W1"] == (pytest.approx(1), pytest.approx(0, abs=1e-6)) == found["W2"]


def test_spare_cores_and_cut_ends_carry_nothing():
    c = Circuit()
    c.way()
    c.put("A", "batten lampholder", lamp=F(230))
    c.put("Box", "joint box", terminals=["1", "E"])
    c.twin("way 1", "A", ("L", "L"), ("N", "N"))
    c.twin("way 1", "Box", ("L", None), ("N", "1"))
    found = {x.cable: (x.amps, x.unbalanced) for x in reckoned(with_lengths(c.wiring())).cables}
    assert found["W2"] == (0, 0) and found["W1"][0] == pytest.approx(1)


def test_a_tt_supply_without_rcd_keeps_to_its_device_and_a_device_without_a_figure_says_so():
    c = Circuit(earthing="TT")
    c.way("1", rcd=None)
    c.way("2")
    c.put("A", "batten lampholder")
    one, two = reckoned(c.wiring()).ways
    assert (one.limit.table, one.missing) == (F("7.28"), ())  # type B 6 A, Table 41.3
    assert two.limit == Limit(F(1667), F(1667), "BS 7671 Table 41.5") and two.missing == ()
    c = Circuit()
    c.way("1", device=Device("BS 3036", F(30)))
    (way,) = reckoned(c.wiring()).ways
    assert (way.limit, way.missing, way.assumed_amps) == (None, ("Zs limit of BS 3036 30 A",), 0)


def test_a_fan_counts_as_what_it_is_and_may_lose_five_per_cent():
    c = Circuit()
    c.way()
    c.put("Fan", "fan", load="46 W")
    c.twin("way 1", "Fan", ("L", "L"), ("N", "N"), length=F(10))
    found = reckoned(c.wiring())
    assert found.ways[0].assumed_amps == found.ways[0].amps == F(46, 230)
    assert found.drops[0].limit == F("11.5") and found.drops[0].way == "way 1"


def test_the_load_is_on_the_way_of_its_line():
    c = Circuit()
    c.way("1")
    c.way("2")
    c.put("A", "batten lampholder")
    c.single("way 1", "L", "A", "N")  # line on the wrong contact
    c.neutral("way 2", "N", "A", "L")
    assert [w.watts for w in reckoned(c.wiring()).ways] == [8, 0]


def test_imperial_and_small_sizes_have_a_drop_worked_from_their_resistance():
    for size, milliohm in (("1/.044", F("17.58")), ("4.0", F("4.61"))):
        c = Circuit("legacy")
        c.way()
        c.put("A", "batten lampholder", lamp=F(230))
        c.twin("way 1", "A", ("L", "L"), ("N", "N"), length=F(10), size=size)
        (drop,) = reckoned(c.wiring()).drops
        assert drop.volts == pytest.approx(float(2 * 10 * milliohm * F("1.2") / 1000), rel=1e-6)


def test_a_size_without_a_resistance_is_named():
    c = Circuit()
    c.way()
    c.put("A", "batten lampholder")
    c.twin("way 1", "A", ("L", "L"), ("N", "N"), length=F(10), size="6.0")
    (drop,) = reckoned(c.wiring()).drops
    assert (drop.volts, drop.missing) == (None, ("resistance of W1 (6.0)",))
    c.cables[0] = replace(c.cables[0], size=None, cpc_size=None)
    assert reckoned(c.wiring()).drops[0].missing == ("size of W1",)


def test_switches_one_after_another_are_passed_and_a_plate_link_adds_nothing():
    c = Circuit()
    c.way()
    c.put("Plate", "plate", gangs={"a": "one-way", "b": "one-way", "c": "one-way"})
    c.put("A", "batten lampholder", lamp=F(230))
    c.single("way 1", "L", "Plate", "a.COM", length=F(10))
    c.single("Plate", "a.L1", "Plate", "b.COM", run_in="the box")
    c.single("Plate", "c.COM", "Plate", "b.L1", run_in="the box")
    c.single("Plate", "c.L1", "A", "L", length=F(10))
    c.neutral("way 1", "N", "A", "N")
    c.cables[-1] = replace(c.cables[-1], length=F(10))
    c.earth("way 1", "A")
    c.cables[-1] = replace(c.cables[-1], length=F(10))
    found = reckoned(c.wiring())
    (drop,) = found.drops
    assert drop.volts == pytest.approx(0.022 * 30, rel=1e-4)
    point = next(p for p in found.points if p.accessory == "A")
    assert point.r1_r2 == pytest.approx(0.0181 * 30) and point.way == "way 1"
    assert dict(point.setting) == {"Plate.a": "on", "Plate.b": "on", "Plate.c": "on"}


def test_lamps_in_series_carry_their_share_and_no_drop_is_given_for_them():
    c = Circuit()
    series(c, c.way(), "Study")  # 60 W and 40 W at 230 V: 24 W together
    found = reckoned(with_lengths(c.wiring()))
    assert found.drops == () and found.ways[0].watts == 24
    assert {x.cable: x.amps for x in found.cables}["W4"] == pytest.approx(24 / 230)


def test_what_a_shorted_setting_would_carry_is_left_out():
    c = Circuit()
    conversion(c, c.way(), "Study")
    bad = replace(c.wiring(), cables=(*c.cables, bridge("X1", Terminal("Study 1", "COM"), Terminal("Study", "E"))))
    found = reckoned(with_lengths(bad))
    assert found.drops == () and found.ways[0].watts == 0
    assert [p.accessory for p in found.points] == ["Study", "Study 1", "Study 2"]


def test_a_fuse_takes_its_factor_off_flat_metric_cable_only_and_the_source_says_so():
    c = Circuit("legacy")
    c.way(device=Device("BS 3036", F(5)))
    for i, (size, facts) in enumerate((("1.0", {"method": "C"}), ("3/.029", {}))):
        c.put(f"Light {i}", "batten lampholder")
        c.twin("way 1", f"Light {i}", ("L", "L"), ("N", "N"), size=size, **facts)
    one, two = reckoned(c.wiring()).cables
    assert (one.rating, one.source) == (F("11.6"), "BS 7671 Table 4D5, method C, x 0.725 behind a BS 3036 fuse")
    assert (two.rating, two.source) == (F(10), "IEE Wiring Regulations, 13th edition")
    c.cables[0] = replace(c.cables[0], type="two-core flex", sheath="flex")
    assert (reckoned(c.wiring()).cables[0].rating, reckoned(c.wiring()).cables[0].source) == (
        F(10), "BS 7671 Table 4F3A")


def test_where_a_limit_comes_from():
    for kind, source in (("B", "BS 7671 Table 41.3"), ("BS 3036", "BS 7671 Table 41.2"),
                         ("BS 1361", "0.95 x 230 V / the current that opens it in 0.4 s")):
        c = Circuit()
        c.way(device=Device(kind, F(6) if kind == "B" else F(5)))
        assert reckoned(c.wiring()).ways[0].limit.source == source


def test_the_longer_strapper_is_found_among_settings_that_differ():
    """Three switches: of eight settings four are lit, by strappers of unlike lengths."""
    c = Circuit()
    strappers(c, c.way(), "Study", 3)
    lengths = {x.name: F(10) for x in c.cables}
    straps = [x.name for x in c.cables if {x.cores[0].ends[0].terminal, x.cores[0].ends[1].terminal} & {"L2", "L4"}]
    lengths.update(dict.fromkeys(straps, F(40)))
    wiring = replace(c.wiring(), cables=tuple(replace(x, length=lengths[x.name]) for x in c.cables))
    found = reckoned(wiring)
    # every lit path: line 10, two strappers, switched line 10, neutral 10; the longest has both strappers long
    assert found.drops[0].volts == pytest.approx(8 / 230 * 0.022 * (10 + 40 + 40 + 10 + 10), rel=1e-4)
    assert [x.amps for x in found.cables if x.cable in straps] == [pytest.approx(8 / 230)] * 2


def test_nodes_that_nothing_holds_are_at_nothing_and_carry_their_share():
    found = solve([("a", "b", 2.0), ("b", "c", 4.0), ("x", "y", 1.0)], {"a": 1.0, "c": -1.0, "x": 3.0}, ["y"])
    assert found["a"] - found["b"] == pytest.approx(0.5) and found["b"] - found["c"] == pytest.approx(0.25)
    assert 0.0 in (found["a"], found["b"], found["c"])
    assert found["x"] == pytest.approx(3) and found["y"] == 0


@settings(deadline=None, max_examples=40, derandomize=True)
@given(sound_wirings())
def test_currents_of_whole_houses_against_linear_algebra(wiring: Wiring):
    """Kirchhoff's current law at every free knot with everything on, by networkx and numpy."""
    wiring = with_lengths(wiring)
    loads = Loads(wiring, wiring_to_solution(wiring))
    flow = loads.flow(loads.all_on)
    graph = networkx.Graph()
    graph.add_nodes_from(wiring.nodes())
    positions = {s: p for i, row in loads.all_on.items()
                 for s, p in zip(loads.solution.groups[i].switches, row.setting, strict=True)}
    for name, accessory, switch in wiring.switches():
        joins = next(p.joins for p in switch.positions if p.name == positions[name])
        graph.add_edges_from((accessory.terminal(a), accessory.terminal(b)) for a, b in joins)
    knot = {t: i for i, part in enumerate(networkx.connected_components(graph)) for t in part}
    cores = [(core.key, knot[core.ends[0].node], knot[core.ends[1].node], float(volts_per_ampere(c, core) or 1e-6))
             for c in wiring.cables for core in c.cores]
    size = max(knot.values()) + 1
    matrix, amps = numpy.zeros((size, size)), numpy.zeros(size)
    for _, a, b, ohms in cores:
        for i, j in ((a, b), (b, a)):
            matrix[i, i] += 1 / ohms
            matrix[i, j] -= 1 / ohms
    for _, accessory, load in wiring.loads():
        amps[knot[accessory.terminal(load.a)]] -= float(load.watts / 230)
        amps[knot[accessory.terminal(load.b)]] += float(load.watts / 230)
    held = {knot[a.terminal(t)] for a in wiring.accessories for t, _ in a.kind.rails}
    joined = networkx.Graph([(a, b) for _, a, b, _ in cores])
    reached = set().union(*(part for part in networkx.connected_components(joined) if part & held))
    free = sorted(reached - held)
    volts = numpy.zeros(size)
    volts[free] = numpy.linalg.solve(matrix[numpy.ix_(free, free)], amps[free])
    for key, a, b, ohms in cores:
        if a in reached:
            assert flow.amps[key] == pytest.approx((volts[a] - volts[b]) / ohms, abs=1e-6)
    for terminal, i in knot.items():
        if i in reached:
            assert flow.volts[terminal] == pytest.approx(volts[i], abs=1e-9)
