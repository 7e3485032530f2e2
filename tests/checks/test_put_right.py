"""Each rule that finds something to put right or to note, on a circuit that breaks it and on one that nearly does."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from circuits import (
    Circuit,
    bridge,
    conversion,
    core_at,
    exchanged,
    loop_in,
    series,
    strappers,
    with_end,
)
from judged import (
    findings,
    of,
    one_room,
    only,
    plus,
    sleeved,
    unsleeved,
    with_cables,
    with_device,
    without_core,
)

from sheetgen.judge.rules import RULES
from sheetgen.model.accessory import Terminal
from sheetgen.model.reading import Gravity
from sheetgen.pipeline import judged, wiring_of
from sheetgen.tell.story import tell

F = Fraction


def test_neutral_joined_to_a_cpc():
    found = findings(plus(one_room(loop_in), ("Study", "N"), ("Study", "E")))
    assert [(f.rule, f.gravity) for f in found] == [("neutral_earth", Gravity.DANGER)]
    assert found[0].says == "The neutral of circuit 1 (Lights) is joined to the cpc at Study E."


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
    assert found.cure.startswith("Exchange ") and "worked out" in found.cure
    # the cure that it names is a cure
    assert of("multiway", exchanged(wrong, cores["COM"], cores["L1"])) == []


def test_the_timer_of_a_fan_on_the_same_switched_line_is_no_switch_that_a_hand_operates():
    text = """\
job: Bathroom
colours: current
accessories:
  Rose: {kind: ceiling rose}
  Door: {kind: two-way switch}
  Bed: {kind: two-way switch}
  Fan: {kind: timer fan}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Rose, cores: {BN: [L, loop], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Rose, to: Door,
       cores: {BN: [loop, L1], BU: [SL, L2], cpc: [E, E]}, sleeved: [BU]}
  W3: {type: three-core and earth 1.0, from: Door, to: Bed,
       cores: {BN: [COM, COM], BK: [L1, L1], GY: [L2, L2], cpc: [E, E]}, sleeved: [BK, GY]}
  W4: {type: three-core and earth 1.0, from: Rose, to: Fan,
       cores: {BN: [loop, L], BK: [SL, SL], GY: [N, N], cpc: [E, E]}, sleeved: {BK: brown, GY: blue}}
"""
    assert of("multiway", wiring_of(text)) == []
    crossed = wiring_of(text.replace("BK: [L1, L1], GY: [L2, L2]", "BK: [L1, COM], GY: [L2, L2]").replace(
        "BN: [COM, COM]", "BN: [COM, L1]"))
    assert "Fan timer" not in only("multiway", crossed).says


def test_a_conductor_on_the_wrong_contact_is_cured_by_moving_it():
    wiring = one_room(strappers)
    key, end = next((k.key, i) for k in wiring.cores() for i, e in enumerate(k.ends)
                    if (e.accessory, e.terminal) == ("Study 2", "L1"))
    wrong = with_end(wiring, core_at(wiring, key), end, "L2")
    found = only("multiway", wrong)
    assert "move" in found.cure.lower() and "from Study 2 L2 to Study 2 L1" in found.cure
    assert of("multiway", with_end(wrong, core_at(wrong, key), end, "L1")) == []


def test_a_strapper_taken_off_is_one_finding_and_goes_back():
    wiring = one_room(strappers)
    key, end = next((k.key, i) for k in wiring.cores() for i, e in enumerate(k.ends)
                    if (e.accessory, e.terminal) == ("Study 2", "L1"))
    found = only("loose_core", with_end(wiring, core_at(wiring, key), end, None))
    assert "Study is lit in 1 of 4 settings of Study 1 and Study 2" in found.means
    assert found.cure == f"Put the brown single {key.partition('/')[0]} on Study 2 L1 (worked out, not tried on site)."


def test_a_lamp_never_lit_says_what_does_not_reach_it():
    wiring = one_room(loop_in)
    assert "no neutral reaches it" in only("off_but_live", without_core(wiring, "W2/2")).means
    assert "no line reaches it" in only("never_lit", without_core(wiring, "W3/2")).says
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


def test_a_fan_in_series_is_never_called_dim():
    text = """job: Bath
colours: current
accessories: {Fan: {kind: fan, load: 10 W}, Light: {kind: light fitting, class: II, lamp: 30 W}}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Fan, cores: {BN: [L, L], BU: [N, nothing], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Fan, to: Light, cores: {BN: [N, L], BU: [nothing, nothing], cpc: [E, E]}}
  W3: {type: single 1.0, from: way 1, to: Light, cores: {BU: [N, N]}}
"""
    assert of("series_lamps", wiring_of(text))[0].means == (
        "They share the voltage and come out dim (Fan 75 % and Light 25 % of it); electronic lamps flicker or stay "
        "dark, a motor runs slow, or only hums and grows hot.")
    (fans,) = of("series_lamps", wiring_of(text.replace("light fitting, class: II, lamp: 30 W", "fan, load: 30 W")))
    assert fans.means == ("They share the voltage (Fan 75 % and Light 25 % of it): a motor runs slow, or only hums and "
                          "grows hot.")
    assert fans.advice == "Give each its own switched line and its own neutral."


def test_unmarked_cores():
    found = only("unmarked", unsleeved(one_room(loop_in), "W3/2"))
    assert found.says == "The blue core of W3 is a switched line and is not marked at Study SL and Study door L1."
    assert found.means == "It looks like a neutral and can be live."
    assert found.cure == "Fit a brown sleeve at Study SL and Study door L1, or mark it L."
    grey = only("unmarked", unsleeved(one_room(conversion), "W4/3"))
    assert grey.means == "Nothing says that it can be live."
    bare = only("unmarked", unsleeved(one_room(loop_in), "W2/3"))
    assert bare.says == "The bare cpc has no sleeve at circuit 1 and Study."
    assert bare.clause == "BS 7671 543.3.201 (clause from memory)"


def test_in_old_colours_a_line_is_marked_red_or_brown_and_either_that_is_there_serves():
    """Red has been advised for red and black cable by a certification body, brown by the table of today."""
    old = one_room(loop_in, colours="legacy")
    found = only("unmarked", unsleeved(old, "W3/2"))
    assert found.cure == "Fit a red (or brown) sleeve at Study SL and Study door L1, or mark it L."
    for fitted in ("RD", "BN"):
        assert not [f for f in findings(sleeved(old, "W3/2", fitted)) if f.rule in ("unmarked", "wrong_sleeve")]
    assert "Fit a brown sleeve at" in only("unmarked", unsleeved(one_room(loop_in), "W3/2")).cure


def test_a_line_colour_used_as_a_neutral():
    c = Circuit("legacy")
    c.way()
    c.put("Porch", "batten lampholder")
    c.cable("twin of one colour and earth", "way 1", "Porch", ("L", "L"), ("N", "N"), ("E", "E"))
    found = only("unmarked", c.wiring())
    assert found.core == "W1/2" and "is a neutral and is not marked" in found.says and "mark it N" in found.cure
    alike = only("alike_cores", c.wiring())
    assert (alike.says, alike.means, alike.advice, alike.gravity, alike.core) == (
        "Nothing tells the 2 red cores of W1 apart.",
        "Once they are taken off their terminals, which was which has to be found by test.",
        "Put numbered markers on them at both ends before undoing anything.", Gravity.PUT_RIGHT, "W1/1")


def test_wrong_and_needless_sleeves():
    wrong = only("wrong_sleeve", sleeved(one_room(loop_in), "W3/2", "GY"))
    assert wrong.gravity is Gravity.PUT_RIGHT and "Fit a brown sleeve" in wrong.cure
    misleading = only("wrong_sleeve", sleeved(one_room(loop_in), "W2/2", "BN"))
    assert misleading.gravity is Gravity.PUT_RIGHT and misleading.cure == "Take it off at circuit 1 N and Study N."
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
    assert "at every point: at Study it is expected to be 4.69 ohm" in found.says and found.setting == "Study door on"
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


def test_every_rule_is_named_by_some_test_of_this_folder():
    text = "".join(p.read_text(encoding="utf-8") for p in Path(__file__).parent.glob("test_*.py"))
    assert [rule.name for rule in RULES if f'"{rule.name}"' not in text] == []


NEON = """\
job: A neon across a switch
board: {earthing: TN-S, ways: {1: {serves: Lights, device: type B 6 A, rcd: 30 mA}}}
colours: current
accessories:
  Box: {kind: joint box, terminals: [L, N, SL, E]}
  Switch: {kind: one-way switch}
  Light: {kind: light fitting, lamp: 8 W}
  Neon: {kind: light fitting, lamp: 0.1 W, class: II}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Box, cores: {BN: [L, L], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Box, to: Switch, cores: {BN: [L, COM], BU: [SL, L1], cpc: [E, E]}, sleeved: [BU]}
  W3: {type: twin and earth 1.0, from: Box, to: Light, cores: {BN: [SL, L], BU: [N, N], cpc: [E, E]}}
  W4: {type: single 1.0, from: Switch, to: Neon, cores: {BN: [COM, L]}, in: the box}
  W5: {type: single 1.0, from: Switch, to: Neon, cores: {BN: [L1, N]}, in: the box}
"""


def test_a_neon_across_a_switch_is_an_indicator_and_no_danger():
    (found,) = findings(wiring_of(NEON))
    assert (found.rule, found.gravity, found.cures) == ("across_a_switch", Gravity.NOTE, ())
    assert found.says == "Neon lies across Switch." and "what is switched is live through it" in found.means


def test_a_lamp_across_a_switch_is_no_indicator():
    rules = {f.rule for f in findings(wiring_of(NEON.replace("0.1 W", "5 W")))}
    assert {"off_but_live", "series_lamps"} <= rules and "across_a_switch" not in rules
    elsewhere = NEON.replace("[COM, L]", "[L1, L]").replace("[L1, N]", "[E, N]")  # to earth, across nothing
    assert of("across_a_switch", wiring_of(elsewhere)) == []


def test_the_light_behind_a_neon_is_off_and_its_method_is_told_without_it():
    """Common practice: a neon takes a tenth of a watt; the lamp behind it keeps its hundredth of the voltage and is
    dark."""
    circuit, reading = judged(NEON)
    states = {row.setting: [lamp.state.value for lamp in row.lamps]
              for group in circuit.solution.groups if group.lamps for row in group.rows}
    assert states == {("off",): ["all but off", "on"], ("on",): ["on", "off but live"]}
    assert [m.method for m in reading.circuits] == ["Line and neutral looped at a joint box; one-way switching."]
    (group,) = circuit.solution.groups
    assert [tell(circuit, group, row).says for row in group.rows] == [
        "Line from circuit 1, past no switch, goes on W1, W2 and W4 (brown) to the lamp at Neon, which lights; the "
        "current returns on W5 (brown), W2 (blue) and W3 (brown) through the lamp at Light, which is in series with "
        "it, "
        "on W3 and W1 (blue) to the neutral of circuit 1. Line from circuit 1 comes on W1 and W2 (brown) to COM of "
        "Switch. There it stops: Switch is open, so no line comes to the lamp at Light: it is off.",
        "Line from circuit 1 comes on W1 and W2 (brown) to COM of Switch and passes the closed contact to L1. From "
        "there "
        "it goes on W2 (blue) and W3 (brown) to the lamp at Light, which lights; the current returns on W3 and W1 "
        "(blue) "
        "to the neutral of circuit 1. Both contacts of the lamp at Neon are at line: it is off, yet live."]


def test_a_lamp_left_dark_in_series_is_live_at_both_contacts():
    """60 W before 4 W: of 230 V the first keeps 14 V, and its far contact is at 216 V."""
    text = NEON[:NEON.index("  W3:")] + "".join(
        f"  W{i}: {{type: twin and earth 1.0, from: {a}, to: {b}, cores: {{BN: {line}, BU: {neutral}, cpc: [E, E]}}}}\n"
        for i, a, b, line, neutral in (
            (3, "Box", "Second", "[SL, L]", "[nothing, nothing]"),
            (4, "Second", "Light", "[N, L]", "[nothing, nothing]"),
            (5, "Light", "Box", "[nothing, nothing]", "[N, N]")))
    text = text.replace("Neon: {kind: light fitting, lamp: 0.1 W, class: II}",
                        "Second: {kind: light fitting, lamp: 60 W}").replace("lamp: 8 W", "lamp: 4 W")
    found = [f for f in findings(wiring_of(text)) if f.rule == "off_but_live"]
    assert [f.says for f in found] == ["Second is out while both its contacts are live."]
    assert of("series_lamps", wiring_of(text))[0].means == (
        "They share the voltage and come out dim (Light 94 % and Second 6 % of it); electronic lamps flicker or stay "
        "dark.")


def test_a_free_core_that_the_cure_of_a_borrowed_neutral_needs_is_not_called_spare():
    text = (Path(__file__).parents[2] / "examples" / "landing-borrowed-neutral.yaml").read_text(encoding="utf-8")
    told = {f.core: (f.means, f.advice) for f in judged(text)[1].findings if f.rule == "loose_core"}
    assert told["W4/1"] == (
        "It is free; lying beside live cores it can show tens of volts on a sensitive meter.",
        "The neutral that is borrowed can be put right with it; until then leave it in a terminal of its own at both "
        "ends, insulated.")
    assert told["W6/2"] == told["W4/1"]  # it can bring the line of circuit 6 to the switch


def test_where_a_line_runs_alone_in_conduit_it_is_asked_whether_that_is_of_steel():
    """BS 7671 521.5.1: in ferrous enclosures line and neutral run together (from memory)."""
    cures = {}
    for name in ("two-way-line-at-switch", "two-way-line-at-switch-current"):
        text = (Path(__file__).parents[2] / "examples" / f"{name}.yaml").read_text(encoding="utf-8")
        cures[name] = next(f.advice for f in judged(text)[1].findings if f.rule == "wide_loop")
    assert cures["two-way-line-at-switch-current"].startswith(
        "See whether what it runs in (conduit) is of steel: there line and neutral must be brought into one enclosure. "
        "Where it is rewired")
    assert cures["two-way-line-at-switch"].startswith("Where it is rewired"), "no conduit, no steel"


@pytest.mark.parametrize(("told", "first"), [
    ("steel conduit", "Bring line and neutral into one enclosure: what it runs in (steel conduit) is of steel. Where"),
    ("PVC conduit", "Where it is rewired"),
])
def test_of_what_is_told_to_be_of_steel_or_of_plastic_nothing_is_asked(told, first):
    text = (Path(__file__).parents[2] / "examples" / "two-way-line-at-switch-current.yaml").read_text(encoding="utf-8")
    found = judged(text.replace("in: conduit", f"in: {told}"))[1].findings
    assert next(f.advice for f in found if f.rule == "wide_loop").startswith(first)
