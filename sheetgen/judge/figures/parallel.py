"""The way of the cpc to every point: where several lead to the board, what all of them read together.

The rails for the earth are one bar, and a meter at a point reads every way to it at once.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction

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
        graph = Graph(both_ways(conductors_of(wiring)))
        resistance = {core.key: (ohms(cable, core), what_is_missing(cable))
                      for cable in wiring.cables for core in cable.cores}
        for terminal in ringed & {a.terminal(kind.name) for a in wiring.accessories for kind in a.kind.terminals
                                  if kind.meant is Meant.EARTH}:
            found = sorted(graph.on_the_way(terminal, bar))
            missing = tuple(dict.fromkeys(why for step in found for known, why in (resistance[step.name],)
                                          if known is None))
            edges = [(step.start, step.end, resistance[step.name][0] or Fraction(0)) for step in found]
            routes[terminal] = replace(routes[terminal], missing=missing, ohms=Fraction(0) if missing else _together(
                edges, terminal, bar))
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


def _together(edges: Collection[Edge], start: Terminal, bar: Collection[Terminal]) -> Fraction:
    """The resistance between a terminal and the bar: knot by knot is taken out, and what it joined is joined by what it
    let through (star to mesh)."""
    knot = _knots(edges, bar)
    goal, end = knot[start], knot[next(iter(bar))]
    near: dict[Terminal, dict[Terminal, Fraction]] = {goal: {}, end: {}}
    for a, b, resistance in edges:
        if knot[a] != knot[b]:
            _join(near, knot[a], knot[b], 1 / resistance)
    while goal != end and len(near) > 2:
        out = min((k for k in near if k not in (goal, end)), key=lambda k: (len(near[k]), k))
        around = near.pop(out)
        for there in around:
            del near[there][out]
        whole, pairs = sum(around.values()), list(around.items())
        for i, (a, through_a) in enumerate(pairs):
            for b, through_b in pairs[i + 1:]:
                _join(near, a, b, through_a * through_b / whole)
    return Fraction(0) if goal == end else 1 / near[goal][end]


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
