"""Conductors and closed contacts as a graph: what they reach from where, and the steps of the way there."""

from __future__ import annotations

from collections import ChainMap, deque
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from heapq import heappop, heappush
from itertools import count
from typing import NamedTuple

from sheetgen.model.accessory import Terminal
from sheetgen.model.wiring import Wiring


class Step(NamedTuple):
    """From one terminal to the next, by a core, a contact or a load."""

    kind: str  # "core", "contact", "load"
    name: str  # Core.key, the switch, the load
    start: Terminal
    end: Terminal


Neighbours = Mapping[Terminal, tuple[Step, ...]]
Came = Mapping[Terminal, Step | None]
"""Each terminal reached -> the step by which it was reached first; None where the walk began."""


def both_ways(steps: Iterable[Step]) -> dict[Terminal, tuple[Step, ...]]:
    """Each terminal -> the steps that leave it, those given and their reverse."""
    near: dict[Terminal, list[Step]] = {}
    for step in steps:
        near.setdefault(step.start, []).append(step)
        near.setdefault(step.end, []).append(step._replace(start=step.end, end=step.start))
    return {terminal: tuple(leaving) for terminal, leaving in near.items()}


def conductors_of(wiring: Wiring) -> Iterator[Step]:
    """Every core with both ends on terminals."""
    for core in wiring.cores():
        a, b = core.ends[0].node, core.ends[1].node
        if a is not None and b is not None and a != b:
            yield Step("core", core.key, a, b)


@dataclass(frozen=True)
class Graph:
    """The conductors, worked out once for a circuit, and the contacts that are closed in one setting."""

    conductors: Neighbours
    contacts: tuple[Step, ...] = ()

    @cached_property
    def _closed(self) -> Neighbours:
        return both_ways(self.contacts)

    def leaving(self, terminal: Terminal) -> tuple[Step, ...]:
        """The steps that leave a terminal."""
        return (*self.conductors.get(terminal, ()), *self._closed.get(terminal, ()))

    def reached(self, starts: Iterable[Terminal]) -> dict[Terminal, Step | None]:
        """Everything joined to the starts, each terminal by a shortest way."""
        came: dict[Terminal, Step | None] = dict.fromkeys(starts)
        ahead = deque(came)
        while ahead:
            for step in self.leaving(ahead.popleft()):
                if step.end not in came:
                    came[step.end] = step
                    ahead.append(step.end)
        return came

    def reached_from(self, kept: Kept) -> Came:
        """Everything joined to the starts of a walk along the conductors alone that was kept: the same, and what the
        closed contacts bring nearer."""
        came: dict[Terminal, Step | None] = {}
        away: dict[Terminal, int] = {}
        order = count()
        ahead = [(kept.away[step.start] + 1, next(order), step)
                 for leaving in self._closed.values() for step in leaving if step.start in kept.away]
        while ahead:
            far, _, step = heappop(ahead)
            if far < away.get(step.end, kept.away.get(step.end, far + 1)):
                came[step.end], away[step.end] = step, far
                for onward in self.leaving(step.end):
                    heappush(ahead, (far + 1, next(order), onward))
        return _Over(came, kept.came) if came else kept.came

    def on_the_way(self, start: Terminal, goals: Iterable[Terminal],
                   barred: Collection[Terminal] = ()) -> frozenset[Step]:
        """Every step that lies on some way from a terminal to one of the goals that meets no terminal twice.

        No way leads through one of the `barred`.

        Those are the conductors and contacts that can carry current between them: the steps of the blocks between the
        cut points of the graph (Hopcroft and Tarjan, "Efficient algorithms for graph manipulation", CACM 16, 1973).
        """
        graph = self.without(barred) if barred else self
        return WaysTo(graph, [goal for goal in goals if goal != start]).steps_from(start)

    def without(self, barred: Collection[Terminal]) -> Graph:
        """The graph without some terminals and what ends on them."""
        conductors = {t: tuple(s for s in leaving if s.end not in barred)
                      for t, leaving in self.conductors.items() if t not in barred}
        return Graph(conductors, tuple(s for s in self.contacts if s.start not in barred and s.end not in barred))

    def between(self, ends: Collection[Terminal]) -> Graph:
        """The graph without what leads nowhere else: every way from one of the ends to another is still there.

        Every terminal of a contact counts as an end.
        """
        kept = {*ends, *self._closed}
        left = dict(self.conductors)
        dead = [t for t, leaving in left.items() if len(leaving) < 2 and t not in kept]
        while dead:
            terminal = dead.pop()
            for step in left.pop(terminal):
                beyond = left[step.end] = tuple(s for s in left[step.end] if s.end != terminal)
                if len(beyond) == 1 and step.end not in kept:
                    dead.append(step.end)
        return Graph(left, self.contacts)


class _Over(ChainMap[Terminal, "Step | None"]):
    """A walk laid over another; asked for one terminal after another along long ways."""

    def get(self, key: Terminal, default: Step | None = None) -> Step | None:  # type: ignore[override]
        over, under = self.maps
        return over[key] if key in over else under.get(key, default)


class Kept:
    """A walk along conductors alone, which every setting begins with: how each terminal was reached, as which of all,
    and how far away it is, in steps."""

    def __init__(self, conductors: Graph, starts: Iterable[Terminal]):
        self.came = conductors.reached(starts)
        self.place = {terminal: i for i, terminal in enumerate(self.came)}
        self.away: dict[Terminal, int] = {}
        for terminal, step in self.came.items():
            self.away[terminal] = self.away[step.start] + 1 if step else 0


def traced(came: Came, terminal: Terminal) -> tuple[Step, ...]:
    """The steps by which a terminal was reached."""
    steps: list[Step] = []
    while (step := came.get(terminal)) is not None:
        steps.append(step)
        terminal = step.start
    return tuple(reversed(steps))


def turned(steps: Iterable[Step]) -> tuple[Step, ...]:
    """The same steps the other way."""
    return tuple(step._replace(start=step.end, end=step.start) for step in reversed(tuple(steps)))


class WaysTo:
    """The steps on some way from a terminal to one of some goals, for as many terminals as are asked of.

    With all goals made one point, those of the blocks between the cut points from the terminal to there.
    """

    def __init__(self, graph: Graph, goals: Collection[Terminal]):
        self._root = next(iter(goals), None)
        self._block: dict[Terminal, int] = {}  # of each terminal: the block in which it is joined to what is nearer
        self._blocks: list[tuple[Terminal, list[Step]]] = []  # the point of each that is nearest, and its steps
        if self._root is None:
            return
        one = dict.fromkeys(goals, self._root)
        edges: list[Edge] = []
        seen: set[tuple[str, str, Terminal, Terminal]] = set()
        for terminal in graph.reached(goals):
            for step in graph.leaving(terminal):
                low, high = sorted((step.start, step.end))
                a, b = one.get(step.start, step.start), one.get(step.end, step.end)
                if a != b and (step.kind, step.name, low, high) not in seen:
                    seen.add((step.kind, step.name, low, high))
                    edges.append((a, b, step))
        for nearest, block in _blocks(edges, self._root):
            self._block.update((point, len(self._blocks)) for a, b, _ in block for point in (a, b) if point != nearest)
            self._blocks.append((nearest, [step for _, _, step in block]))

    def steps_from(self, start: Terminal) -> frozenset[Step]:
        """Every step on some way from a terminal, itself no goal, that meets no terminal twice."""
        found: set[Step] = set()
        while start in self._block:
            start, steps = self._blocks[self._block[start]]
            found.update(steps)
        return frozenset(found)


Edge = tuple[Terminal, Terminal, Step]


def _blocks(edges: list[Edge], root: Terminal) -> Iterator[tuple[Terminal, list[Edge]]]:
    """The biconnected components of a connected graph, as their edges, with the point of each nearest to the root."""
    near: dict[Terminal, list[int]] = {root: []}
    for i, (a, b, _) in enumerate(edges):
        near.setdefault(a, []).append(i)
        near.setdefault(b, []).append(i)
    depth, low = {root: 0}, {root: 0}
    stack: list[int] = []
    used: set[int] = set()
    path = [(root, iter(near[root]), -1)]  # a point, its edges still to be followed, the edge that led to it
    while path:
        here, ahead, led = path[-1]
        onward = next((e for e in ahead if e not in used), None)
        if onward is not None:
            used.add(onward)
            stack.append(onward)
            one, other, _ = edges[onward]
            there = other if one == here else one
            if there in depth:
                low[here] = min(low[here], depth[there])
            else:
                depth[there] = low[there] = len(path)
                path.append((there, iter(near[there]), onward))
            continue
        path.pop()
        if path:
            above = path[-1][0]
            low[above] = min(low[above], low[here])
            if low[here] >= depth[above]:
                yield above, _taken(edges, stack, led)


def _taken(edges: list[Edge], stack: list[int], led: int) -> list[Edge]:
    """The edges of a finished block off the stack: back to the one that led into it."""
    block: list[Edge] = []
    while True:
        i = stack.pop()
        block.append(edges[i])
        if i == led:
            return block
