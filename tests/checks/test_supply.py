"""What the check says of the supply, the devices and the figures, and of what it could not judge."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from circuits import Circuit, core_at, loop_in, with_end
from judged import findings, of, one_room, only, with_cables, with_device

from sheetgen import circuit
from sheetgen.judge.figures import reckon
from sheetgen.judge.roles import nets_of, ways_of
from sheetgen.judge.rules import unjudged
from sheetgen.model.reading import Gravity
from sheetgen.model.wiring import Wiring
from sheetgen.solve.wiring_to_solution import wiring_to_solution

F = Fraction


def with_rcd(wiring: Wiring, rcd: Fraction | None) -> Wiring:
    ways = tuple(replace(way, rcd=rcd) for way in wiring.board.ways)
    return replace(wiring, board=replace(wiring.board, ways=ways))


def without_rcd(wiring: Wiring) -> Wiring:
    """As somebody saw: not merely nothing told."""
    ways = tuple(replace(way, rcd=None, no_rcd=True) for way in wiring.board.ways)
    return replace(wiring, board=replace(wiring.board, ways=ways))


def not_judged(wiring: Wiring) -> dict[str, tuple[str, ...]]:
    solution = wiring_to_solution(wiring)
    solved = circuit.Circuit(wiring, solution)
    reached = ways_of(solved, nets_of(solved))
    return unjudged(wiring, reckon(wiring, solution, reached))


def test_tt_without_rcd_is_judged_by_what_opens_the_device():
    wiring = with_cables(with_rcd(one_room(loop_in, ze=F(120), earthing="TT"), None), length=F(10))
    found = only("zs_limit", wiring)
    assert found.gravity is Gravity.DANGER and "no RCD is given" in found.says and "it never opens" in found.means
    # 120 + 20 m x (18.1 + 18.1) milliohm = 120.72 ohm; 230 V / 120.72 ohm = 1.91 A
    assert "120.72 ohm" in found.says and "draws 1.91 A" in found.means
    assert of("no_rcd", wiring) == []  # said already
    assert of("zs_limit", with_rcd(wiring, F(30))) == []  # 1667 ohm


@pytest.mark.parametrize(("ze", "gravity"), [(120, [Gravity.DANGER]), (8, [Gravity.PUT_RIGHT]), (7, [])])
def test_ze_alone_over_the_limit_needs_no_length(ze, gravity):
    """Type B 6 A: 7.28 ohm, Table 41.3; it carries 6 A as long as Zs is over 38.3 ohm."""
    found = of("zs_limit", with_rcd(one_room(loop_in, ze=F(ze), earthing="TT"), None))
    assert [f.gravity for f in found] == gravity and all(f.accessory == "way 1" for f in found)


@pytest.mark.parametrize(("ze", "gravity"), [("21", Gravity.DANGER), ("14", Gravity.PUT_RIGHT)])
def test_on_tt_without_rcd_a_device_that_takes_its_time_is_a_danger(ze, gravity):
    """Type B 6 A: 230 V / 21 ohm = 10.95 A, under 2.55 x 6 A = 15.3 A, at which BS EN 60898 lets it take a minute;
    230 V / 14 ohm = 16.4 A."""
    wiring = without_rcd(one_room(loop_in, ze=F(ze), earthing="TT"))
    found = only("zs_limit", wiring)
    assert found.gravity is gravity
    assert found.says.endswith("It is a TT supply and there is no RCD.")
    assert found.advice == "Have the circuit protected by an RCD."
    assert found.means == (
        "A fault to earth draws 10.95 A: the device may need seconds or minutes to open at that, where a TT supply is "
        "to be off within 0.2 s. Until then all earthed metal is live." if ze == "21" else
        "In a fault to earth the device may not open in time.")


@pytest.mark.parametrize("board", [{"earthing": "TN-S"}, {"earthing": "TT", "told": False}])
def test_it_is_none_where_an_rcd_may_be_there_or_the_supply_brings_an_earth(board):
    wiring = one_room(loop_in, ze=F(21), earthing=board["earthing"])
    wiring = without_rcd(wiring) if board.get("told", True) else with_rcd(wiring, None)
    assert only("zs_limit", wiring).gravity is Gravity.PUT_RIGHT


def test_an_rcd_on_tt_has_a_limit_too():
    wiring = with_rcd(one_room(loop_in, ze=F(200), earthing="TT"), F(300))
    assert "allows a Zs of 167 ohm" in only("zs_limit", wiring).says  # 50 V / 300 mA
    assert only("zs_limit", wiring).gravity is Gravity.PUT_RIGHT
    assert of("zs_limit", with_rcd(wiring, F(100))) == []


def test_on_tn_an_rcd_makes_a_high_zs_a_note():
    wiring = with_cables(one_room(loop_in, ze=F("0.35"), earthing="TN-S"), length=F(150))
    assert only("zs_limit", wiring).gravity is Gravity.NOTE
    assert only("zs_limit", with_rcd(wiring, None)).gravity is Gravity.PUT_RIGHT


def test_no_rcd_is_a_note_and_on_tt_more():
    unknown = with_rcd(one_room(loop_in), None)
    assert findings(unknown) == ()
    ways = tuple(replace(way, no_rcd=True) for way in unknown.board.ways)
    wiring = replace(unknown, board=replace(unknown.board, ways=ways))
    (note,) = findings(wiring)
    assert (note.rule, note.gravity, note.clause) == ("no_rcd", Gravity.NOTE, "BS 7671 411.3.4, 701.411.3.3 and 522.6")
    assert "circuit 1 (Lights)" in note.says
    for told in (wiring, unknown):
        tt = replace(told, board=replace(told.board, earthing="TT"))
        assert only("no_rcd", tt).gravity is Gravity.PUT_RIGHT
    ways = tuple(replace(way, device=None) for way in unknown.board.ways)
    assert findings(replace(unknown, board=replace(unknown.board, ways=ways))) == ()


def test_nothing_fed_by_the_board_is_one_finding():
    wiring = one_room(loop_in)
    cut = replace(wiring, cables=tuple(c for c in wiring.cables if "way 1" not in c.ends))
    (found,) = findings(cut)
    assert (found.rule, found.gravity, found.accessory) == ("no_supply", Gravity.PUT_RIGHT, "way 1")
    assert found.says == "Nothing here is joined to the line of circuit 1 (Lights)."
    assert of("no_supply", wiring) == []
    assert of("no_supply", with_end(wiring, core_at(wiring, "W1/1"), 0, None)) == []


def test_without_a_method_a_cable_is_judged_by_the_most_favourable_one():
    """1.0 mm2 flat cable: 16 A by method C, BS 7671 Table 4D5."""
    assert of("coordination", with_device(one_room(loop_in), "B", 16)) == []
    found = only("coordination", with_device(one_room(loop_in), "B", 20))
    assert found.gravity is Gravity.PUT_RIGHT and "W2 and W3 may carry 16 A" in found.says
    assert found.clause.startswith("BS 7671 Table 4D5, method C: the most favourable")
    # behind a BS 3036 fuse 0.725 x 16 A = 11.6 A
    assert "may carry 11.6 A" in only("coordination", with_device(one_room(loop_in), "BS 3036", 15)).says


def test_a_cable_loaded_over_its_rating_is_a_danger():
    c = Circuit()
    c.way()
    c.put("Barn", "batten lampholder", lamp=F(3000))
    c.twin("way 1", "Barn", ("L", "L"), ("N", "N"), method="101")
    found = only("coordination", with_device(c.wiring(), "B", 32))
    assert found.gravity is Gravity.DANGER and "may carry 10.5 A" in found.says and "13.04 A" in found.says
    assert [f.gravity for f in of("coordination", with_device(c.wiring(), "B", 10))] == [Gravity.PUT_RIGHT]
    ways = tuple(replace(way, device=None) for way in c.wiring().board.ways)
    bare = replace(c.wiring(), board=replace(c.wiring().board, ways=ways))
    assert "no device is given" in only("coordination", bare).says


def test_what_could_not_be_judged_is_named_with_what_is_not_given():
    wiring = one_room(loop_in)
    found = not_judged(wiring)
    assert set(found) == {"zs_limit", "volt_drop", "coordination"}
    assert "earthing of the supply" in found["zs_limit"] and "Ze" in found["zs_limit"]
    assert "length of W2" in found["volt_drop"] and "installation method of W2" in found["coordination"]
    known = with_cables(one_room(loop_in, ze=F("0.35"), earthing="TN-S"), length=F(5), method="C")
    assert not_judged(known) == {}
    ways = tuple(replace(way, device=None, rcd=None) for way in known.board.ways)
    bare = not_judged(replace(known, board=replace(known.board, ways=ways)))
    assert bare["lampholder_device"] == ("device of circuit 1",) and bare["no_rcd"] == ("RCD of circuit 1",)
