"""The settings of a group of switches, in an order in which one switch is operated at a time."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, product
from math import prod

MOST = 4096  # settings of one group that are all solved
MOST_PAIRS = 2048  # operations of two switches that are solved where there are more settings


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


def settings(
    counts: tuple[int, ...], most: int = MOST, most_pairs: int = MOST_PAIRS
) -> tuple[list[tuple[int, ...]], bool]:
    """The settings to solve, and whether they are all there are. `counts`: positions of each switch."""
    if prod(counts) <= most:
        return gray(counts), True
    first, last = (0,) * len(counts), tuple(count - 1 for count in counts)
    pairs = sum((a - 1) * (b - 1) for a, b in combinations(counts, 2)) <= most_pairs
    rows = [first, *_operated(first, counts, 1), last, *_operated(last, counts, 1)]
    return [*dict.fromkeys((*rows, *(_operated(first, counts, 2) if pairs else ())))], False


def _operated(start: tuple[int, ...], counts: tuple[int, ...], many: int) -> Iterator[tuple[int, ...]]:
    """Every setting in which so many switches stand in another position than at the start."""
    for operated in combinations(range(len(counts)), many):
        for positions in product(*(set(range(counts[i])) - {start[i]} for i in operated)):
            chosen = dict(zip(operated, positions, strict=True))
            yield tuple(chosen.get(i, at) for i, at in enumerate(start))
