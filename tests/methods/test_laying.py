"""Laws of laying: every circuit of the catalogue is sound, in both colour sets; short form and full form agree."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from method_catalogue import LIGHTS, SWITCHES, Combination, accepted, refused

from sheetgen.catalogue import methods
from sheetgen.circuit import Circuit as Solved
from sheetgen.judge.methods import recognise
from sheetgen.model.problems import Mark, Refused
from sheetgen.model.reading import Standing
from sheetgen.model.solution import LampState
from sheetgen.model.wiring import Wiring
from sheetgen.pipeline import understood, wiring_of, written_out
from sheetgen.solve.wiring_to_solution import wiring_to_solution

COMBINATIONS = list(accepted())
REFUSED = list(refused())
SETS = ("legacy", "current")


def test_the_catalogue_is_not_empty_and_every_method_is_laid_somewhere():
    assert {c.loop for c in COMBINATIONS} == {loop.name for loop in methods.LOOPS}
    assert {c.join for c in COMBINATIONS} == {join.name for join in methods.JOINS}
    assert len(COMBINATIONS) == 75


@pytest.mark.parametrize("combination", COMBINATIONS, ids=str)
def test_every_laid_circuit_toggles(combination: Combination):
    """One to six switches, one to four lights, both colour sets: each operation of any switch changes every lamp."""
    for lights in LIGHTS:
        for colours in SETS:
            wiring = wiring_of(combination.text(lights, colours))
            (group,) = (g for g in wiring_to_solution(wiring).groups if g.lamps)
            assert len(group.switches) == combination.switches and len(group.lamps) == lights
            assert len(group.rows) == 2 ** combination.switches
            lit = {row.setting: _all_alike(row.lamps) for row in group.rows}
            for setting, on in lit.items():
                for i, positions in enumerate(group.positions):
                    other = next(p for p in positions if p != setting[i])
                    assert lit[(*setting[:i], other, *setting[i + 1:])] is not on
            assert not _overfilled(wiring)
            assert {c.colours for c in wiring.cables if not c.flex} == {colours}


@pytest.mark.parametrize("combination", COMBINATIONS, ids=str)
def test_nothing_is_found_on_a_laid_circuit(combination: Combination):
    """Every combination, the number of lights and the colour set in turn; every sleeve needed is there and no other."""
    turn = COMBINATIONS.index(combination)
    for lights, colours in ((turn % 4 + 1, SETS[turn % 2]), ((turn + 2) % 4 + 1, SETS[(turn + 1) % 2])):
        _, _, reading = understood(combination.text(lights, colours))
        assert not reading.findings
        assert all(sleeve.standing is Standing.FITTED for sleeve in reading.sleeves)


def _all_alike(lamps) -> bool:
    states = {lamp.state for lamp in lamps}
    assert states in ({LampState.ON}, {LampState.OFF})
    return states == {LampState.ON}


def _overfilled(wiring: Wiring) -> list[str]:
    """Terminals with more conductors than they have room for."""
    landed: dict = {}
    for core in wiring.cores():
        for end in core.ends:
            assert end.node is not None
            landed[end.node] = landed.get(end.node, 0) + 1
    return [str(t) for t, n in landed.items() if n > wiring.accessory(t.accessory).kind.terminal(t.name).ways]


@pytest.mark.parametrize("combination", COMBINATIONS[::3], ids=str)
def test_short_form_and_full_form_are_the_same_wiring(combination: Combination):
    short = combination.text(lights=2, colours="legacy")
    full = written_out(short)
    assert "method:" not in full
    assert _unplaced(wiring_of(full)) == _unplaced(wiring_of(short))


def _unplaced(wiring: Wiring) -> Wiring:
    """The wiring without the places in the file."""
    return replace(
        wiring,
        accessories=tuple(replace(a, at=Mark()) for a in wiring.accessories),
        cables=tuple(replace(c, at=Mark()) for c in wiring.cables),
        board=replace(wiring.board, ways=tuple(replace(w, at=Mark()) for w in wiring.board.ways)),
    )


def test_what_the_trade_would_not_wire_is_refused_with_the_reason():
    assert len(REFUSED) == 2 * len(SWITCHES) * len(methods.LOOPS) * len(methods.JOINS) - len(COMBINATIONS)
    for combination, reason in REFUSED:
        with pytest.raises(Refused) as refused:
            wiring_of(combination.text())
        (problem,) = refused.value.problems
        assert problem.code == "E404" and problem.message == reason and problem.at.line == 3, str(combination)
        assert len(reason) > 30


def test_the_reason_against_an_intermediate_is_true():
    """In at the first, out at the last: with an intermediate crossed, line meets the switched line at any setting."""
    text = Combination("line at the switches", "conversion", 3, True).text()
    far = text.replace("join: 'conversion'", "join: 'in first, out last'")
    with pytest.raises(Refused, match="straight to the switched line"):
        wiring_of(far)
    full = written_out(text)
    moved = full.replace("from: Hall switch, to: Room 1, cores: {BN: [L2, SL]}",
                         "from: Porch switch, to: Room 1, cores: {BN: [L2, SL]}")
    assert moved != full
    _, solution, _ = understood(moved)
    group = solution.group_of_lamp("Room 1 lamp")
    crossed = [row for row in group.rows if row.setting[1] == "crossed"]
    assert len(crossed) == 4 and all(row.lamps[0].state is LampState.ON for row in crossed)


ROOM = st.sampled_from(["Hall", "Landing", "Kitchen", "Loft"])
PLATE = st.sampled_from(["Hall", "Landing"])  # shared by circuits of one loop: else the plate decides where they loop
LOOPS = [loop.name for loop in methods.LOOPS]


@st.composite
def jobs(draw) -> tuple[str, list[tuple[str, str, str]]]:
    """Several circuits on one or two ways, some of their switches gangs of shared plates; and their methods."""
    asked = []
    lines = ["job: House", "board: {ways: {1: {serves: Down}, 2: {serves: Up}}}",
             f"colours: {draw(st.sampled_from(SETS))}", "circuits:"]
    for number in range(draw(st.integers(1, 3))):
        c = draw(st.sampled_from([c for c in COMBINATIONS if c.switches <= 3]))
        asked.append(c.names)
        lights = draw(st.lists(ROOM, min_size=1, max_size=3))
        plate = f"{draw(PLATE)} {LOOPS.index(c.loop)}"
        switches = [f"{plate}.c{number}s{i}" if draw(st.booleans()) else draw(ROOM) for i in range(c.switches)]
        lines.append(
            f"  - {{way: {draw(st.integers(1, 2))}, lights: [{', '.join(lights)}], switches: [{', '.join(switches)}],\n"
            f"     method: {{loop: '{c.loop}', join: '{c.join}', wired: {c.wired}}}}}")
    return "\n".join(lines) + "\n", asked


@given(jobs())
@settings(deadline=None, max_examples=50, derandomize=True)
def test_several_circuits_in_one_job_stay_sound(job: tuple[str, list[tuple[str, str, str]]]):
    """Plates and ways shared: each circuit works on its own and is recognised, nothing is overfilled."""
    text, asked = job
    wiring = wiring_of(text)
    solution = wiring_to_solution(wiring)
    groups = [g for g in solution.groups if g.lamps]
    known = [c.names for c in recognise(Solved(wiring, solution)) if c.names]
    assert len(groups) == text.count("lights:") and sorted(known) == sorted(asked)
    for group in groups:
        assert sum(_all_alike(row.lamps) for row in group.rows) * 2 == len(group.rows)
    assert not _overfilled(wiring)
    assert _unplaced(wiring_of(written_out(text))) == _unplaced(wiring)
