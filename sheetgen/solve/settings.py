"""The settings of a group of switches, in an order in which one switch is operated at a time."""

from __future__ import annotations

from itertools import combinations, product
from math import prod

MOST = 4096  # settings of one group that are all solved; beyond, each switch and each pair of switches operated


def gray(counts: tuple[int, ...]) -> list[tuple[int, ...]]:
    """Every choice of a position for each switch, neighbours differing in one switch: reflected Gray code."""
    rows: list[tuple[int, ...]] = [()]
    for count in reversed(counts):
        rows = [
            (position, *rest)
            for position in range(count)
            for rest in (rows if position % 2 == 0 else reversed(rows))
        ]
    return rows


def settings(counts: tuple[int, ...]) -> tuple[list[tuple[int, ...]], bool]:
    """The settings to solve, and whether they are all there are. `counts`: positions of each switch."""
    if prod(counts) <= MOST:
        return gray(counts), True
    first = (0,) * len(counts)
    rows = [first]
    for many in (1, 2):
        for operated in combinations(range(len(counts)), many):
            for positions in product(*(range(1, counts[i]) for i in operated)):
                chosen = dict(zip(operated, positions, strict=True))
                rows.append(tuple(chosen.get(i, 0) for i in range(len(counts))))
    return rows, False
