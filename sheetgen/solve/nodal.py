"""Nodal analysis in exact fractions: the potential of every knot between given ones, loads as conductances."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True)
class Island:
    """Knots of unknown potential that loads join, the fixed knots around them, and what came out.

    `potentials` runs parallel to `knots`; None where no fixed knot is in reach: the island floats.
    """

    knots: tuple[int, ...]
    shore: tuple[int, ...]
    potentials: tuple[Fraction | None, ...]


def islands(fixed: Mapping[int, Fraction], loads: Iterable[tuple[int, int, Fraction]]) -> list[Island]:
    """Solve for every knot that a load touches and `fixed` does not give."""
    near: dict[int, list[tuple[int, Fraction]]] = {}
    for a, b, conductance in loads:
        if a != b:
            for here, there in ((a, b), (b, a)):
                if here not in fixed:
                    near.setdefault(here, []).append((there, conductance))
        elif a not in fixed:
            near.setdefault(a, [])
    found: list[Island] = []
    seen: set[int] = set()
    for start in near:
        if start not in seen:
            knots, shore = _reach(start, near, fixed)
            seen.update(knots)
            found.append(Island(knots, shore, _potentials(knots, shore, near, fixed)))
    return found


def _reach(
    start: int, near: Mapping[int, list[tuple[int, Fraction]]], fixed: Mapping[int, Fraction]
) -> tuple[tuple[int, ...], tuple[int, ...]]:
    knots: dict[int, None] = {start: None}
    shore: dict[int, None] = {}
    ahead = [start]
    while ahead:
        for there, _ in near[ahead.pop()]:
            if there in fixed:
                shore[there] = None
            elif there not in knots:
                knots[there] = None
                ahead.append(there)
    return tuple(knots), tuple(shore)


def _potentials(
    knots: tuple[int, ...], shore: tuple[int, ...], near: Mapping[int, list[tuple[int, Fraction]]],
    fixed: Mapping[int, Fraction],
) -> tuple[Fraction | None, ...]:
    around = {fixed[knot] for knot in shore}
    if len(around) < 2:  # no current flows: all of it is at the one potential there is, or floats
        return (next(iter(around), None),) * len(knots)
    rows: dict[int, dict[int, Fraction]] = {knot: {knot: Fraction(0)} for knot in knots}
    into = dict.fromkeys(knots, Fraction(0))  # what flows into each from the fixed ones at its own potential 0
    for knot, row in rows.items():  # the currents out of a knot sum to zero
        for there, conductance in near[knot]:
            row[knot] += conductance
            if there in fixed:
                into[knot] += conductance * fixed[there]
            else:
                row[there] = row.get(there, Fraction(0)) - conductance
    solved = _eliminated(rows, into)
    return tuple(solved[knot] for knot in knots)


def _eliminated(rows: dict[int, dict[int, Fraction]], into: dict[int, Fraction]) -> dict[int, Fraction]:
    """Gauss's elimination, the knot with the fewest others beside it first: loads join each knot to few.

    The matrix is symmetric; that of an island with a shore is never singular, and its diagonal never vanishes.
    """
    order: list[tuple[int, Fraction, dict[int, Fraction]]] = []
    while rows:
        knot = min(rows, key=lambda knot: (len(rows[knot]), knot))
        row = rows.pop(knot)
        pivot = row.pop(knot)
        order.append((knot, pivot, row))
        for there, value in row.items():
            factor = value / pivot
            other = rows[there]
            del other[knot]
            for k, own in row.items():
                other[k] = other.get(k, Fraction(0)) - factor * own
            into[there] -= factor * into[knot]
    found: dict[int, Fraction] = {}
    for knot, pivot, row in reversed(order):
        found[knot] = (into[knot] - sum(value * found[there] for there, value in row.items())) / pivot
    return found
