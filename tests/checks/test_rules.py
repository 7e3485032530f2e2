"""Each rule on a circuit that breaks it, and on one that nearly does."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest
from circuits import (
    SETS,
    Circuit,
    Feed,
    alternate,
    at_the_switch,
    bridge,
    conversion,
    core_at,
    exchanged,
    loop_in,
    series,
    strappers,
    switched_neutral,
    with_core,
    with_end,
)

from sheetgen.checks import RULES
from sheetgen.model.accessory import Terminal
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.wiring import Device, Wiring
from sheetgen.solution_to_reading import solution_to_reading
from sheetgen.wiring_to_solution import wiring_to_solution

F = Fraction


def findings(wiring: Wiring) -> tuple[Finding, ...]:
    return solution_to_reading(wiring, wiring_to_solution(wiring), SETS).findings


def of(rule: str, wiring: Wiring) -> list[Finding]:
    return [f for f in findings(wiring) if f.rule == rule]


def only(rule: str, wiring: Wiring) -> Finding:
    (found,) = of(rule, wiring)
    return found


def one_room(room: Callable, *more, colours: str = "current", **board) -> Wiring:
    c = Circuit(colours, **board)
    room(c, c.way(), "Study", *more)
    return c.wiring()


def plus(wiring: Wiring, a: tuple[str, str], b: tuple[str, str]) -> Wiring:
    return replace(wiring, cables=(*wiring.cables, bridge("X1", Terminal(*a), Terminal(*b), wiring.colours)))


def with_device(wiring: Wiring, kind: str, amps: int) -> Wiring:
    ways = tuple(replace(w, device=Device(kind, F(amps))) for w in wiring.board.ways)
    return replace(wiring, board=replace(wiring.board, ways=ways))


def with_cables(wiring: Wiring, **facts) -> Wiring:
    return replace(wiring, cables=tuple(replace(c, **facts) if not c.flex else c for c in wiring.cables))


# Dangers


def test_short_in_one_setting_names_path_and_setting():
    found = only("short", plus(one_room(loop_in), ("Study", "SL"), ("Study", "N")))
    assert found.gravity is Gravity.DANGER
    assert "way 1 (Lights)" in found.says and "to neutral in 1 of 2 settings" in found.says
    assert "through Study loop, Study door COM, Study door L1, Study SL and Study N" in found.says
    assert found.setting == "Study door on" and (found.accessory, found.terminal) == ("Study", "N")


def test_short_whatever_the_switches_do_and_nothing_more_is_said_of_it():
    wiring = plus(one_room(loop_in), ("Study", "loop"), ("Study", "E"))
    found = findings(wiring)
    assert [f.rule for f in found] == ["short"]
    assert "to earth whatever the switches do" in found[0].says and found[0].setting == ""


def test_green_and_yellow_as_a_line():
    wiring = one_room(strappers)
    earth = next(c for c in wiring.cores() if c.colour == "GNYE" and c.ends[0].accessory == "way 1")
    wiring = with_end(wiring, earth, 0, "L")
    wiring = with_end(wiring, core_at(wiring, earth.key), 1, "COM")
    found = only("protective_misused", wiring)
    assert found.gravity is Gravity.DANGER and found.core == earth.key and "permanent line" in found.says
    assert found.clause == "BS 7671 514.4.2"


def test_bare_core_as_a_neutral():
    wiring = one_room(loop_in)
    wiring = with_end(wiring, core_at(wiring, "W2/3"), 0, "N")
    wiring = with_end(wiring, core_at(wiring, "W2/3"), 1, "N")
    assert only("protective_misused", wiring).core == "W2/3"


def test_earth_terminal_with_a_switched_line_on_it():
    wiring = one_room(loop_in)
    wiring = with_end(wiring, core_at(wiring, "W3/2"), 1, "L1")
    cut = with_end(wiring, core_at(wiring, "W3/3"), 0, None)  # else it is a short
    found = only("earth_terminal_live", plus(cut, ("Study door", "L1"), ("Study door", "E")))
    assert (found.gravity, found.terminal, found.setting) == (Gravity.DANGER, "E", "Study door on")
    assert of("earth_terminal_live", one_room(loop_in)) == []


def two_ways() -> Circuit:
    c = Circuit()
    c.way("5", serves="Downstairs")
    c.way("6", serves="Upstairs")
    return c


def test_borrowed_neutral_names_both_ways_to_isolate():
    c = two_ways()
    c.put("Landing", "batten lampholder")
    c.put("Door", "one-way switch")
    c.single("way 5", "L", "Door", "COM")
    c.single("Door", "L1", "Landing", "L")
    c.neutral("way 6", "N", "Landing", "N")
    c.earth("way 5", "Door")
    c.earth("way 6", "Landing")
    found = only("borrowed_neutral", c.wiring())
    assert found.says == ("Landing takes its line from way 5 (Downstairs) and returns its neutral to way 6 (Upstairs).")
    assert "Isolate way 5 (Downstairs) and way 6 (Upstairs) before work here" in found.cure
    assert (found.gravity, found.setting, found.clause) == (Gravity.DANGER, "Door on", "BS 7671 314.1(vi)")
    assert of("wide_loop", c.wiring()) == []  # said already
    assert [f.accessory for f in of("two_ways", c.wiring())] == ["Landing"]


def test_neutrals_of_two_ways_joined():
    c = two_ways()
    loop_in(c, loop_in(c, Feed("way 5"), "Study"), "Hall")
    loop_in(c, Feed("way 6"), "Landing")
    found = only("borrowed_neutral", plus(c.wiring(), ("Hall", "N"), ("Landing", "N")))
    assert found.says == "The neutrals of way 5 (Downstairs) and way 6 (Upstairs) are joined, at Study N."


def test_switched_lines_of_two_ways_joined():
    c = two_ways()
    loop_in(c, Feed("way 5"), "Study")
    loop_in(c, Feed("way 6"), "Hall")
    found = only("linked_lines", plus(c.wiring(), ("Study", "SL"), ("Hall", "SL")))
    assert found.gravity is Gravity.DANGER and "way 5 (Downstairs) and way 6 (Upstairs)" in found.says
    assert found.setting == "Study door on, Hall door on"
    joined = only("linked_lines", plus(c.wiring(), ("Study", "loop"), ("Hall", "loop")))
    assert joined.setting == "" and "Study loop" in joined.says


def test_switch_in_the_neutral():
    found = only("switched_neutral", one_room(switched_neutral))
    assert found.says == "Study door switches the neutral of Study lamp."
    assert (found.gravity, found.setting, found.accessory) == (Gravity.DANGER, "Study door off", "Study door")
    assert of("off_but_live", one_room(switched_neutral)) == []  # the same lamp, said once
    assert of("switched_neutral", one_room(alternate)) == []


def test_alternate_polarity():
    found = of("alternate_polarity", one_room(alternate))
    assert [f.accessory for f in found] == ["Study 1", "Study 2"] and {f.terminal for f in found} == {"COM"}
    assert of("off_but_live", one_room(alternate)) == []


def test_a_lost_neutral_leaves_the_lamp_off_but_live():
    wiring = one_room(loop_in)
    found = only("off_but_live", with_end(wiring, core_at(wiring, "W2/2"), 1, None))
    assert found.setting == "Study door on" and "neutral of Study lamp is broken" in found.cure
    both = with_end(wiring, core_at(wiring, "W1/2"), 0, "loop")
    assert only("off_but_live", both).cure == "Bring the neutral to Study lamp N in place of the line."


@pytest.mark.parametrize(("cap", "count"), [("screw", 1), ("bayonet", 0)])
def test_screw_lampholder_with_line_on_the_outer_contact(cap, count):
    c = Circuit()
    c.way()
    c.put("Porch", "batten lampholder", cap=cap)
    c.twin("way 1", "Porch", ("L", "N"), ("N", "L"))
    found = of("screw_outer_line", c.wiring())
    assert len(found) == count and all(f.terminal == "N" and f.gravity is Gravity.DANGER for f in found)
    assert len(of("wrong_terminal", c.wiring())) == 1


def test_loose_cores_live_dead_and_spare():
    wiring = one_room(loop_in)
    live = only("loose_core", with_end(wiring, core_at(wiring, "W3/1"), 1, None))
    assert (live.gravity, live.core, live.accessory) == (Gravity.DANGER, "W3/1", "Study door")
    assert live.says == "The brown core of W3 from Study loop ends in nothing in Study door and can be live there."
    back = only("loose_core", with_end(wiring, core_at(wiring, "W3/2"), 1, None))
    assert back.gravity is Gravity.PUT_RIGHT and back.setting == ""
    spare = with_end(with_end(wiring, core_at(wiring, "W3/2"), 1, None), core_at(wiring, "W3/2"), 0, None)
    spare = with_end(spare, core_at(spare, "W3/2"), 1, None)
    assert only("loose_core", spare).gravity is Gravity.NOTE


def without_cpc(room: Callable, *more) -> Wiring:
    wiring = one_room(room, *more)
    return replace(wiring, cables=tuple(
        replace(c, cores=tuple(k for k in c.cores if not k.cpc)) for c in wiring.cables))


def test_no_cpc_is_a_danger_at_a_class_i_luminaire_and_one_finding_for_the_rest():
    found = of("no_cpc", without_cpc(at_the_switch))
    assert [(f.gravity, f.accessory) for f in found] == [(Gravity.DANGER, "Study"), (Gravity.PUT_RIGHT, "Study door")]
    (rest,) = of("no_cpc", without_cpc(loop_in))
    assert rest.gravity is Gravity.PUT_RIGHT and "Study and Study door" in rest.says
    wiring = without_cpc(loop_in)
    metal = replace(wiring, accessories=tuple(
        replace(a, kind=replace(a.kind, flags=a.kind.flags | {"metal"})) if a.name == "Study door" else a
        for a in wiring.accessories))
    assert {f.accessory: f.gravity for f in of("no_cpc", metal)} == {
        "Study door": Gravity.DANGER, "Study": Gravity.PUT_RIGHT}


def test_a_cpc_that_is_parted_names_all_that_hangs_on_it():
    wiring = one_room(loop_in)
    found = only("cpc_interrupted", with_end(wiring, core_at(wiring, "W2/3"), 0, None))
    assert "Study and Study door" in found.says and found.gravity is Gravity.PUT_RIGHT
    wiring = one_room(at_the_switch)
    assert only("cpc_interrupted", with_end(wiring, core_at(wiring, "W1/3"), 0, None)).gravity is Gravity.DANGER


# To be put right


def test_neutral_joined_to_a_cpc():
    found = findings(plus(one_room(loop_in), ("Study", "N"), ("Study", "E")))
    assert [f.rule for f in found if f.gravity is not Gravity.NOTE] == ["neutral_earth"]
    assert found[0].says == "The neutral of way 1 (Lights) is joined to the cpc at Study E."


def test_line_and_neutral_exchanged_at_a_fitting():
    c = Circuit()
    c.way()
    c.put("Porch", "light fitting")
    c.twin("way 1", "Porch", ("L", "N"), ("N", "L"))
    found = only("wrong_terminal", c.wiring())
    assert "neutral on Porch L" in found.says and "line on Porch N" in found.says


@pytest.mark.parametrize(("room", "lit"), [(strappers, "1 of 4"), (conversion, "3 of 4")])
def test_a_common_exchanged_with_a_strapper_and_what_would_cure_it(room, lit):
    wiring = one_room(room)
    cores = {(e.terminal): (k.key, i) for k in wiring.cores() for i, e in enumerate(k.ends)
             if e.accessory == "Study 2" and not k.cpc}
    wrong = exchanged(wiring, cores["COM"], cores["L1"])
    found = only("multiway", wrong)
    assert f"is lit in {lit} settings of Study 1 and Study 2" in found.says
    names = [core_at(wiring, cores[t][0]) for t in ("COM", "L1")]
    for core, at in zip(names, ("L1", "COM"), strict=True):
        assert f"of {core.cable} on Study 2 {at}" in found.cure or f"single {core.cable} on Study 2 {at}" in found.cure
    assert found.cure.startswith("Exchange ") and "found by trying" in found.cure
    # the cure that it names is a cure
    assert of("multiway", exchanged(wrong, cores["COM"], cores["L1"])) == []


def test_a_conductor_on_the_wrong_contact_is_cured_by_moving_it():
    wiring = one_room(strappers)
    key, end = next((k.key, i) for k in wiring.cores() for i, e in enumerate(k.ends)
                    if (e.accessory, e.terminal) == ("Study 2", "L1"))
    wrong = with_end(wiring, core_at(wiring, key), end, "L2")
    found = only("multiway", wrong)
    assert "move" in found.cure.lower() and "from Study 2 L2 to Study 2 L1" in found.cure
    assert of("multiway", with_end(wrong, core_at(wrong, key), end, "L1")) == []


def test_a_fault_that_no_exchange_cures_says_so():
    wiring = one_room(strappers)
    key, end = next((k.key, i) for k in wiring.cores() for i, e in enumerate(k.ends)
                    if (e.accessory, e.terminal) == ("Study 2", "L1"))
    found = only("multiway", with_end(wiring, core_at(wiring, key), end, None))
    assert "lit in 1 of 4" in found.says and found.cure.startswith("No exchange or move")


def test_a_lamp_never_lit_says_what_does_not_reach_it():
    wiring = one_room(loop_in)
    assert "no neutral reaches it" in only("never_lit", with_end(wiring, core_at(wiring, "W2/2"), 1, None)).says
    assert "no line reaches it" in only("never_lit", with_end(wiring, core_at(wiring, "W3/2"), 0, None)).says
    bare = with_end(with_end(wiring, core_at(wiring, "W1/1"), 0, None), core_at(wiring, "W1/2"), 0, None)
    bare = with_end(bare, core_at(bare, "W1/2"), 0, None)
    assert "neither line nor neutral" in only("never_lit", bare).says


def test_a_lamp_never_off_with_a_switch_and_without_one():
    found = only("never_off", plus(one_room(loop_in), ("Study", "loop"), ("Study", "SL")))
    assert found.gravity is Gravity.PUT_RIGHT
    assert found.says == "Study lamp is on in every setting: conductors bridge Study door."
    c = Circuit()
    c.way()
    c.put("Porch", "batten lampholder")
    c.twin("way 1", "Porch", ("L", "L"), ("N", "N"))
    assert only("never_off", c.wiring()).gravity is Gravity.NOTE
    one = plus(one_room(strappers), ("Study 1", "COM"), ("Study 1", "L1"))
    always = plus(one, ("Study 1", "COM"), ("Study 1", "L2"))
    assert only("never_off", always).says == "Study is on in every setting."


def test_lamps_in_series():
    found = only("series_lamps", one_room(series))
    assert "Study a 40 % and Study b 60 %" in found.means and found.setting == "Study door on"


def unsleeved(wiring: Wiring, key: str) -> Wiring:
    core = core_at(wiring, key)
    return with_core(wiring, replace(core, ends=tuple(replace(e, sleeve=None) for e in core.ends)))


def test_unmarked_cores():
    found = only("unmarked", unsleeved(one_room(loop_in), "W3/2"))
    assert found.says == "The blue core of W3 is a switched line and is not marked at Study SL and Study door L1."
    assert found.means == "It looks like a neutral and can be live."
    assert found.cure == "Fit a brown sleeve at Study SL and Study door L1, or mark it L."
    grey = only("unmarked", unsleeved(one_room(conversion), "W4/3"))
    assert grey.means == "Nothing says that it can be live."
    bare = only("unmarked", unsleeved(one_room(loop_in), "W2/3"))
    assert bare.says == "The bare cpc has no sleeve at way 1 and Study."
    assert bare.clause == "BS 7671 543.3.201 (clause from memory)"


def test_a_line_colour_used_as_a_neutral():
    c = Circuit("legacy")
    c.way()
    c.put("Porch", "batten lampholder")
    c.cable("twin of one colour and earth", "way 1", "Porch", ("L", "L"), ("N", "N"), ("E", "E"))
    found = only("unmarked", c.wiring())
    assert found.core == "W1/2" and "is a neutral and is not marked" in found.says and "mark it N" in found.cure
    assert only("alike_cores", c.wiring()).says == "Nothing tells the 2 red cores of W1 apart."


def sleeved(wiring: Wiring, key: str, colour: str) -> Wiring:
    core = core_at(wiring, key)
    return with_core(wiring, replace(core, ends=tuple(replace(e, sleeve=colour) for e in core.ends)))


def test_wrong_and_needless_sleeves():
    wrong = only("wrong_sleeve", sleeved(one_room(loop_in), "W3/2", "GY"))
    assert wrong.gravity is Gravity.PUT_RIGHT and "Fit a brown sleeve" in wrong.cure
    misleading = only("wrong_sleeve", sleeved(one_room(loop_in), "W2/2", "BN"))
    assert misleading.gravity is Gravity.PUT_RIGHT and misleading.cure == "Take it off at way 1 N and Study N."
    needless = only("wrong_sleeve", sleeved(one_room(loop_in), "W2/1", "BN"))
    assert needless.gravity is Gravity.NOTE and "does not need" in needless.says


def test_crowded_terminals_and_those_that_must_be_empty():
    wiring = one_room(loop_in)
    for i in range(2):
        wiring = replace(wiring, cables=(*wiring.cables, bridge(
            f"X{i}", Terminal("Study", "loop"), Terminal("way 1", "L"))))
    found = only("crowded_terminal", wiring)
    assert found.says == "4 conductors are on Study loop, which takes 3." and found.terminal == "loop"
    empty = replace(wiring, accessories=tuple(
        replace(a, kind=replace(a.kind, terminals=tuple(
            replace(t, to_be_empty=True) if t.name == "L1" else t for t in a.kind.terminals)))
        for a in wiring.accessories))
    assert any("which must stay empty" in f.says for f in of("crowded_terminal", empty))


def test_unsheathed_singles_outside_conduit():
    wiring = one_room(strappers)
    assert of("unsheathed", wiring) == []
    out = replace(wiring, cables=tuple(
        replace(c, run_in="") if c.name in ("W1", "W4") else c for c in wiring.cables))
    assert only("unsheathed", out).says.startswith("W1 and W4 are unsheathed singles")
    earths = tuple(replace(c, run_in="") if c.cores[0].colour == "GNYE" else c for c in wiring.cables)
    assert of("unsheathed", replace(wiring, cables=earths)) == []


def test_device_cable_and_load():
    wiring = with_cables(one_room(loop_in), method="103")
    assert of("coordination", wiring) == []
    weak = only("coordination", with_device(wiring, "B", 10))
    assert "W2 and W3 may carry 8 A" in weak.says and "type B 10 A" in weak.says
    # 0.725 x 8 A is less than 6 A would need: 5.8 A is enough for 5 A
    assert of("coordination", with_device(wiring, "BS 3036", 5)) == []
    assert "5.8 A" in only("coordination", with_device(wiring, "BS 3036", 15)).says
    c = Circuit()
    c.way()
    c.put("Hall", "batten lampholder", lamp=F(1500))
    c.twin("way 1", "Hall", ("L", "L"), ("N", "N"))
    assert "take 6.52 A, its device is type B 6 A" in only("coordination", c.wiring()).says


def test_a_flex_that_is_too_small():
    wiring = one_room(loop_in)
    lamp = wiring.accessory("Study lamp")
    big = replace(lamp, kind=replace(lamp.kind, loads=(replace(lamp.kind.loads[0], watts=F(1400)),)))
    wiring = replace(wiring, accessories=tuple(big if a.name == "Study lamp" else a for a in wiring.accessories))
    found = [f for f in of("coordination", with_device(wiring, "B", 10)) if "flex" in f.says]
    assert "W1 carries 6.09 A and may carry 6 A" in found[0].says


def test_lampholders_on_more_than_16_ampere():
    assert of("lampholder_device", with_device(one_room(loop_in), "B", 16)) == []
    assert "type B 20 A" in only("lampholder_device", with_device(one_room(loop_in), "B", 20)).says


def test_zs_over_the_limit():
    wiring = with_cables(one_room(loop_in, ze=F("0.35"), earthing="TN-S"), length=F(60))
    assert of("zs_limit", with_device(wiring, "B", 6)) == []
    # 1.0/1.0, 120 m of cable: 0.35 + 0.0362 x 120 = 4.69 ohm against 0.8 x 3.64 of type C 6 A
    found = only("zs_limit", with_device(wiring, "C", 6))
    assert "Zs at Study is expected to be 4.69 ohm" in found.says and found.setting == "Study door on"
    assert "allows 2.91 ohm" in found.says and found.clause == "BS 7671 Table 41.3"


def test_volt_drop_over_the_limit():
    c = Circuit()
    c.way()
    c.put("Barn", "batten lampholder", lamp=F(1150))
    c.twin("way 1", "Barn", ("L", "L"), ("N", "N"), length=F(32))
    assert "7.04 V are lost on the way to Barn" in only("volt_drop", c.wiring()).says
    c.cables[0] = replace(c.cables[0], length=F(30))
    assert of("volt_drop", c.wiring()) == []


def test_two_dimmers_of_the_same_lamps():
    c = Circuit()
    c.way()
    for name in ("Top", "Bottom"):
        c.put(name, "dimmer", switching="two-way")
    c.put("Stairs", "batten lampholder")
    c.single("way 1", "L", "Top", "COM")
    c.single("Top", "L1", "Bottom", "L1")
    c.single("Top", "L2", "Bottom", "L2")
    c.single("Bottom", "COM", "Stairs", "L")
    c.neutral("way 1", "N", "Stairs", "N")
    assert only("dimmers", c.wiring()).says.startswith("Top and Bottom are dimmers")
    assert "Top (dimmer) and Bottom (dimmer)" in only("harmed_by_test", c.wiring()).says


def test_a_fan_that_nothing_isolates():
    c = Circuit()
    c.way()
    c.put("Fan", "timer fan")
    c.twin("way 1", "Fan", ("L", "L"), ("N", "N"))
    assert only("fan_isolation", c.wiring()).says == "Nothing but the board isolates Fan."


# Notes


def test_line_and_neutral_by_separate_routes():
    c = Circuit()
    c.way()
    c.put("Door", "one-way switch")
    c.put("Study", "batten lampholder")
    c.single("way 1", "L", "Door", "COM", run_in="")
    c.single("Door", "L1", "Study", "L", run_in="")
    c.neutral("way 1", "N", "Study", "N")
    found = only("wide_loop", c.wiring())
    assert found.gravity is Gravity.NOTE and "the current in W1, W2 and W3" in found.says
    assert of("wide_loop", one_room(strappers)) == []  # all in one conduit
    c.cables = [replace(x, run_in="conduit") for x in c.cables]
    assert of("wide_loop", c.wiring()) == []
    c.cables = [replace(x, run_in="conduit 2") if x.cores[0].colour == "BU" else x for x in c.cables]
    assert "W3" in only("wide_loop", c.wiring()).says


def test_two_strappers_in_a_three_core_are_a_wide_loop_and_the_conversion_is_not():
    c = Circuit()
    c.way()
    for name in ("Top", "Bottom"):
        c.put(name, "two-way switch", connectors=["N"])
    c.put("Stairs", "batten lampholder")
    c.twin("way 1", "Bottom", ("L", "COM"), ("N", "N"))
    c.three("Bottom", "Top", (None, None), ("L1", "L1"), ("L2", "L2"), sleeved="23")
    c.single("Top", "COM", "Stairs", "L", run_in="")
    c.neutral("Bottom", "N", "Stairs", "N")
    assert "the current in W2, W3 and W4 comes" in only("wide_loop", c.wiring()).says
    assert of("wide_loop", one_room(conversion, 4)) == []


def test_colours_of_two_versions():
    c = Circuit("legacy")
    feed = loop_in(c, c.way(), "Old")
    c.colours = "current"
    loop_in(c, feed, "New")
    found = only("two_colour_sets", c.wiring())
    assert found.says.endswith("they meet at Old.") and found.gravity is Gravity.NOTE
    assert of("two_colour_sets", replace(c.wiring(), recoloured="current")) == []


def test_every_rule_is_named_by_some_test_of_this_file():
    text = open(__file__, encoding="utf-8").read()
    assert [rule.name for rule in RULES if f'"{rule.name}"' not in text] == []
