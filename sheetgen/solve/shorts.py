"""Rails that meet with no load between: which, and through which terminals."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Mapping
from itertools import combinations

from sheetgen.model.accessory import Terminal
from sheetgen.model.solution import Meeting, Short
from sheetgen.solve.network import Rail

Neighbours = Mapping[Terminal, list[Terminal]]
RANK = {"line": 0, "neutral": 1, "earth": 2}


def neighbours_of(conductors: Iterable[tuple[Terminal, Terminal]]) -> dict[Terminal, list[Terminal]]:
    """Each terminal -> those a conductor or a made contact joins it to."""
    near: dict[Terminal, list[Terminal]] = {}
    for a, b in conductors:
        near.setdefault(a, []).append(b)
        near.setdefault(b, []).append(a)
    return near


def meetings_of(
    together: tuple[Rail, ...], near: Neighbours, contacts: Iterable[tuple[Terminal, Terminal]] = ()
) -> tuple[tuple[Short, ...], tuple[Meeting, ...]]:
    """What the rails of one knot make of one another: shorts, one for each line, and the other meetings.

    `near` holds the conductors, `contacts` the pairs that the switches join in the setting.
    """
    also = neighbours_of(contacts)
    ranked = sorted(together, key=lambda rail: RANK[rail.kind])
    lines = [rail for rail in ranked if rail.kind == "line"]
    others = [rail for rail in ranked if rail.kind != "line"]
    shorts = tuple(
        Short((path[0], path[-1]), path)
        for line in lines if others
        for path in (_shortest(line.terminal, [rail.terminal for rail in others], near, also),)
    )
    pairs = [*combinations(lines, 2), *(pair for pair in combinations(others, 2) if _odd(*pair))]
    meetings = tuple(
        Meeting((a.terminal, b.terminal), (a.kind, b.kind), _shortest(a.terminal, [b.terminal], near, also))
        for a, b in pairs
    )
    return shorts, meetings


def _odd(a: Rail, b: Rail) -> bool:
    """Two rails other than lines that nothing should join: the earths of a board are one bar."""
    return not (a.kind == b.kind == "earth")


def _shortest(start: Terminal, goals: list[Terminal], near: Neighbours, also: Neighbours) -> tuple[Terminal, ...]:
    """The terminals of the shortest path to the nearest goal."""
    came: dict[Terminal, Terminal | None] = {start: None}
    ahead = deque([start])
    while ahead:
        here = ahead.popleft()
        if here in goals:
            path = [here]
            while (before := came[path[-1]]) is not None:
                path.append(before)
            return tuple(reversed(path))
        for there in (*near.get(here, ()), *also.get(here, ())):
            if there not in came:
                came[there] = here
                ahead.append(there)
    raise AssertionError(f"{start} is joined to none of {goals}")
