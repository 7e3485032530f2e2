"""Which boxes a single passes uncut in its conduit or trunking, between the two in which it ends."""

from __future__ import annotations

from collections import deque
from collections.abc import Mapping, Sequence
from fractions import Fraction
from itertools import pairwise

from sheetgen.circuit.names import cables_in_order
from sheetgen.model.accessory import Level
from sheetgen.model.wiring import Cable, Wiring

Pair = frozenset[str]  # the two accessories between which something runs
AS_LONG = Fraction(3, 4)  # of the way through the boxes: a single that is shorter has a conduit of its own


def passed_by(wiring: Wiring) -> dict[str, tuple[str, ...]]:
    """Single -> the accessories that it passes, from its first end to its second; only those that pass any.

    What is in one conduit or trunking, by the name that it is given, runs in one: where the rest of it leads from one
    end of a single to the other by way of boxes, the single was drawn through them. Of runs that make a ring the
    longest is taken to be drawn through the others; where a length is not given, the one with the fewest cables, by
    name the last of them. A way is passed by nothing; nor is anything hidden behind an end that nobody has seen.
    """
    enclosures: dict[str, list[Cable]] = {}
    for cable in cables_in_order(wiring.cables):
        if cable.run_in and not cable.link:
            enclosures.setdefault(cable.run_in, []).append(cable)
    boxes = {a.name for a in wiring.accessories
             if a.seen and not a.kind.rails and a.kind.level is not Level.PENDANT}
    found: dict[str, tuple[str, ...]] = {}
    for cables in enclosures.values():
        if any(cable.single for cable in cables):
            found |= _passed_in(cables, boxes)
    return found


def stretches(cable: Cable, passed: Mapping[str, Sequence[str]]) -> list[tuple[str, str]]:
    """A cable's way from box to box."""
    stops = [cable.ends[0], *passed.get(cable.name, ()), cable.ends[1]]
    return list(pairwise(stops))


def _passed_in(cables: Sequence[Cable], boxes: set[str]) -> dict[str, tuple[str, ...]]:
    runs: dict[Pair, list[Cable]] = {}
    for cable in cables:
        runs.setdefault(frozenset(cable.ends), []).append(cable)
    lengths = {pair: min(c.length for c in run if c.length is not None)
               for pair, run in runs.items() if any(c.length is not None for c in run)}
    measured = len(lengths) == len(runs)
    shortest_first = sorted(runs, key=lambda pair: lengths[pair] if measured else -len(runs[pair]))
    kept: dict[str, list[str]] = {}
    found: dict[str, tuple[str, ...]] = {}
    for pair in shortest_first:
        start, end = runs[pair][0].ends
        between = _between(start, end, kept, boxes)
        stops = [start, *between, end]
        way = [frozenset(step) for step in pairwise(stops)]
        through = bool(between) and all(cable.single for cable in runs[pair]) and (
            not measured or lengths[pair] >= AS_LONG * sum(lengths[step] for step in way))
        if through:
            found |= {c.name: between if c.ends[0] == start else between[::-1] for c in runs[pair]}
        else:
            kept.setdefault(start, []).append(end)
            kept.setdefault(end, []).append(start)
    return found


def _between(start: str, end: str, kept: Mapping[str, Sequence[str]], boxes: set[str]) -> tuple[str, ...]:
    """The boxes on the shortest way from one accessory to another; () where there is no way through boxes."""
    came: dict[str, str] = {start: ""}
    waiting = deque([start])
    while waiting:
        here = waiting.popleft()
        for onward in kept.get(here, ()):
            if onward in came:
                continue
            came[onward] = here
            if onward == end:
                return _back(here, came)
            if onward in boxes:
                waiting.append(onward)
    return ()


def _back(last: str, came: Mapping[str, str]) -> tuple[str, ...]:
    way: list[str] = []
    while came[last]:
        way.append(last)
        last = came[last]
    return tuple(way[::-1])
