"""The order of the upright stretches in one channel: the fewest crossings, and no two wires ever on one another."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import permutations

from sheetgen.draw.diagram.structure import LEFT, RIGHT

MOST = 6  # uprights whose every order is tried; beyond, each is inserted where it costs least
NEVER = 10**6
CLEAR = 1  # half rows between two uprights of one track


@dataclass(frozen=True)
class Upright:
    """A hop that changes its row: the span of its upright stretch, and the rows of its ends on each edge."""

    low: int
    high: int
    left: tuple[int, ...]
    right: tuple[int, ...]


def upright(sides: tuple[int, int], rows: tuple[int, int]) -> Upright | None:
    """The upright stretch of a hop, or None where it runs straight through."""
    if rows[0] == rows[1] and sides[0] != sides[1]:
        return None
    ends = [tuple(row for side, row in zip(sides, rows, strict=True) if side == edge) for edge in (LEFT, RIGHT)]
    return Upright(min(rows), max(rows), *ends)


def tracks_of(uprights: Sequence[Upright], straight: Sequence[int] = ()) -> tuple[tuple[int, ...], bool]:
    """The track of each upright, from the left, and whether all wires stay apart.

    `straight` are the rows of wires that run through; they cross whatever spans them in any order.
    """
    cost = [[_before(a, b) for b in uprights] for a in uprights]
    order = _all_orders(cost) if len(uprights) <= MOST else _inserted(cost)
    track = [0] * len(uprights)
    for n, j in enumerate(order):
        for i in order[:n]:
            if _meet(uprights[i], uprights[j]):
                track[j] = max(track[j], track[i] + 1)
    return tuple(track), _total(cost, order) < NEVER


def _before(a: Upright, b: Upright) -> int:
    """What it costs that `a` stands left of `b`: crossings, or NEVER where one would lie on the other."""
    if any(row in b.left for row in a.right):
        return NEVER
    return sum(b.low < row < b.high for row in a.right) + sum(a.low < row < a.high for row in b.left)


def _meet(a: Upright, b: Upright) -> bool:
    return a.low - CLEAR <= b.high and b.low - CLEAR <= a.high


def _total(cost: list[list[int]], order: Sequence[int]) -> int:
    return sum(cost[i][j] for n, j in enumerate(order) for i in order[:n])


def _all_orders(cost: list[list[int]]) -> tuple[int, ...]:
    return min((_total(cost, order), order) for order in permutations(range(len(cost))))[1]


def _inserted(cost: list[list[int]]) -> tuple[int, ...]:
    """Each where it costs least beside those before it; of several such places in the last."""
    order: list[int] = []
    for new in range(len(cost)):
        here = sum(cost[new][other] for other in order)
        found = [here]
        for other in order:
            here += cost[other][new] - cost[new][other]
            found.append(here)
        least = min(found)
        order.insert(max(i for i, costs in enumerate(found) if costs == least), new)
    return tuple(order)
