"""Boolean facts of switching, and what the trade knows of them.

Equivalence and exclusive-or of two-way circuits, parity with intermediates: "A Symbolic Analysis of Relay and Switching
Circuits", Transactions of the AIEE vol. 57 (1938), pp. 713-723; exclusive-or of three inputs: university notes on
switching algebra (both by way of secondary sources). Facts of the trade: common practice.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import pytest
from circuits import SETS, Circuit, bridge, conversion, core_at, exchanged, loop_in, strappers
from judged_circuit import solution_to_reading

from sheetgen.judge.sleeves import LINES
from sheetgen.model.accessory import Terminal
from sheetgen.model.reading import Role
from sheetgen.model.solution import Potential
from sheetgen.model.wiring import Wiring
from sheetgen.solve.wiring_to_solution import wiring_to_solution

SECOND = ("L2", "crossed")  # the position that counts as 1


def one_room(room, *more, **kw) -> Wiring:
    c = Circuit()
    room(c, c.way(), "Study", *more, **kw)
    return c.wiring()


def lit(wiring: Wiring) -> dict[tuple[int, ...], bool]:
    """Switch variables -> the lamp is on. 0: COM to L1, or straight."""
    (group,) = wiring_to_solution(wiring).groups
    return {tuple(int(p in SECOND) for p in row.setting): row.lamps[0].state == "on" for row in group.rows}


def test_two_straight_strappers_are_an_equivalence():
    assert lit(one_room(strappers)) == {(a, b): a == b for a, b in product((0, 1), repeat=2)}


def test_crossed_strappers_and_the_conversion_are_an_exclusive_or():
    xor = {(a, b): a != b for a, b in product((0, 1), repeat=2)}
    assert lit(one_room(strappers, crossed=True)) == xor
    assert lit(one_room(conversion)) == xor


def test_exclusive_or_of_three_inputs():
    table = lit(one_room(strappers, 3, crossed=True))
    assert {setting for setting, on in table.items() if on} == {(0, 0, 1), (0, 1, 0), (1, 0, 0), (1, 1, 1)}


@pytest.mark.parametrize("switches", [2, 3, 4, 5, 6, 7])
@pytest.mark.parametrize(("room", "crossed", "odd"), [
    (strappers, {}, False), (strappers, {"crossed": True}, True), (conversion, {}, True)])
def test_parity_toggling_and_half_of_all_settings(switches, room, crossed, odd):
    table = lit(one_room(room, switches, **crossed))
    assert len(table) == 2 ** switches
    assert sum(table.values()) * 2 == len(table)
    for setting, on in table.items():
        assert on == (sum(setting) % 2 == int(odd))
        for i in range(switches):
            assert table[(*setting[:i], 1 - setting[i], *setting[i + 1:])] != on


def test_both_cores_of_a_switch_drop_are_line():
    wiring = one_room(loop_in)
    roles = solution_to_reading(wiring, wiring_to_solution(wiring), SETS).roles
    assert roles["W3/1"] in LINES and roles["W3/2"] in LINES
    assert roles["W3/2"] is Role.SWITCHED_LINE


def test_a_common_is_always_on_l1_or_on_l2():
    # joined: whatever the setting, the common's state is the state of one of the two
    for wiring in (one_room(conversion), one_room(strappers)):
        (group,) = wiring_to_solution(wiring).groups
        solution = wiring_to_solution(wiring)
        for row in group.rows:
            at = {**solution.constant, **dict(zip(group.terminals, row.conditions, strict=True))}
            for switch, position in zip(group.switches, row.setting, strict=True):
                assert at[Terminal(switch, "COM")] == at[Terminal(switch, position)]


def test_the_loop_block_is_live_whatever_the_switch_does():
    solution = wiring_to_solution(one_room(loop_in))
    assert solution.constant[Terminal("Study", "loop")].potential is Potential.LINE


def key_at(wiring: Wiring, accessory: str, terminal: str, other: str) -> tuple[str, int]:
    """The core end on a terminal that comes from another accessory."""
    for core in wiring.cores():
        for end in (0, 1):
            here, there = core.ends[end], core.ends[1 - end]
            if (here.accessory, here.terminal, there.accessory) == (accessory, terminal, other):
                return core.key, end
    raise KeyError(terminal)


@pytest.mark.parametrize("room", [strappers, conversion])
def test_l1_and_l2_exchanged_at_one_switch_only_inverts(room):
    wiring = one_room(room)
    l1, l2 = (key_at(wiring, "Study 2", t, "Study 1") for t in ("L1", "L2"))
    before, after = lit(wiring), lit(exchanged(wiring, l1, l2))
    assert after == {setting: not on for setting, on in before.items()}
    assert core_at(exchanged(wiring, l1, l2), l1[0]).ends[l1[1]].terminal == "L2"


def test_a_common_exchanged_with_a_strapper_is_lit_in_one_setting_of_four():
    wiring = one_room(strappers)
    for terminal in ("L1", "L2"):
        strapper = key_at(wiring, "Study 1", terminal, "Study 2")
        wrong = exchanged(wiring, key_at(wiring, "Study 1", "COM", "way 1"), strapper)
        assert sum(lit(wrong).values()) == 1 and len(lit(wrong)) == 4


def test_in_a_conversion_a_common_exchanged_is_lit_in_three_settings_of_four():
    wiring = one_room(conversion)
    common = key_at(wiring, "Study 2", "COM", "Study 1")
    for terminal in ("L1", "L2"):
        wrong = exchanged(wiring, common, key_at(wiring, "Study 2", terminal, "Study 1"))
        assert sum(lit(wrong).values()) == 3 and len(lit(wrong)) == 4


def test_a_switch_bridged_is_lit_always():
    wiring = one_room(loop_in)
    shorted = replace(wiring, cables=(*wiring.cables, bridge("X1", Terminal("Study", "loop"), Terminal("Study", "SL"))))
    solution = wiring_to_solution(shorted)
    assert [x.state for x in solution.group_of_lamp("Study lamp").rows[0].lamps] == ["on"]
