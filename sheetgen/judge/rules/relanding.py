"""Which move of one core end makes a lamp work that no setting lights or puts out: found by solving each."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.rules.exchange import MOST_CURES, MOST_ROWS, Cure, End, landed
from sheetgen.judge.rules.subject import Subject
from sheetgen.model.accessory import Meant, Terminal
from sheetgen.model.solution import LampState, Potential, Solution
from sheetgen.model.words import joined
from sheetgen.solve.solve import solve

LIT = (LampState.ON, LampState.DIM)
WORKS = {LampState.ON, LampState.OFF}
MOST_TRIES = 60
REACH = 2  # cables between a lamp and the accessories at which a move is tried


def dark(subject: Subject) -> list[str]:
    """The loads that no setting lights, though a setting may short them."""
    return [
        name for group in subject.solution.groups
        if group.complete and len(group.rows) <= MOST_ROWS
        for i, name in enumerate(group.lamps) if not any(row.lamps[i].state in LIT for row in group.rows)
    ]


def moves(subject: Subject, lamp: str) -> list[Cure]:
    """Moves of one core end to another terminal of its accessory that make the lamp switchable: the nearest to it."""
    if ("moves", lamp) not in subject.kept:
        subject.kept["moves", lamp] = _likely(subject, _moves(subject, lamp))
    return subject.kept["moves", lamp]


def _moves(subject: Subject, lamp: str) -> list[tuple[Cure, Terminal]]:
    left = MOST_TRIES
    for place in _near(subject, subject.loads[lamp][0].name):
        found = []
        for key, i, here in _ends_at(subject, place):
            for there in _terminals(subject, place, key, i) if here is not None else ():
                left -= 1
                if left < 0:
                    return found
                solution = _tried(subject, (key, i), there)
                if solution and _mends(subject, solution, lamp, switched=True):
                    words = _words(subject, key, Terminal(place, here), Terminal(place, there))
                    found.append((Cure(words, place, key), Terminal(place, there)))
        if found:
            return found
    return []


def _likely(subject: Subject, found: list[tuple[Cure, Terminal]]) -> list[Cure]:
    """Without those that would put a core of the line's colour on a terminal for the switched line, if others do."""
    def odd(cure: Cure, there: Terminal) -> bool:
        core = subject.cores[cure.core]
        own = subject.sets[subject.cables[core.cable].colours]
        meant = subject.accessories[there.accessory].kind.terminal(there.name).meant
        return meant is Meant.SWITCHED and core.colour == own.line and not subject.cables[core.cable].single

    usual = [cure for cure, there in found if not odd(cure, there)]
    return (usual or [cure for cure, _ in found])[:MOST_CURES]


def joining(subject: Subject, key: str, lamps: list[str]) -> dict[str, list[Cure]]:
    """Those of the lamps that would light with a core's loose end on a terminal of its accessory, and which."""
    core = subject.cores[key]
    i = next(i for i, end in enumerate(core.ends) if end.terminal is None)
    place = core.ends[i].accessory
    found: dict[str, list[Cure]] = {}
    for there in _terminals(subject, place, key, i):
        solution = _tried(subject, (key, i), there)
        for lamp in lamps if solution else ():
            if _mends(subject, solution, lamp, switched=False):
                words = _words(subject, key, None, Terminal(place, there))
                found.setdefault(lamp, []).append(Cure(words, place, key))
    return found


def said(cures: list[Cure], lamp: str) -> str:
    """The cures in one sentence, without a capital and without its stop."""
    return f"{joined((c.says for c in cures), 'or')}: then {lamp} works (found by trying it)"


def _near(subject: Subject, start: str) -> list[str]:
    """Accessories within reach of a lamp, nearest first; the board left out."""
    found = [start]
    for _ in range(REACH):
        for cable in subject.wiring.cables:
            for a, b in (cable.ends, cable.ends[::-1]):
                if a in found and b not in found and b not in subject.board:
                    found.append(b)
    return found


def _ends_at(subject: Subject, place: str) -> Iterator[tuple[str, int, str | None]]:
    for core in subject.wiring.cores():
        for i, end in enumerate(core.ends):
            if end.accessory == place and not core.cpc:
                yield core.key, i, end.terminal


def _terminals(subject: Subject, place: str, key: str, end: int) -> Iterator[str]:
    """Where the end could go: not where it is, not to earth, not to the terminal its other end is on."""
    core = subject.cores[key]
    for kind in subject.accessories[place].kind.terminals:
        there = Terminal(place, kind.name)
        if kind.ways and kind.meant is not Meant.EARTH and there not in (core.ends[0].node, core.ends[1].node):
            yield kind.name


def _tried(subject: Subject, end: End, there: str) -> Solution | None:
    """The wiring solved with one core end on another terminal; None where that shorts a line or joins more rails."""
    solution = solve(landed(subject.wiring, {end: there}))
    if solution.shorts or any(row.shorts for group in solution.groups for row in group.rows):
        return None
    return solution if _meetings(solution) <= _meetings(subject.solution) else None


def _words(subject: Subject, key: str, here: Terminal | None, there: Terminal) -> str:
    if here is None:
        return f"put {subject.core(key)} on {subject.terminal(there)}"
    return f"move {subject.core(key)} from {subject.terminal(here)} to {subject.terminal(there)}"


def _states(solution: Solution) -> dict[str, set[LampState]]:
    return {
        name: {row.lamps[i].state for row in group.rows}
        for group in solution.groups for i, name in enumerate(group.lamps)
    }


def _meetings(solution: Solution) -> int:
    return len(solution.meetings) + sum(len(row.meetings) for group in solution.groups for row in group.rows)


def _mends(subject: Subject, solution: Solution, lamp: str, switched: bool) -> bool:
    """The lamp works with its neutral contact always on a neutral; every other lamp does what it did or works."""
    before, after = _states(subject.solution), _states(solution)
    accessory, load = subject.loads[lamp]
    return (
        (after[lamp] == WORKS or (not switched and after[lamp] == {LampState.ON}))
        and all(states in (before[name], WORKS) for name, states in after.items() if name != lamp)
        and all(c.solid and c.potential is Potential.NEUTRAL for c in solution.conditions(accessory.terminal(load.b)))
    )
