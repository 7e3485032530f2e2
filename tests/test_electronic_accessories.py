"""Fans, isolators, dimmers, sensors, relay modules and emergency luminaires: what they do in each state."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from circuits import SETS, Circuit
from judged_circuit import solution_to_reading

from sheetgen.catalogue.accessories import CATALOGUE, BadOption, find
from sheetgen.model.reading import Reading, Role
from sheetgen.model.wiring import Wiring
from sheetgen.solve.wiring_to_solution import wiring_to_solution


def read(wiring: Wiring) -> Reading:
    return solution_to_reading(wiring, wiring_to_solution(wiring), SETS)


def states(wiring: Wiring, load: str) -> dict[tuple[str, ...], str]:
    group = wiring_to_solution(wiring).group_of_lamp(load)
    i = group.lamps.index(load)
    return {row.setting: row.lamps[i].state.value for row in group.rows}


def bathroom() -> Wiring:
    """Light and timer fan on one pull-cord, the fan behind a three-pole isolator."""
    c = Circuit()
    c.way()
    c.put("Bath", "batten lampholder", loop="yes")
    c.put("Cord", "pull-cord switch")
    c.put("Isolator", "fan isolator")
    c.put("Fan", "timer fan", load="15 W")
    c.twin("way 1", "Bath", ("L", "loop"), ("N", "N"))
    c.twin("Bath", "Cord", ("loop", "COM"), ("L", "L1"), sleeved="2")
    for a, b, ends in (("Bath", "Isolator", [("loop", "L in"), ("L", "SL in"), ("N", "N in")]),
                       ("Isolator", "Fan", [("L out", "L"), ("SL out", "SL"), ("N out", "N")])):
        c.three(a, b, *ends, sleeved="2")
        _neutral_sleeve(c)
    return c.wiring()


def _neutral_sleeve(c: Circuit) -> None:
    """Grey as neutral, sleeved blue."""
    cable = c.cables[-1]
    grey = replace(cable.cores[2], ends=tuple(replace(e, sleeve="BU") for e in cable.cores[2].ends))
    c.cables[-1] = replace(cable, cores=(*cable.cores[:2], grey, *cable.cores[3:]))


def test_a_timer_fan_runs_while_its_switched_line_is_live_and_for_the_run_on_time_after():
    """Never behind an open isolator: all three poles open. Common practice."""
    found = states(bathroom(), "Fan.motor")
    group = wiring_to_solution(bathroom()).group_of_lamp("Fan.motor")
    cord, isolator, timer = (group.switches.index(s) for s in ("Cord", "Isolator", "Fan.timer"))
    running = {s for s, v in found.items() if v == "on"}
    assert running == {s for s in found if s[isolator] == "on" and (s[cord] == "on" or s[timer] == "triggered")}
    assert len(running) == 3


def test_a_bathroom_with_a_fan_isolator_is_sound_but_for_the_electronics():
    found = read(bathroom())
    assert [f.rule for f in found.findings] == ["harmed_by_test"]
    assert "Fan (electronics)" in found.findings[0].says


def test_roles_behind_an_isolator_are_those_in_front_of_it():
    found = read(bathroom())
    for cores in ([f"W3/{i}" for i in (1, 2, 3)], [f"W4/{i}" for i in (1, 2, 3)]):
        assert [found.roles[k] for k in cores] == [Role.PERMANENT_LINE, Role.SWITCHED_LINE, Role.NEUTRAL]


def test_a_fan_without_an_isolator_is_noticed():
    c = Circuit()
    c.way()
    c.put("Fan", "fan")
    c.put("Door", "one-way switch", connectors=["joint"])
    c.twin("way 1", "Door", ("L", "COM"), ("N", "joint"))
    c.twin("Door", "Fan", ("L1", "L"), ("joint", "N"))
    assert [f.rule for f in read(c.wiring()).findings] == ["fan_isolation"]
    assert states(c.wiring(), "Fan") == {("off",): "off", ("on",): "on"}


def test_a_double_pole_switch_isolates_a_fan():
    c = Circuit()
    c.way()
    c.put("Fan", "fan")
    c.put("Switch", "double-pole switch")
    c.twin("way 1", "Switch", ("L", "L in"), ("N", "N in"))
    c.twin("Switch", "Fan", ("L out", "L"), ("N out", "N"))
    assert read(c.wiring()).findings == ()
    assert states(c.wiring(), "Fan") == {("off",): "off", ("on",): "on"}


@pytest.mark.parametrize("kind", ["PIR", "relay module"])
def test_a_sensor_gives_line_while_triggered_and_its_switch_is_not_worked_by_hand(kind):
    c = Circuit()
    c.way()
    c.put("Eye", kind)
    c.put("Porch", "batten lampholder")
    c.twin("way 1", "Eye", ("L", "L"), ("N", "N"))
    c.twin("Eye", "Porch", ("SL", "L"), ("N", "N"))
    assert states(c.wiring(), "Porch") == {("idle",): "off", ("triggered",): "on"}
    assert [s.by_hand for _, _, s in c.wiring().switches()] == [False]
    assert [f.rule for f in read(c.wiring()).findings] == ["harmed_by_test"]


def test_an_override_switch_beside_a_sensor_is_sound():
    c = Circuit()
    c.way()
    c.put("Eye", "sensor")
    c.put("Override", "one-way switch", connectors=["N joint"])
    c.put("Porch", "batten lampholder")
    c.twin("way 1", "Override", ("L", "COM"), ("N", "N joint"))
    c.three("Override", "Eye", ("COM", "L"), ("L1", "SL"), ("N joint", "N"), sleeved="2")
    _neutral_sleeve(c)
    c.twin("Eye", "Porch", ("SL", "L"), ("N", "N"))
    found = states(c.wiring(), "Porch")
    assert sorted(found.values()) == ["off", "on", "on", "on"]
    assert [f.rule for f in read(c.wiring()).findings] == ["harmed_by_test"]


def test_dimmers_one_way_and_two_way():
    c = Circuit()
    c.way()
    c.put("Dimmer", "dimmer", switching="two-way")
    c.put("Top", "two-way switch")
    c.put("Stairs", "batten lampholder")
    c.single("way 1", "L", "Dimmer", "COM")
    c.single("Dimmer", "L1", "Top", "L1")
    c.single("Dimmer", "L2", "Top", "L2")
    c.single("Top", "COM", "Stairs", "L")
    c.neutral("way 1", "N", "Stairs", "N")
    for a, b in (("way 1", "Dimmer"), ("Dimmer", "Top"), ("Top", "Stairs")):
        c.earth(a, b)
    assert states(c.wiring(), "Stairs")["L1", "L1"] == "on"
    assert [f.rule for f in read(c.wiring()).findings] == ["harmed_by_test"]
    one_way = find("dimmer").build({})
    assert [p.joins for p in one_way.switches[0].positions] == [(), (("L", "load"),)]


def test_an_emergency_luminaire_keeps_its_charger_fed():
    c = Circuit()
    c.way()
    c.put("Hall", "emergency luminaire")
    c.put("Door", "one-way switch", connectors=["joint"])
    c.twin("way 1", "Door", ("L", "COM"), ("N", "joint"))
    c.three("Door", "Hall", ("COM", "L"), ("L1", "SL"), ("joint", "N"), sleeved="2")
    _neutral_sleeve(c)
    assert states(c.wiring(), "Hall.lamp") == {("off",): "off", ("on",): "on"}
    assert states(c.wiring(), "Hall.charger") == {(): "on"}
    assert [f.rule for f in read(c.wiring()).findings] == ["harmed_by_test"]


def test_a_house_of_twenty_ways_of_pull_cords_and_plates():
    c = Circuit()
    for i in range(20):
        feed = c.way(str(i + 1))
        c.put(f"Box {i}", "joint box", terminals=["L", "N", "SL", "E"])
        c.put(f"Cord {i}", "pull-cord switch")
        c.put(f"Light {i}", "batten lampholder")
        c.twin(feed.accessory, f"Box {i}", ("L", "L"), ("N", "N"))
        c.twin(f"Box {i}", f"Cord {i}", ("L", "COM"), ("SL", "L1"), sleeved="2")
        c.twin(f"Box {i}", f"Light {i}", ("SL", "L"), ("N", "N"))
    found = read(c.wiring())
    assert found.findings == ()
    assert found.ways["W60/1"] == ("way 20",)


def test_a_load_that_cannot_be_is_refused():
    assert find("fan").build({"load": "15 W"}).loads[0].watts == Fraction(15)
    with pytest.raises(BadOption, match=r"15 W|20 W"):
        find("fan").build({"load": "fast"})
    with pytest.raises(BadOption, match="'on' cannot be 'floor'"):
        find("fan isolator").build({"on": "floor"})


@pytest.mark.parametrize("entry", CATALOGUE, ids=lambda e: e.name)
def test_facts_of_every_accessory_speak_of_its_own_terminals(entry):
    kind = entry.build({"gangs": ["two-way", "one-way"]} if "gangs" in entry.options else {})
    names = [t.name for t in kind.terminals]
    assert len(set(names)) == len(names)
    shown = [t for row in kind.face for t in row]
    assert sorted(shown) == sorted(names)
    used = [t for s in kind.switches for p in s.positions for pair in p.joins for t in pair]
    used += [t for load in kind.loads for t in (load.a, load.b)] + [t for _, t in (*kind.ports, *kind.rails)]
    assert set(used) <= set(names)
    for terminal in kind.terminals:
        others = {t.name for t in kind.terminals} - {terminal.name}
        assert not others & set(terminal.aliases) or terminal.name in ("loop", "SL", "L")
