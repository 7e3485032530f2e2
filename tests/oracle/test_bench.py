"""The oracle itself, against circuits whose answer is in any textbook."""

from __future__ import annotations

from fractions import Fraction

import pytest
from circuits import Circuit, loop_in, series

from oracle.bench import Bench, Solved
from oracle.compare import judged
from oracle.dangers import Danger, worked_by
from oracle.mistakes import house
from sheetgen.model.wiring import Wiring


def solved(wiring: Wiring, **setting: str) -> Solved:
    return Solved(Bench(wiring), {name.replace("_", " "): position for name, position in setting.items()})


def amps(s: Solved, core: str) -> float:
    return next(amps for edge, amps in s.flow.items() if edge.name == core)


def test_two_lamps_in_series_share_the_voltage():
    # 60 W and 40 W: the currents are alike, so the voltages go as 40 to 60, and 60 x 0.4 = 24 W flow in every core
    c = Circuit()
    series(c, c.way(), "Room")
    s = solved(c.wiring(), Room_door="on")
    assert s.volt(c.accessories[-1].terminal("L")) == pytest.approx(0.6)
    assert s.amps == {"Room a": pytest.approx(24), "Room b": pytest.approx(24)}
    assert [abs(amps(s, f"W{i}/1")) for i in (1, 2, 3, 4)] == [pytest.approx(24)] * 4


def test_cores_in_parallel_share_the_current():
    # one core of one unit beside two in a row: two thirds and one third
    c = Circuit()
    way = c.way()
    c.put("Box", "joint box", terminals=["L", "N", "SL", "E"])
    c.put("Light", "light fitting", lamp=Fraction(30))
    c.single(way.accessory, "L", "Light", "L")
    c.single(way.accessory, "L", "Box", "L")
    c.single("Box", "L", "Light", "L")
    c.neutral("Light", "N", way.accessory, "N")
    s = solved(c.wiring())
    assert [amps(s, f"W{i}/1") for i in (1, 2, 3, 4)] == pytest.approx([20, 10, 10, 30])
    assert sum(s.drawn.values()) == pytest.approx(0)


def test_currents_into_every_terminal_sum_to_zero():
    # Kirchhoff's current law over random houses; the rails give what the loads take
    met = 0
    for seed in range(40):
        bench = Bench(_wiring(seed))
        for setting in bench.settings(64):
            s = Solved(bench, setting)
            if s.short:
                continue
            net = dict.fromkeys(bench.terminals, 0.0)
            for edge, flow in s.flow.items():
                net[edge.a] -= flow
                net[edge.b] += flow
            for load in bench.loads:
                net[load.a] -= s.amps[load.name]
                net[load.b] += s.amps[load.name]
            for rail, drawn in s.drawn.items():
                net[rail] += drawn
            assert max(map(abs, net.values())) < 1e-6
            met += any(s.flow.values())
    assert met > 100


def _wiring(seed: int) -> Wiring:
    from sheetgen.pipeline import wiring_of

    return wiring_of(house(seed).text())


def test_a_sound_light_has_no_danger_and_is_worked_by_its_switch():
    c = Circuit()
    loop_in(c, c.way(), "Room")
    oracle = judged(c.wiring())
    assert oracle.dangers == frozenset()
    assert worked_by(oracle.bench, oracle.solved) == {"Room lamp": {"Room door"}}


def test_dangers_by_name():
    c = Circuit()
    way, other = c.way("1"), c.way("2")
    c.put("Switch", "one-way switch")
    c.put("Light", "light fitting")
    c.single(way.accessory, "L", "Switch", "COM")
    c.single("Switch", "L1", "Light", "L")
    c.neutral("Light", "N", other.accessory, "N")
    mixed = judged(c.wiring()).dangers
    assert mixed == {Danger("current of one way returns by another", f"way {i}") for i in (1, 2)}
    c.single("Light", "E", "Switch", "L1")
    assert judged(c.wiring()).dangers - mixed == {Danger("line on an earth terminal", "Light E")}


def test_the_same_seed_gives_the_same_text():
    assert house(7).text() == house(7).text() != house(8).text()
