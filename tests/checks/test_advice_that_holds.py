"""Advice that can be followed: where the fault is, once for each fault, and nothing that another advice undoes.

An RCD may open from half its rated residual current on and has to at the whole of it (BS EN 61008-1): at 230 V one of
30 mA may from 3.45 W on and has to from 6.9 W on; one of 100 mA may from 11.5 W on.
"""

from __future__ import annotations

import pytest
from pages.jobs import says

from sheetgen.circuit import circuit_of
from sheetgen.circuit.edits import edited
from sheetgen.judge.in_danger import in_danger
from sheetgen.judge.judging import judge
from sheetgen.model.job import Job
from sheetgen.model.reading import Finding, Gravity
from sheetgen.pages.findings import compose
from sheetgen.pages.lookup import Lookup
from sheetgen.pipeline import findings_of, style_of, understood

PLATE = """\
job: Hall plate
board: {earthing: TN-S, ways: {1: {device: type B 6 A, rcd: 30 mA}, 2: {device: type B 6 A, rcd: 30 mA}}}
colours: current
accessories:
  Hall: {kind: ceiling rose, lamp: 10 W}
  Landing: {kind: ceiling rose, lamp: 10 W}
  Plate: {kind: 2 gang 1 way}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Hall, cores: {BN: [L, loop], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Hall, to: Plate, cores: {BN: [loop, 1 COM], BU: [SL, 1 L1], cpc: [E, E]},
       sleeved: [BU]}
  W3: {type: twin and earth 1.0, from: way 2, to: Landing, cores: {BN: [L, loop], BU: [N, N], cpc: [E, E]}}
  W4: {type: twin and earth 1.0, from: Landing, to: Plate, cores: {BN: [loop, 2 COM], BU: [SL, 2 L1], cpc: [E, E]},
       sleeved: [BU]}
  W5: {type: single 1.0, from: Plate, to: Plate, cores: {BN: [1 COM, 2 COM]}}
"""
SHED = """\
job: Shed
board: {earthing: TT, ways: {8: {device: type B 6 A, rcd: 30 mA}}}
colours: current
accessories:
  Switch: {kind: one-way switch, connectors: [N joint]}
  Shed: {kind: light fitting, class: I, lamp: 20 W}
  Porch: {kind: light fitting, class: I, lamp: 20 W}
cables:
  W1: {type: twin and earth 1.5, from: way 8, to: Switch, cores: {BN: [L, COM], BU: [N, N joint], cpc: [E, E]}}
  W2: {type: twin and earth 1.5, from: Switch, to: Shed, cores: {BN: [L1, L], BU: [N joint, N], cpc: [E, E]}}
  W3: {type: twin and earth 1.5, from: Shed, to: Porch, cores: {BN: [L, L], BU: [E, N], cpc: [N, E]}}
"""
BETWEEN_COMMONS = """\
job: Stairs
board: {earthing: TN-S, ways: {2: {device: type B 6 A, rcd: 30 mA}}}
colours: current
accessories:
  Stairs: {kind: batten lampholder, lamp: 25 W}
  Bottom: {kind: two-way switch}
  Top: {kind: two-way switch}
cables:
  W1: {type: twin and earth 1.0, from: way 2, to: Bottom, cores: {BN: [L, L1], BU: [N, L2], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Bottom, to: Top, cores: {BN: [L1, L1], BU: [L2, L2], cpc: [E, E]}}
  W3: {type: single 1.0, from: Bottom, to: Stairs, cores: {BN: [COM, L]}}
  W4: {type: single 1.0, from: Top, to: Stairs, cores: {BN: [COM, N]}}
"""
PORCH = """\
job: Porch
board: {earthing: TN-S, ways: {1: {device: type B 6 A, rcd: none}, 3: {device: type B 6 A, rcd: RCD 3}}}
colours: current
accessories:
  Door: {kind: one-way switch}
  Porch: {kind: light fitting, class: I, lamp: 8 W}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Door, cores: {BN: [L, COM], BU: [nothing, nothing], cpc: [E, E]}}
  W2: {type: single 1.0, from: Door, to: Porch, cores: {BN: [L1, L]}}
  W3: {type: twin and earth 1.0, from: way 3, to: Porch, cores: {BN: [nothing, nothing], BU: [N, N], cpc: [E, E]}}
"""
STAIRS = """\
job: Stairs
board: {earthing: TN-S, ways: {1: {device: type B 6 A, rcd: 30 mA}, 2: {device: type B 6 A, rcd: 30 mA}}}
colours: current
accessories:
  Landing: {kind: ceiling rose, lamp: 10 W}
  Bottom: {kind: two-way switch}
  Top: {kind: two-way switch}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Bottom, cores: {BN: [L, COM], BU: [nothing, nothing], cpc: [E, E]}}
  W3: {type: twin and earth 1.0, from: way 2, to: Landing, cores: {BN: [L, loop], BU: [N, N], cpc: [E, E]}}
  W4: {type: twin and earth 1.0, from: Landing, to: Top, cores: {BN: [loop, nothing], BU: [SL, COM], cpc: [E, E]},
       sleeved: [BU]}
  W5: {type: three-core and earth 1.0, from: Bottom, to: Top,
       cores: {BN: [nothing, nothing], BK: [L1, L1], GY: [L2, L2], cpc: [E, E]}, sleeved: [BK, GY]}
"""
EARTH = """\
job: Wall
board: {earthing: TN-S, ways: {3: {device: type B 6 A, RCD}}}
colours: current
accessories:
  Door: {kind: one-way switch}
  Wall: {kind: light fitting, class: II, lamp: WATTS W}
cables:
  W1: {type: twin and earth 1.0, from: way 3, to: Door, cores: {BN: [L, COM], BU: [nothing, nothing], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Door, to: Wall, cores: {BN: [L1, L], BU: [E, N], cpc: [E, nothing]}}
"""
LAST_CPC = """\
job: Stairs
board: {earthing: TN-S, ways: {2: {device: type B 6 A, rcd: 30 mA}}}
colours: current
accessories:
  Stairs: {kind: ceiling rose, lamp: 8 W}
  Bottom: {kind: two-way switch}
  Top: {kind: two-way switch}
cables:
  W1: {type: twin and earth 1.0, from: way 2, to: Stairs, cores: {BN: [L, loop], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Stairs, to: Bottom, cores: {BN: [loop, L1], BU: [SL, L2], cpc: [E, E]},
       sleeved: [BU]}
  W3: {type: twin and earth 1.0, from: Bottom, to: Top, cores: {BN: [COM, COM], BU: [L1, L1], cpc: [L2, L2]},
       sleeved: [BU]}
"""
SHORTED = """\
job: Study
board: {earthing: TN-S, ways: {2: {device: type B 6 A, rcd: 30 mA}}}
colours: current
accessories:
  Study: {kind: ceiling rose, lamp: 10 W}
  Door: {kind: one-way switch}
cables:
  W1: {type: twin and earth 1.0, from: way 2, to: Study, cores: {BN: [L, loop], BU: [N, N], cpc: [E, E]}}
  F1: {type: two-core flex 0.75, from: Study, to: Study lamp, cores: {BN: [loop, L], BU: [SL, N]}}
  W2: {type: twin and earth 1.0, from: Study, to: Door, cores: {BN: [N, COM], BU: [SL, L1], cpc: [E, E]},
       sleeved: [BU]}
"""
CROSSED = """\
job: Kitchen
board: {earthing: TN-S, ways: {5: {device: type B 6 A, rcd: 30 mA}}}
colours: current
accessories:
  Box: {kind: joint box, terminals: [L, N, E]}
  Door: {kind: one-way switch, connectors: [N joint]}
  Kitchen: {kind: batten lampholder, lamp: 8 W}
cables:
  W1: {type: twin and earth 1.0, from: way 5, to: Box, cores: {BN: [L, N], BU: [N, L], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Box, to: Door, cores: {BN: [L, COM], BU: [N, N joint], cpc: [E, E]}}
  W3: {type: twin and earth 1.0, from: Door, to: Kitchen, cores: {BN: [L1, L], BU: [N joint, N], cpc: [E, E]}}
"""
FAR = """\
job: Annexe
board: {earthing: TT, ze: 95 ohm, ways: {7: {device: type B 6 A, rcd: none}}}
colours: current
accessories:
  Door: {kind: one-way switch, connectors: [N joint]}
  Annexe: {kind: light fitting, class: II, lamp: 8 W}
cables:
  W1: {type: twin and earth 1.0, from: way 7, to: Door, length: 5 m,
       cores: {BN: [L, COM], BU: [N, N joint], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Door, to: Annexe, length: 5 m,
       cores: {BN: [L1, L], BU: [N joint, N], cpc: [E, E]}}
"""


def lookup(text: str) -> Lookup:
    return Lookup(Job(*understood(text.encode()), sets=style_of().sets, source="it.yaml", fingerprint="0123abcd"))


def of(rule: str, text: str) -> list[Finding]:
    return [f for f in findings_of(text.encode()) if f.rule == rule]


def test_lines_that_are_joined_stay_live_and_are_marked_where_the_link_is() -> None:
    found = lookup(PLATE)
    (linked,) = [f for f in found.job.reading.findings if f.rule == "linked_lines"]
    assert linked.says == "Lines of circuit 1 and circuit 2 reach Plate 1 1 COM."
    assert linked.means.startswith(
        "With one of these circuits switched off its conductors stay live from the other, however the switches stand: "
        "neither can be proved dead alone.")
    assert in_danger(found.job.reading, found.wiring) == {"Plate"}
    assert "Before a hand goes into Plate, or another box of circuits 1 and 2" in says(compose(found)[0])


def test_lines_that_a_switch_joins_prove_dead_and_go_live() -> None:
    (linked,) = of("linked_lines", PLATE.replace("[1 COM, 2 COM]", "[1 L1, 2 L1]"))
    assert linked.means.startswith("With one of these circuits switched off its conductors can prove dead and yet go "
                                   "live from the other, when a switch is operated.")


def test_a_cpc_exchanged_with_a_neutral_is_one_fault_and_its_cure_leaves_every_light_earthed() -> None:
    (found,) = [f for f in findings_of(SHED.encode()) if f.gravity is Gravity.DANGER]
    assert {f.rule for f in found.also} >= {"earth_return", "earth_terminal_live"}
    assert found.cure == (
        "Exchange the bare core of W3 on Shed N and the blue core of W3 on Shed E and sleeve the bare core of W3 "
        "green-and-yellow at Shed (worked out, not tried on site).")
    wiring = edited(lookup(SHED).wiring, found.cures[0].edits)
    assert judge(circuit_of(wiring), style_of().sets).findings == ()
    at = {end.accessory: end.terminal for end in wiring.cable("W3").cores[2].ends}
    assert at == {"Shed": "E", "Porch": "E"}


def test_of_a_lamp_between_two_commons_the_switches_tell_and_no_exchange_is_advised() -> None:
    assert len(of("alternate_polarity", BETWEEN_COMMONS)) == 1 and of("wrong_terminal", BETWEEN_COMMONS) == []


def test_whoever_takes_a_borrowed_neutral_out_is_told_of_the_only_cpc_that_goes_with_it() -> None:
    (found,) = of("borrowed_neutral", PORCH.replace("RCD 3", "none"))
    assert found.cure.startswith(
        "Isolate circuit 1 and circuit 3 before work here, and feed the lamp's line and neutral from one circuit; the "
        "only cpc at Porch is that of circuit 3: where it is taken out with the neutral, bring a cpc of circuit 1 too.")
    own = PORCH.replace("W2: {type: single 1.0, from: Door, to: Porch, cores: {BN: [L1, L]}}",
                        "W2: {type: twin and earth 1.0, from: Door, to: Porch, "
                        "cores: {BN: [L1, L], BU: [nothing, nothing], cpc: [E, E]}}")
    assert "cpc" not in of("borrowed_neutral", own.replace("RCD 3", "none"))[0].cure


@pytest.mark.parametrize(("rcd", "end"), [
    ("none", "through this lamp."), ("100 mA", "through this lamp."),
    ("30 mA", "through this lamp; an RCD on circuit 3 may trip."),
    ("unknown", "through this lamp; an RCD on circuit 3 may trip.")])
def test_of_a_borrowed_neutral_only_an_rcd_that_its_current_can_move_is_said_to_trip(rcd: str, end: str) -> None:
    (found,) = of("borrowed_neutral", PORCH.replace("RCD 3", rcd))
    assert found.means.split(" Conductors")[0].split(" Line and")[0].endswith(end)


@pytest.mark.parametrize(("rcd", "watts", "end"), [
    ("rcd: none", 20, "live through Wall."), ("rcd: 30 mA", 3, "live through Wall."),
    ("rcd: 30 mA", 5, "live through Wall; an RCD may trip."), ("rcd: 30 mA", 8, "live through Wall; the RCD trips."),
    ("rcd: 100 mA", 8, "live through Wall."), ("rcd: unknown", 8, "live through Wall; an RCD may trip.")])
def test_of_a_current_through_earth_only_an_rcd_that_it_can_move_is_said_to_trip(rcd, watts, end) -> None:
    (found,) = of("earth_return", EARTH.replace("RCD", rcd).replace("WATTS", str(watts)))
    assert end in found.means and ("RCD" in end) is ("RCD" in found.means)


def test_the_line_that_a_borrowed_neutral_needs_is_told_with_it_and_not_taken_off() -> None:
    (borrowed,), loose = of("borrowed_neutral", STAIRS), of("loose_core", STAIRS)
    assert ("The line of circuit 2 comes to Top already: the brown core of W4 ends in nothing there."
            in borrowed.advice)
    (live,) = [f for f in loose if f.core == "W4/1"]
    assert live.gravity is Gravity.DANGER and live.cure == (
        "The neutral that is borrowed can be put right with it; until then terminate it in an insulated connector of "
        "its own.")


def test_conductors_that_make_a_short_are_not_to_be_joined_in_a_connector() -> None:
    shorted = of("crowded_terminal", SHORTED)
    assert {f.advice for f in shorted} == {
        "Put the short right first: one conductor that makes it may be one too many here."}
    twice = SHORTED.replace("BN: [loop, L], BU: [SL, N]", "BN: [SL, L], BU: [N, N]").replace("[N, COM]", "[loop, COM]")
    assert {f.advice for f in of("crowded_terminal", twice)} == {
        "Join some of them in a connector and bring one conductor to the terminal."}


def test_a_cpc_that_is_used_up_and_the_accessory_without_it_are_one_fault() -> None:
    (found,) = [f for f in findings_of(LAST_CPC.encode()) if f.gravity is not Gravity.NOTE]
    assert found.rule == "protective_misused" and [f.rule for f in found.also] == ["no_cpc"]
    assert found.means.endswith("No cpc is joined to Top.")
    assert found.advice == "Use another core or another cable; it may not be marked over. Freed, it is the cpc of Top."


def test_where_no_device_opens_every_point_is_named_and_an_rcd_that_is_not_there_is_not_asked_for() -> None:
    found = lookup(FAR)
    (far,) = [f for f in found.job.reading.findings if f.rule == "zs_limit"]
    assert far.says.startswith("Zs is over the limit at every point: at Annexe it is expected to be 95.36 ohm")
    assert far.says.endswith("It is a TT supply and there is no RCD.")
    assert far.cure == "Have the circuit protected by an RCD."
    assert in_danger(found.job.reading, found.wiring) == {"Door", "Annexe"}
    (asked,) = of("zs_limit", FAR.replace(", rcd: none", ""))
    assert asked.cure == "Have the circuit protected by an RCD; if it is, write it into the description."


def test_a_hand_goes_first_where_the_cure_is_carried_out() -> None:
    found = lookup(CROSSED)
    (danger,) = [f for f in found.job.reading.findings if f.gravity is Gravity.DANGER]
    assert danger.accessory == "Door" and {cure.accessory for cure in danger.cures} == {"Box"}
    assert "Before a hand goes into Box, or another box of circuit 5" in says(compose(found)[0])
