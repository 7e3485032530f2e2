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
    column = {knot: i for i, knot in enumerate(knots)}
    rows = []
    for knot in knots:  # the currents out of a knot sum to zero
        row = [Fraction(0)] * (len(knots) + 1)
        for there, conductance in near[knot]:
            row[column[knot]] += conductance
            if there in fixed:
                row[-1] += conductance * fixed[there]
            else:
                row[column[there]] -= conductance
        rows.append(row)
    return _eliminate(rows)


def _eliminate(rows: list[list[Fraction]]) -> tuple[Fraction, ...]:
    """Gauss and Jordan. The matrix of an island with a shore is never singular, and its diagonal never vanishes."""
    for i in range(len(rows)):
        pivot = rows[i][i]
        rows[i] = [value / pivot for value in rows[i]]
        for j, row in enumerate(rows):
            if j != i and row[i]:
                factor = row[i]
                rows[j] = [value - factor * own for value, own in zip(row, rows[i], strict=True)]
    return tuple(row[-1] for row in rows)
