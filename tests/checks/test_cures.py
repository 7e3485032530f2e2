"""Cures that are found by trying: each one named is tried here, and is a cure."""

from __future__ import annotations

import pytest
from circuits import SETS, Circuit, core_at, loop_in, with_end
from houses import house
from judged import findings, of, one_room, only, plus

from sheetgen.circuit.circuit import circuit_of
from sheetgen.judge.cures import with_cures
from sheetgen.judge.judging import case_of, noticed
from sheetgen.model.reading import Gravity
from sheetgen.pipeline import judged, wiring_of


def test_all_blacks_on_the_neutral_of_a_rose_is_one_fault_with_its_cure():
    wiring = one_room(loop_in)
    wrong = with_end(wiring, core_at(wiring, "W3/2"), 0, "N")
    found = [f for f in findings(wrong) if f.rule not in ("unmarked", "wrong_sleeve")]
    assert [f.rule for f in found] == ["short"]
    move = "Move the blue core of W3 from Study N to Study SL"
    assert found[0].cure == f"{move} (worked out, not tried on site)."
    assert "Keep the circuit off until this is mended." in found[0].means
    assert findings(with_end(wrong, core_at(wrong, "W3/2"), 0, "SL")) == ()


def test_a_switched_line_on_the_loop_is_moved_and_not_called_broken():
    wiring = one_room(loop_in)
    wrong = with_end(wiring, core_at(wiring, "W3/2"), 0, "loop")
    found = only("never_lit", wrong)
    assert found.says == "Study lamp is on in no setting: no line reaches it."
    assert found.cure.startswith("Move the blue core of W3 from Study loop to Study SL")


def test_a_lamp_never_off_is_cured_by_a_move_where_there_is_one():
    c = Circuit()
    c.way()
    c.put("Door", "one-way switch", connectors=["N"])
    c.put("Porch", "batten lampholder")
    c.twin("way 1", "Door", ("L", "COM"), ("N", "N"))
    c.twin("Door", "Porch", ("L1", "L"), ("N", "N"))
    good = c.wiring()
    assert findings(good) == ()
    wrong = with_end(good, core_at(good, "W2/1"), 0, "COM")
    assert only("bridged_switch", wrong).gravity is Gravity.PUT_RIGHT and of("never_off", wrong) == []
    bridged = plus(good, ("Door", "COM"), ("Door", "L1"))
    assert only("never_off", bridged).cure == "Take out the link X1 in Door (worked out, not tried on site)."


def test_a_broken_neutral_is_one_finding_and_its_cure_lights_the_lamp():
    wiring = one_room(loop_in)
    wrong = with_end(wiring, core_at(wiring, "W2/2"), 1, None)
    (found,) = findings(wrong)
    assert (found.rule, found.gravity, found.accessory) == ("off_but_live", Gravity.DANGER, "Study lamp")
    assert "The blue core of W2 from circuit 1 N ends in nothing in Study." in found.means
    assert found.setting == "Study door on"
    assert found.cure == "Put the blue core of W2 on Study N (worked out, not tried on site)."
    assert findings(with_end(wrong, core_at(wrong, "W2/2"), 1, "N")) == ()


def test_a_loose_switched_line_is_one_finding_with_its_terminal():
    wiring = one_room(loop_in)
    wrong = with_end(wiring, core_at(wiring, "W3/2"), 0, None)
    (found,) = [f for f in findings(wrong) if f.rule != "unmarked"]
    assert found.rule == "loose_core" and "Study lamp is on in no setting: no line reaches it." in found.means
    assert found.cure.startswith("Put the blue core of W3 on Study SL")
    assert of("never_lit", wrong) == []


def test_a_neutral_broken_in_a_large_house_is_read_without_delay():
    """Sixteen lamps behind the break depend on one another; the cover of the insulation test must not try them all."""
    wiring = wiring_of(house(20))
    wrong = with_end(wiring, core_at(wiring, "W5/2"), 0, None)
    assert next(f.gravity for f in findings(wrong)) is Gravity.DANGER


def test_the_search_ends_when_so_many_settings_were_solved(monkeypatch):
    """A change may join groups, and their settings multiply: 54,000 were solved for a house of three rooms."""
    wiring = one_room(loop_in)
    wrong = with_end(wiring, core_at(wiring, "W3/2"), 0, None)
    solved: list[int] = []

    def solves(changed):
        circuit = circuit_of(changed)
        solved.append(sum(len(group.rows) for group in circuit.solution.groups))
        return circuit

    monkeypatch.setattr("sheetgen.judge.cures.circuit_of", solves)
    case = case_of(circuit_of(wrong), SETS)
    found = tuple(noticed(case))
    with_cures(case, found, lambda circuit: case_of(circuit, SETS), noticed)
    assert solved == [3, 3, 2]
    solved.clear()
    monkeypatch.setattr("sheetgen.judge.cures.MOST_SOLVED", 4)
    with_cures(case, found, lambda circuit: case_of(circuit, SETS), noticed)
    assert solved == [3, 3]


def test_what_hangs_loose_is_put_nowhere_while_a_switch_moves_a_conductor_between_line_and_neutral():
    text = """\
job: Two-way
colours: current
accessories:
  Foot: {kind: two-way switch}
  Top: {kind: two-way switch}
  Light: {kind: light fitting, class: II}
cables:
  W1: {type: twin, from: way 1, to: Foot, cores: {BN: [L, L1], BU: [N, L2]}}
  W2: {type: three-core and earth, from: Foot, to: Top,
       cores: {BN: [L1, L1], BK: [nothing, L2], GY: [COM, nothing], cpc: [E, E]}}
  W3: {type: twin, from: Foot, to: Light, cores: {BN: [COM, L], BU: [nothing, nothing]}}
  W4: {type: twin, from: Top, to: Light, cores: {BN: [nothing, nothing], BU: [COM, N]}}
"""
    found = judged(text)[1].findings
    assert "alternate_polarity" in {f.rule for f in found}
    loose = [f for f in found if f.rule == "loose_core"]
    assert len(loose) == 4 and not any(f.cures for f in loose)
    sound = text.replace("BU: [N, L2]", "BU: [N, nothing]").replace("BU: [COM, N]", "BU: [nothing, N]")
    assert "alternate_polarity" not in {f.rule for f in judged(sound)[1].findings}


SHORT_BETWEEN_TWO = """\
job: A link too many
colours: current
accessories:
  Box: {kind: joint box, terminals: [L, N, SL, E]}
  Switch: {kind: one-way switch}
  Light: {kind: light fitting, class: II}
  Spare: {kind: joint box, terminals: [1]}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Box, cores: {BN: [L, L], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Box, to: Switch, cores: {BN: [L, COM], BU: [SL, L1], cpc: [E, E]}, sleeved: [BU]}
  W3: {type: twin and earth 1.0, from: Box, to: Light, cores: {BN: [SL, L], BU: [N, N], cpc: [E, nothing]}}
  W4: {type: unsheathed single 1.0, from: Box, to: Spare, cores: {BN: [L, 1]}, in: conduit}
  W5: {type: unsheathed single 1.0, from: Spare, to: Box, cores: {BU: [1, N]}, in: conduit}
"""


def test_a_single_between_two_accessories_is_offered_once_to_be_taken_out():
    short = only("short", wiring_of(SHORT_BETWEEN_TWO))
    assert sorted(cure.says for cure in short.cures) == [
        "take out the single W4 between Box and Spare", "take out the single W5 between Spare and Box"]


def test_a_core_on_an_earth_is_put_nowhere_while_a_switch_moves_a_conductor_between_line_and_neutral():
    text = """\
job: Two-way
colours: current
accessories:
  Foot: {kind: two-way switch}
  Top: {kind: two-way switch}
  Light: {kind: light fitting, class: II}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Foot, cores: {BN: [L, L1], BU: [N, L2], cpc: [E, E]}}
  W2: {type: three-core and earth 1.0, from: Foot, to: Top,
       cores: {BN: [L1, L1], BK: [L2, E], GY: [COM, nothing], cpc: [E, E]}}
  W3: {type: unsheathed single 1.0, from: Foot, to: Light, cores: {BN: [COM, L]}, in: conduit}
  W4: {type: unsheathed single 1.0, from: Top, to: Light, cores: {BU: [COM, N]}, in: conduit}
"""
    assert of("alternate_polarity", wiring_of(text))
    assert not only("neutral_earth", wiring_of(text)).cures


def test_a_sleeve_that_is_no_longer_needed_is_taken_off_not_covered_in_the_core_s_own_colour():
    text = """\
job: A fan fed with line on its neutral
colours: legacy
accessories:
  Rose: {kind: ceiling rose, lamp: 8 W}
  Switch: {kind: one-way switch}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Rose, cores: {RD: [L, loop], BK: [N, N], cpc: [E, E]}, sleeved: [BK]}
  W2: {type: twin and earth 1.0, from: Rose, to: Switch,
       cores: {RD: [loop, COM], BK: [SL, L1], cpc: [E, E]}, sleeved: [BK]}
  W3: {type: unsheathed single 1.0, from: way 1, to: Rose, cores: {RD: [L, N]}, in: conduit}
"""
    short = only("short", wiring_of(text))
    assert short.cures[0].says == (
        "take out the single W3 between circuit 1 and Rose and take the sleeve off the black core of W1 at both ends")


def test_a_loose_core_is_put_nowhere_while_a_neutral_is_joined_to_earth():
    """The switch would then part the neutral."""
    text = """\
job: A rose with its neutral on the loop
board: {earthing: TN-S, ways: {1: {serves: Lights, device: type B 6 A, rcd: 30 mA}}}
colours: current
accessories:
  Rose: {kind: ceiling rose, lamp: 8 W}
  Switch: {kind: one-way switch}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Rose, cores: {BN: [L, SL], BU: [N, loop], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Rose, to: Switch, cores: {BN: [loop, COM], BU: [N, nothing], cpc: [E, L1]}}
"""
    assert [f.rule for f in findings(wiring_of(text)) if f.cures] == ["off_but_live"]
    assert not only("loose_core", wiring_of(text)).cures


STAIRS = """
job: Stairs
board:
  ways: {1: {device: type B 6 A}, 2: {device: type B 6 A}}
colours: current
accessories:
  Cellar: {kind: ceiling rose, lamp: 8 W}
  Cellar switch: {kind: one-way switch}
  Stairs: {kind: ceiling rose, lamp: 8 W}
  Stairs switch: {kind: one-way switch}
cables:
  W1: {type: twin and earth 1.0, from: way 2, to: Cellar, cores: {BN: [L, loop], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Cellar, to: Cellar switch, cores: {BN: [loop, COM], BU: [SL, L1], cpc: [E, E]},
       sleeved: [BU]}
  W3: {type: twin and earth 1.0, from: way 1, to: Stairs, cores: {BN: [L, loop], BU: [N, nothing], cpc: [E, E]}}
  W4: {type: twin and earth 1.0, from: Stairs, to: Stairs switch, cores: {BN: [loop, COM], BU: [SL, L1], cpc: [E, E]},
       sleeved: [BU]}
"""
SINGLE = "  W5: {type: single 1.0, from: Cellar, to: Stairs, cores: {BU: [N, N]}}\n"
TWIN = ("  W5: {type: twin and earth 1.0, from: Cellar, to: Stairs, "
        "cores: {BN: [nothing, nothing], BU: [N, N], cpc: [E, E]}}\n")


@pytest.mark.parametrize(("cable", "off"), [
    (SINGLE, "Take out the single W5 between Cellar and Stairs"),
    (TWIN, "Take the blue core of W5 off Stairs N and Cellar N (each end into a connector of its own)"),
])
def test_the_neutral_of_another_circuit_comes_off_before_a_loose_one_is_put_in_its_place(cable, off):
    found = findings(wiring_of((STAIRS + cable).encode()))[0]
    assert found.rule == "borrowed_neutral"
    assert found.cure == f"{off} and put the blue core of W3 on Stairs N (worked out, not tried on site)."


def test_without_a_cure_it_is_still_not_said_to_terminate_a_loose_neutral_beside_that_of_another_circuit():
    wiring = wiring_of((STAIRS + SINGLE).encode())
    case = case_of(circuit_of(wiring), SETS)
    (found,) = [f for f in noticed(case) if f.rule == "loose_core"]
    assert found.advice == (
        "First take the blue single W5 off Stairs N: it brings the neutral of circuit 2, and the two must not be "
        "joined. Then terminate this one in its place; or take it off at circuit 1 N.")


def test_a_switch_with_all_on_one_terminal_hides_no_bridged_one_beside_it():
    c = Circuit()
    c.way()
    for name in ("One", "Two"):
        c.put(name, "one-way switch", connectors=["N"])
    c.put("Porch", "batten lampholder")
    c.twin("way 1", "One", ("L", "COM"), ("N", "N"))
    c.twin("One", "Two", ("COM", "COM"), ("N", "N"))
    c.twin("Two", "Porch", ("L1", "L"), ("N", "N"))
    bridged = plus(c.wiring(), ("Two", "COM"), ("Two", "L1"))
    found = only("bridged_switch", bridged)
    assert found.says == "All conductors at One are on One COM: the switch does nothing."
    assert "Conductors bridge Two as well: part them there too." in found.means
    assert "Conductors bridge" not in only("bridged_switch", c.wiring()).means
