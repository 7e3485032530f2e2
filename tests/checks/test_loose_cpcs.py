"""A cpc with a loose end: put on the earth terminal there, as grave as what has no earth without it.

A cpc is brought to every point and accessory of a lighting circuit (BS 7671 411.3.1.1, number from memory); to take one
off at its other end leaves the point without earth for good.
"""

from __future__ import annotations

import pytest

from sheetgen.judge.judging import case_of, noticed
from sheetgen.model.reading import Finding, Gravity
from sheetgen.pipeline import findings_of, judged, style_of

HOUSE = """\
job: A light
board: {{earthing: TN-S, ways: {{1: {{serves: Lights, device: type B 6 A, rcd: 30 mA}}}}}}
colours: current
accessories:
  Box: {{kind: joint box, terminals: [L, N, SL, {box_e}]}}
  Switch: {{kind: one-way switch, metal: {metal}}}
  Light: {{kind: batten lampholder}}
cables:
  W1: {{type: twin and earth 1.0, from: way 1, to: Box, cores: {{BN: [L, L], BU: [N, N], cpc: {w1}}}}}
  W2: {{type: twin and earth 1.0, from: Box, to: Switch, sleeved: [BU],
        cores: {{BN: [L, COM], BU: [SL, L1], cpc: {w2}}}}}
  W3: {{type: twin and earth 1.0, from: Box, to: Light, cores: {{BN: [SL, L], BU: [N, N], cpc: {w3}}}}}
"""
SOUND = {"w1": "[E, E]", "w2": "[E, E]", "w3": "[E, E]", "metal": "no", "box_e": "E"}
TRIED = " (worked out, not tried on site)."


def text(**changes: str) -> bytes:
    return HOUSE.format(**{**SOUND, **changes}).encode()


def only(**changes: str) -> Finding:
    (found,) = findings_of(text(**changes))
    return found


def test_sound_it_has_no_finding() -> None:
    assert findings_of(text()) == ()


@pytest.mark.parametrize(("metal", "gravity", "says"), [
    ("no", Gravity.PUT_RIGHT, "No cpc is joined to Switch."),
    ("yes", Gravity.DANGER, "No cpc is joined to Switch E, whose metal needs one.")])
def test_the_loose_core_in_the_box_is_the_cure_of_the_missing_earth(metal: str, gravity: Gravity, says: str) -> None:
    found = only(w2="[E, nothing]", metal=metal)
    assert (found.rule, found.gravity, found.says) == ("no_cpc", gravity, says)
    assert found.cure == (
        f"Put the bare core of W2 on Switch E and sleeve the bare core of W2 green-and-yellow at Switch{TRIED}")
    assert found.means.endswith("The bare core of W2 from Box E ends in nothing in Switch.")


@pytest.mark.parametrize(("w1", "where"), [
    ("[E, nothing]", "Box E and sleeve the bare core of W1 green-and-yellow at Box"),
    ("[nothing, E]", "circuit 1 E and sleeve the bare core of W1 green-and-yellow at circuit 1"),
    ("[nothing, nothing]",
     "circuit 1 E and Box E and sleeve the bare core of W1 green-and-yellow at both ends")])
def test_what_hangs_on_a_cpc_that_is_loose_gets_its_earth_by_it(w1: str, where: str) -> None:
    found = only(w1=w1)
    assert (found.rule, found.gravity) == ("cpc_interrupted", Gravity.PUT_RIGHT)
    assert found.says == "The cpc at Box, Switch and Light does not reach the earth of the board."
    assert found.cure == f"Put the bare core of W1 on {where}{TRIED}"


def alone(**changes: str) -> dict[str, Finding]:
    """Every finding by its rule, before cures are looked for."""
    circuit, _ = judged(text(**changes))
    return {finding.rule: finding for finding in noticed(case_of(circuit, style_of().sets))}


@pytest.mark.parametrize(("metal", "gravity"), [("no", Gravity.PUT_RIGHT), ("yes", Gravity.DANGER)])
def test_before_cures_are_looked_for_it_is_as_grave_and_is_not_to_be_taken_off(metal: str, gravity: Gravity) -> None:
    found = alone(w2="[E, nothing]", metal=metal)
    loose, missing = found["loose_core"], found["no_cpc"]
    assert loose.gravity is missing.gravity is gravity
    assert loose.advice == "Put it on Switch E." and missing.advice == "Put the bare core of W2 on Switch E."
    assert loose.means == "No cpc brings earth to Switch."


def test_of_a_piece_cut_off_everything_that_has_no_earth_is_named() -> None:
    found = alone(w1="[nothing, E]")
    assert found["loose_core"].means == "No cpc brings earth to Box, Switch and Light."
    assert found["loose_core"].advice == "Put it on circuit 1 E."
    assert found["cpc_interrupted"].advice == (
        "Put the bare core of W1 on circuit 1 E, and test its continuity to every point.")


def test_where_no_core_lies_loose_the_break_is_to_be_found() -> None:
    no_core = text().replace(b"W2: {type: twin and earth 1.0", b"W2: {type: twin 1.0")
    found = findings_of(no_core.replace(b"BU: [SL, L1], cpc: [E, E]", b"BU: [SL, L1]"))
    assert [f.advice for f in found if f.rule == "no_cpc"] == [
        "Bring a cpc to Switch; until then keep a notice at the board."]


SECOND = """\
  W4: {type: single 1.0, from: Light, to: Switch, cores: {cpc: [E, E]}}
"""


def test_where_another_cpc_earths_what_is_there_it_may_be_taken_off() -> None:
    (found,) = [f for f in findings_of(text(w2="[E, nothing]") + SECOND.encode()) if f.rule == "loose_core"]
    assert found.gravity is Gravity.NOTE and found.means == "What is there is earthed without it."
    assert found.cure == "Terminate it there, or take it off at the other end."


def test_a_box_without_an_earth_terminal_takes_it_where_its_cpcs_are() -> None:
    found = only(box_e="4", w1="[E, nothing]", w2="['4', E]", w3="['4', E]")
    assert found.cure.startswith("Put the bare core of W1 on Box 4 and sleeve")


def test_a_terminal_that_is_not_at_earth_is_put_right_first() -> None:
    """The earth terminal of the switch has the line on it: the cpc put there would be a short."""
    live = text(w2="[E, nothing]").replace(b"BN: [L, COM]", b"BN: [L, E]")
    found = {f.rule: f for f in findings_of(live)}
    assert found["loose_core"].cure == (
        "Find out what else is joined to both ends and put that right; then put it on Switch E.")
    assert not found["loose_core"].cures


def test_where_all_cpcs_lie_loose_in_a_box_none_is_to_be_taken_off() -> None:
    loose = text(w1="[E, nothing]", w2="[nothing, E]", w3="[nothing, E]").replace(b"SL, E]", b"SL]")
    found = {f.core: f.cure for f in findings_of(loose) if f.rule == "loose_core"}
    assert found == {"W1/3": "Join it there to the bare core of W2 and the bare core of W3.",
                     "W2/3": "Join it there to a cpc that is earthed.",
                     "W3/3": "Join it there to a cpc that is earthed."}


def test_a_cpc_of_another_circuit_is_not_put_where_it_would_be_one_of_another_circuit() -> None:
    """That is a fault of its own: whoever takes the one circuit out of use takes the earth from the other."""
    two = text(metal="yes").replace(b"W2: {type: twin and earth 1.0", b"W2: {type: twin 1.0").replace(
        b"BU: [SL, L1], cpc: [E, E]", b"BU: [SL, L1]")
    two = two.replace(b"ways: {1:", b"ways: {2: {serves: Porch}, 1:").replace(
        b"  Light:", b"  Porch: {kind: batten lampholder}\n  Light:")
    two += (b"  W4: {type: twin and earth 1.0, from: way 2, to: Porch, cores: {BN: [L, L], BU: [N, N], cpc: [E, E]}}\n"
            b"  W5: {type: single 1.0, from: Porch, to: Switch, in: conduit, cores: {cpc: [E, %s]}}\n")
    assert "cpc_of_another_way" in {f.rule for f in findings_of(two % b"E")}
    found = {f.rule: f for f in findings_of(two % b"nothing")}
    assert found["no_cpc"].cure == "Bring a cpc to Switch, or fit one of class II or all-insulated instead."
    assert found["loose_core"].cure == (
        "It comes from another circuit than the lines there: bring a cpc with those, and take this one off.")


def test_of_a_core_whose_fellows_are_not_known_nothing_is_said_to_be_missing() -> None:
    found = findings_of(text(w2="[E, nothing]") + (SECOND.replace("[E, E]", "['?', E]")).encode())
    (loose,) = [f for f in found if f.rule == "loose_core"]
    assert loose.gravity is Gravity.NOTE
    assert loose.means == "Whatever it should serve there has no cpc, as far as is known."
    assert loose.advice.endswith("then put it on Switch E.")
