"""The way of the cpc to every point: where several lead to the board, what all of them read together.

The rails for the earth are one bar, and a meter at a point reads every way to it at once.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from heapq import heapify, heappop, heappush

from sheetgen.circuit.graph import Graph, Step, both_ways, conductors_of
from sheetgen.judge.figures.conductors import ohms, what_is_missing
from sheetgen.judge.figures.paths import Route, Steps, rails, routes_from
from sheetgen.model.accessory import Meant, Terminal
from sheetgen.model.wiring import Wiring

Edge = tuple[Terminal, Terminal, Fraction]
"""A conductor from one terminal to another, and its resistance."""


def earth_routes(wiring: Wiring, steps: Steps) -> dict[Terminal, Route]:
    """To every terminal that conductors join to the earth of the board the shortest route; to the earth terminals with
    several, one of the resistance of all together."""
    bar = rails(wiring, "earth")
    routes = routes_from(bar, steps)
    ringed = set(_ringed(routes, steps, frozenset(bar)))
    if ringed:
        inside = [step for step in conductors_of(wiring) if step.start in ringed or step.end in ringed]
        names = {step.name for step in inside}
        cores = {core.key: (cable, ohms(cable, core)) for cable in wiring.cables for core in cable.cores
                 if core.key in names}
        unknown = {key: what_is_missing(cable) for key, (cable, known) in cores.items() if known is None}
        together = _together([(s.start, s.end, cores[s.name][1] or Fraction(0)) for s in inside], bar)
        graph = Graph(both_ways(inside))
        for terminal in ringed & {a.terminal(kind.name) for a in wiring.accessories for kind in a.kind.terminals
                                  if kind.meant is Meant.EARTH}:
            passed = sorted(graph.on_the_way(terminal, bar)) if unknown else ()
            missing = tuple(dict.fromkeys(unknown[step.name] for step in passed if step.name in unknown))
            routes[terminal] = replace(
                routes[terminal], missing=missing, ohms=Fraction(0) if missing else together[terminal])
    return routes


def _ringed(routes: Mapping[Terminal, Route], steps: Steps, bar: frozenset[Terminal]) -> Iterator[Terminal]:
    """The terminals of every part beyond the bar that has more conductors than a tree."""
    seen: set[Terminal] = set(bar)
    for start in routes:
        if start in seen:
            continue
        part, ahead, ends = [start], [start], 0
        seen.add(start)
        while ahead:
            here = ahead.pop()
            for step in steps.get(here, ()):
                ends += 2 if step.to in bar else int(step.to != here)
                if step.to not in seen:
                    seen.add(step.to)
                    part.append(step.to)
                    ahead.append(step.to)
        if ends > 2 * len(part):
            yield from part


def _together(edges: Collection[Edge], bar: Collection[Terminal]) -> dict[Terminal, Fraction]:
    """The resistance between each terminal and the bar.

    Knot by knot is taken out, those with the fewest neighbours first, and what it joined is joined by what it let
    through (star to mesh). From the last to the first it is then worked out what a current of one ampere that is put
    in at a knot raises it to, and its neighbours: all from knots that were taken out later (Takahashi, Fagan and Chen,
    "Formation of a sparse bus impedance matrix", PICA 1973).
    """
    knot = _knots(edges, bar)
    end = knot[next(iter(bar))]
    raised: dict[Terminal, dict[Terminal, Fraction]] = {end: {end: Fraction(0)}}
    for out, around in reversed(_taken_out(edges, knot, end)):
        whole = sum(around.values(), Fraction(0))
        own = {a: sum((g * raised[b][a] for b, g in around.items()), Fraction(0)) / whole for a in around}
        own[out] = (1 + sum(g * own[b] for b, g in around.items())) / whole
        raised[out] = own
        for a in around:
            raised[a][out] = own[a]
    return {terminal: raised[its][its] for terminal, its in knot.items()}


def _taken_out(
    edges: Collection[Edge], knot: Mapping[Terminal, Terminal], end: Terminal,
) -> list[tuple[Terminal, dict[Terminal, Fraction]]]:
    """Every knot but the end, with the conductance to those that were still there when it was taken out."""
    near: dict[Terminal, dict[Terminal, Fraction]] = {end: {}}
    for a, b, resistance in edges:
        if knot[a] != knot[b]:
            _join(near, knot[a], knot[b], 1 / resistance)
    ahead = [(len(around), k) for k, around in near.items() if k != end]
    heapify(ahead)
    found = []
    while ahead:
        many, out = heappop(ahead)
        if out not in near or many != len(near[out]):
            continue  # it was taken out, or stands in the heap once more
        around = near.pop(out)
        found.append((out, around))
        for there in around:
            del near[there][out]
        whole, pairs = sum(around.values()), list(around.items())
        for i, (a, through_a) in enumerate(pairs):
            for b, through_b in pairs[i + 1:]:
                _join(near, a, b, through_a * through_b / whole)
        for there in around.keys() - {end}:
            heappush(ahead, (len(near[there]), there))
    return found


def _join(near: dict[Terminal, dict[Terminal, Fraction]], a: Terminal, b: Terminal, conductance: Fraction) -> None:
    for here, there in ((a, b), (b, a)):
        joined = near.setdefault(here, {})
        joined[there] = joined.get(there, Fraction(0)) + conductance


def _knots(edges: Collection[Edge], bar: Collection[Terminal]) -> dict[Terminal, Terminal]:
    """Each terminal -> the one that stands for all that are joined to it by nothing of any resistance."""
    first = next(iter(bar))
    steps = [Step("core", "", a, b) for a, b, resistance in edges if not resistance]
    steps += [Step("core", "", first, rail) for rail in bar if rail != first]
    joined = Graph(both_ways(steps))
    found: dict[Terminal, Terminal] = {}
    for terminal in (first, *(t for a, b, _ in edges for t in (a, b))):
        if terminal not in found:
            found.update(dict.fromkeys(joined.reached([terminal]), terminal))
    return found
