"""What to change: every conversion ends in the wanted circuit, by steps that can each be done on a dead circuit."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from method_catalogue import Combination, accepted

from sheetgen.circuit import Circuit as Solved
from sheetgen.compare import NoMatch, apply, in_the_words_of, steps_between
from sheetgen.judge.methods import recognise
from sheetgen.model.comparison import Change, Does
from sheetgen.model.problems import Refused
from sheetgen.model.solution import LampState
from sheetgen.model.wiring import Wiring
from sheetgen.pipeline import reading_of, wiring_of
from sheetgen.pipeline.comparison import change_between, change_of, wanted_of
from sheetgen.solve.wiring_to_solution import wiring_to_solution

EXAMPLES = Path(__file__).parent.parent.parent / "examples"
COMBINATIONS = list(accepted())
SETS = st.sampled_from(["legacy", "current"])


def described(name: str) -> str:
    return (EXAMPLES / f"{name}.yaml").read_text(encoding="utf-8")


def stands(wiring: Wiring) -> None:
    """Every core end is on a terminal that is there, or in nothing, in an accessory that is there."""
    terminals = {a.name: {t.name for t in a.kind.terminals} for a in wiring.accessories}
    for cable in wiring.cables:
        assert set(cable.ends) <= set(terminals)
        for core in cable.cores:
            for end, place in zip(core.ends, cable.ends, strict=True):
                assert end.accessory == place
                assert end.terminal is None or end.terminal in terminals[end.accessory]
    assert len({c.name for c in wiring.cables}) == len(wiring.cables)


def followed(before: Wiring, change: Change) -> Wiring:
    """The wiring after the steps, done one by one; it stands after each."""
    wiring = before
    for step in change.steps:
        wiring = apply(wiring, step)
        stands(wiring)
    return replace(wiring, board=before.board)


@given(st.sampled_from(COMBINATIONS), st.sampled_from(COMBINATIONS), st.integers(1, 3), st.integers(1, 3), SETS, SETS,
       st.booleans())
@example(Combination("at the rose", "conversion", 2, False), Combination("at the switch", "conversion", 2, False),
         1, 1, "current", "current", False)  # a blue core that was sleeved brown becomes a neutral
@settings(deadline=None, max_examples=35, derandomize=True)
def test_every_conversion_ends_in_the_wanted_circuit(a: Combination, b: Combination, lights: int, more: int,
                                                     old: str, new: str, renew: bool):
    """From any method to any other, more or fewer switches and lights, old colours to new."""
    before, wanted = wiring_of(a.text(lights, old)), wiring_of(b.text(more, new))
    change = change_between(before, wanted, renew)
    result = followed(before, change)
    assert set(result.accessories) == set(change.result.accessories)
    assert {c.name: c for c in result.cables} == {c.name: c for c in change.result.cables}
    assert change.proven
    solution = wiring_to_solution(result)
    (circuit,) = (c for c in recognise(Solved(result, solution)) if c.lamps)
    assert circuit.names == b.names and len(circuit.lamps) == more
    group = solution.group_of_lamp(circuit.lamps[0])
    assert sum(row.lamps[0].state is LampState.ON for row in group.rows) * 2 == len(group.rows)
    if renew:
        assert {c.colours for c in result.cables if not c.flex} == {new}


@pytest.mark.parametrize("combination", COMBINATIONS[::5], ids=str)
def test_nothing_is_to_be_changed_where_nothing_differs(combination: Combination):
    change = change_of(combination.text(2, "legacy"), combination.text(2, "current"))
    assert change.steps == () and change.proven


def moved(wiring: Wiring, key: str, end: int, terminal: str) -> Wiring:
    cables = []
    for cable in wiring.cables:
        cores = tuple(
            replace(c, ends=tuple(replace(e, terminal=terminal) if i == end else e for i, e in enumerate(c.ends)))
            if c.key == key else c for c in cable.cores)
        cables.append(replace(cable, cores=cores))
    return replace(wiring, cables=tuple(cables))


def test_one_end_on_a_wrong_terminal_is_one_step():
    wanted = wiring_of(described("two-way-conversion"))
    steps, _ = steps_between(moved(wanted, "W3/1", 1, "E"), wanted)
    assert [s.says for s in steps] == ["At Top move W3 BN from E to COM."]


def test_the_proof_fails_where_the_wiring_is_not_the_wanted_one():
    from sheetgen.compare import proof_of

    wanted = wiring_of(described("two-way-conversion"))
    wrong = moved(wanted, "W3/1", 1, "L1")
    solution = wiring_to_solution(wrong)
    proven, said = proof_of((wrong, solution, reading_of(wrong, solution)), (wanted, wiring_to_solution(wanted)))
    assert not proven
    assert said[0].endswith("are not those of the wanted circuit") and "something else" in said[1]


def test_one_way_to_two_way():
    """The old drop stays; its two ends at the switch change their terminals; a three-core goes on."""
    change = change_of(described("one-way-loop-in"), wanted_of("at the rose, conversion", described("one-way-loop-in"))
                       .replace("switches: [Study]", "switches: [Study, Hall]"))
    assert [s.does for s in change.steps] == [Does.EXCHANGE, Does.FIT, Does.ADD_CABLE, Does.MOVE, Does.MOVE]
    assert change.steps[0].says == "Exchange Door: a two-way switch in place of the one-way switch."
    assert change.proven and change.left == ()


def test_two_way_to_three_positions():
    """An intermediate goes in between: the three-core between the switches gives way to two."""
    two = Combination("at the rose", "conversion", 2, False).text()
    three = two.replace("[Hall, Landing]", "[Hall, Stairs, Landing]")
    change = change_of(two, three)
    assert [s.does for s in change.steps] == [Does.TAKE_OUT_CABLE, Does.FIT, Does.ADD_CABLE, Does.ADD_CABLE]
    assert change.proven and not change.left


CURED = """
job: Landing light cured
board:
  ways: {5: {serves: Downstairs lights, device: type B 6 A}, 6: {serves: Upstairs lights, device: type B 6 A}}
colours: legacy
circuits:
- {way: 5, lights: [Hall], switches: [Hall.light], method: {loop: at the rose}}
- {way: 6, lights: [Landing], switches: [Landing, Hall.landing], method: {loop: at the rose, join: conversion}}
"""


def test_a_borrowed_neutral_is_cured_by_conversion_without_a_new_cable():
    """The spare red core of the three-core becomes the common wire; the link to the other circuit comes out."""
    change = change_of(described("landing-borrowed-neutral"), CURED)
    assert [s.does for s in change.steps].count(Does.MOVE) == 5
    assert {s.does for s in change.steps} == {Does.TAKE_OUT_CABLE, Does.MOVE, Does.SLEEVE}
    assert change.steps[0].says == "Take out W3, the link inside Hall."
    assert change.proven and not any("neutral" in left for left in change.left)


def test_a_wide_loop_is_cured():
    before = described("two-way-line-at-switch-current")
    change = change_of(before, wanted_of("at the rose, conversion", before))
    assert change.proven and change.left == ()
    assert any("separate routes" in f.says for f in reading_of(wiring_of(before), wiring_to_solution(
        wiring_of(before))).findings)


def test_what_can_stay_stays():
    """A batten lampholder does the work of the rose that the method would have laid; no cable is pulled for colour."""
    before = described("two-strappers-conduit")
    change = change_of(before, wanted_of("line at the switches, in first, out last, singles in conduit", before))
    assert [s.does for s in change.steps] == [Does.ADD_CABLE, Does.MOVE, Does.MOVE]
    assert "Workshop" in {a.name for a in change.result.accessories} and change.proven


@given(st.sampled_from(COMBINATIONS), st.sampled_from(COMBINATIONS), SETS, SETS)
@settings(deadline=None, max_examples=20, derandomize=True)
def test_no_brown_or_red_core_becomes_a_neutral(a: Combination, b: Combination, old: str, new: str):
    result = change_between(wiring_of(a.text(2, old)), wiring_of(b.text(2, new))).result
    roles = reading_of(result, wiring_to_solution(result)).roles
    assert not [core for core in result.cores() if roles[core.key] == "neutral" and core.colour in ("BN", "RD")]


def test_other_lights_have_no_steps():
    assert change_of(described("one-way-loop-in"), described("bungalow")) is None
    with pytest.raises(NoMatch):
        in_the_words_of(wiring_of(described("loop-at-switch")), wiring_of(described("bungalow")))


def test_a_method_in_words_is_refused_where_it_is_not_known():
    with pytest.raises(Refused) as refused:
        wanted_of("at the rose, converzion", described("one-way-loop-in"))
    assert [p.code for p in refused.value.problems] == ["E412"] and "conversion" in refused.value.problems[0].hint
    with pytest.raises(Refused) as refused:
        wanted_of("at the rose", described("bungalow"))
    assert refused.value.problems[0].code == "E411"
