"""A net with one rail whose conductors make no ring, as a tree from the rail: what lies between a few of its terminals
without a walk over all of it."""

from __future__ import annotations

from collections import deque
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass

from sheetgen.circuit.graph import Neighbours
from sheetgen.model.accessory import Terminal


@dataclass(frozen=True)
class RailTree:
    """Every terminal of the net: the one before it on the way from the rail; where it comes in a walk over the tree.

    `place` numbers the terminals from the rail outwards, the nearest first. `span` holds the first and the last number
    of a walk into the depth below a terminal.
    """

    rail: Terminal
    before: dict[Terminal, Terminal]
    place: dict[Terminal, int]
    span: dict[Terminal, tuple[int, int]]

    def above(self, terminal: Terminal, others: Iterable[Terminal]) -> Terminal | None:
        """The nearest of some other terminals on the way from the rail to this one."""
        number = self.span[terminal][0]
        found = [x for x in others if x != terminal and self.span[x][0] <= number <= self.span[x][1]]
        return max(found, key=lambda x: self.span[x][0], default=None)

    def way_up(self, terminal: Terminal) -> Iterator[Terminal]:
        """The terminals from the one before this back to the rail."""
        while terminal != self.rail:
            terminal = self.before[terminal]
            yield terminal


def rail_tree(rail: Terminal, members: Collection[Terminal], near: Neighbours) -> RailTree | None:
    """The tree of a net from its one rail; None where its conductors make a ring, or do not hold it together."""
    before: dict[Terminal, Terminal] = {}
    place = {rail: 0}
    beyond: dict[Terminal, list[Terminal]] = {}
    ahead = deque([rail])
    while ahead:
        here = ahead.popleft()
        beyond[here] = []
        for there in dict.fromkeys(step.end for step in near.get(here, ())):
            if there == before.get(here):
                continue
            if there in place:
                return None
            place[there] = len(place)
            before[there] = here
            beyond[here].append(there)
            ahead.append(there)
    if len(place) < len(members):
        return None
    return RailTree(rail, before, place, _spans(rail, beyond))


def _spans(rail: Terminal, beyond: dict[Terminal, list[Terminal]]) -> dict[Terminal, tuple[int, int]]:
    first: dict[Terminal, int] = {}
    span: dict[Terminal, tuple[int, int]] = {}
    path = [(rail, iter(beyond[rail]))]
    first[rail] = 0
    while path:
        here, ahead = path[-1]
        there = next(ahead, None)
        if there is not None:
            first[there] = len(first)
            path.append((there, iter(beyond[there])))
            continue
        path.pop()
        span[here] = (first[here], len(first) - 1)
    return span
