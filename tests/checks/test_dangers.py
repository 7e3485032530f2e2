"""Each rule that finds a danger, on a circuit that breaks it and on one that nearly does."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from circuits import (
    Circuit,
    Feed,
    alternate,
    at_the_switch,
    core_at,
    loop_in,
    strappers,
    switched_neutral,
    with_end,
)
from judged import (
    findings,
    of,
    one_room,
    only,
    plus,
    two_ways,
    without_core,
    without_cpc,
)
from pages.jobs import example

from sheetgen.model.reading import Gravity
from sheetgen.pipeline import judged, wiring_of

F = Fraction


def test_short_in_one_setting_names_path_and_setting():
    found = only("short", plus(one_room(loop_in), ("Study", "SL"), ("Study", "N")))
    assert found.gravity is Gravity.DANGER
    assert "circuit 1 (Lights)" in found.says and "to neutral in 1 of 2 settings" in found.says
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


def test_an_earth_terminal_at_neutral_in_one_position_and_at_line_in_the_other_is_told_at_line():
    text = """\
job: A light between two changeovers
colours: current
accessories:
  Foot: {kind: two-way switch}
  Light: {kind: light fitting, class: II}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Foot, cores: {BN: [N, L1], BU: [L, L2], cpc: [E, E]}}
  W2: {type: unsheathed single 1.0, from: Foot, to: Light, cores: {BU: [COM, E]}, in: conduit}
"""
    found = only("earth_terminal_live", wiring_of(text))
    assert found.says == "The earth terminal Light E is at line." and found.gravity is Gravity.DANGER
    assert found.setting == "Foot at L2"



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
    assert found.says == (
        "Landing takes its line from circuit 5 (Downstairs) and returns its neutral to circuit 6 (Upstairs).")
    assert "Isolate circuit 5 (Downstairs) and circuit 6 (Upstairs) before work here" in found.cure
    assert (found.gravity, found.setting, found.clause) == (Gravity.DANGER, "Door on", "BS 7671 314.4")
    assert of("wide_loop", c.wiring()) == []  # said already
    assert [f.accessory for f in of("two_ways", c.wiring())] == ["Landing"]


def test_a_borrowed_neutral_names_the_conductor_that_brings_the_wrong_line_and_the_cores_that_are_there_already():
    found = next(f for f in example("landing-borrowed-neutral").reading.findings if f.rule == "borrowed_neutral")
    assert found.cure == (
        "Isolate circuit 5 (Downstairs lights) and circuit 6 (Upstairs lights) before work here, and feed the lamp's "
        "line and neutral from one circuit. Its line leaves circuit 5 at Hall light COM, by the red single W3: take "
        "that off there before another line is brought in. The line of circuit 6 is at Landing loop: the free black "
        "core of W6 can take it to Top. For two-way switching use the three cores between the switches: W4 has them, "
        "its red core free.")
    free = [f for f in example("landing-borrowed-neutral").reading.findings if f.rule == "loose_core"]
    assert {f.says.split(" is ")[0] for f in free} == {"The red core of W4", "The black core of W6"}
    assert {f.cure for f in free} == {
        "The neutral that is borrowed can be put right with it; until then leave it in a terminal of its own at both "
        "ends, insulated."}


def test_the_line_of_a_borrowed_neutral_leaves_its_circuit_where_that_goes_on():
    c = two_ways()
    c.put("Box", "joint box", terminals=["L", "N", "SL", "E"])
    c.put("Study", "batten lampholder")
    c.put("Landing", "batten lampholder")
    c.put("Door", "one-way switch")
    c.twin("way 5", "Box", ("L", "L"), ("N", "N"))
    c.twin("Box", "Study", ("L", "L"), ("N", "N"))
    c.single("Box", "L", "Door", "COM")
    c.single("Door", "L1", "Landing", "L")
    c.neutral("way 6", "N", "Landing", "N")
    found = next(f for f in findings(c.wiring()) if f.rule == "borrowed_neutral")
    assert found.cure.endswith("from one circuit. Its line leaves circuit 5 at Box L, by the brown single W3: take "
                               "that off there before another line is brought in.")


def test_neutrals_of_two_ways_joined():
    c = two_ways()
    loop_in(c, loop_in(c, Feed("way 5"), "Study"), "Hall")
    loop_in(c, Feed("way 6"), "Landing")
    found = only("borrowed_neutral", plus(c.wiring(), ("Hall", "N"), ("Landing", "N")))
    assert found.says == "The neutrals of circuit 5 (Downstairs) and circuit 6 (Upstairs) are joined, at Study N."


def test_switched_lines_of_two_ways_joined():
    c = two_ways()
    loop_in(c, Feed("way 5"), "Study")
    loop_in(c, Feed("way 6"), "Hall")
    found = only("linked_lines", plus(c.wiring(), ("Study", "SL"), ("Hall", "SL")))
    assert found.gravity is Gravity.DANGER and "circuit 5 (Downstairs) and circuit 6 (Upstairs)" in found.says
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
    assert [(f.accessory, f.terminal) for f in found] == [("Study 1", "COM")]  # one fault of both switches, said once
    assert of("off_but_live", one_room(alternate)) == []


def test_a_lost_neutral_leaves_the_lamp_off_but_live():
    wiring = one_room(loop_in)
    found = only("off_but_live", without_core(wiring, "W2/2"))
    assert found.setting == "Study door on" and "neutral of Study lamp is broken" in found.cure
    both = with_end(wiring, core_at(wiring, "W1/2"), 0, "loop")
    move = "Move the blue core of W1 from Study loop to Study N"
    assert only("off_but_live", both).cure == f"{move} (worked out, not tried on site)."


@pytest.mark.parametrize(("cap", "metal", "count", "gravity"), [
    ("screw", "yes", 1, Gravity.PUT_RIGHT), ("screw", "no", 1, Gravity.NOTE), ("bayonet", "no", 0, Gravity.NOTE)])
def test_screw_lampholder_with_line_on_the_outer_contact(cap, metal, count, gravity):
    """E14 and E27 holders to BS EN 60238 are exempt from 559.5.1.206; old all-metal ones are what is feared."""
    c = Circuit()
    c.way()
    c.put("Porch", "batten lampholder", cap=cap)
    if metal == "yes":
        kind = c.accessories[-1].kind
        c.accessories[-1] = replace(c.accessories[-1], kind=replace(kind, flags=kind.flags | {"metal"}))
    c.twin("way 1", "Porch", ("L", "N"), ("N", "L"))
    found = of("screw_outer_line", c.wiring())
    assert len(found) == count and all(f.terminal == "N" and f.gravity is gravity for f in found)
    assert len(of("wrong_terminal", c.wiring())) == 1 - count  # said once


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


def test_the_motor_behind_a_timer_is_no_contact_that_a_switch_moves():
    text = """\
job: Fan
colours: current
accessories:
  Fan: {kind: timer fan}
cables:
  W1: {type: twin, from: way 1, to: Fan, cores: {BN: [L, L], BU: [N, N]}}
  W2: {type: unsheathed single, from: Fan, to: Fan, cores: {BU: [SL, N]}}
"""
    assert [f.rule for f in judged(text)[1].findings if f.gravity is Gravity.DANGER] == []


IN_TURN = """\
job: Two lamps in turn
board: {ways: {1: {serves: Lights}, 2: {serves: Lights}}}
colours: current
accessories:
  R1 switch: {kind: one-way switch, connectors: [joint]}
  R1 light: {kind: batten lampholder, lamp: 6 W}
  R2 switch: {kind: one-way switch}
  R2 light a: {kind: light fitting, lamp: 6 W, class: II}
  R2 light b: {kind: batten lampholder, lamp: 6 W}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: R1 switch, cores: {BN: [L, COM], BU: [N, joint], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: R1 switch, to: R1 light, cores: {BN: [L1, L], BU: [joint, N], cpc: [E, E]}}
  W3: {type: unsheathed single 1.0, from: way 2, to: R2 switch, cores: {BN: [L, COM]}}
  W4: {type: unsheathed single 1.0, from: R2 switch, to: R2 light a, cores: {BN: [L1, L]}}
  W5: {type: unsheathed single 1.0, from: R2 light a, to: R2 light b, cores: {BN: [N, L]}}
  W7: {type: unsheathed single 1.0, from: R2 light b, to: R1 light, cores: {BU: [N, N]}, in: conduit}
"""


def test_lamps_in_turn_between_the_ways_borrow_a_neutral_as_one_does():
    found = [f for f in judged(IN_TURN)[1].findings if f.gravity is Gravity.DANGER]
    assert [f.says for f in found] == [
        f"R2 light {which} takes its line from circuit 2 (Lights) and returns its neutral to circuit 1 (Lights)."
        for which in "ab"]
    home = IN_TURN.replace("W7: {type: unsheathed single 1.0, from: R2 light b, to: R1 light, cores: {BU: [N, N]}",
                           "W7: {type: unsheathed single 1.0, from: R2 light b, to: way 2, cores: {BU: [N, N]}")
    assert home != IN_TURN and not [f for f in judged(home)[1].findings if f.gravity is Gravity.DANGER]
