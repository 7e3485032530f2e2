"""The row of every item, so that as many wires as can be run straight. Exact, but in the largest diagrams.

What is minimised, a weighted sum of differences under "at least so far below", is L-natural convex, so the steepest
descent that moves any set of items at once by one step ends at the least value there is; each step is a minimum cut.
(K. Murota, "Discrete Convex Analysis", SIAM 2003, chapter 10; from memory.)
"""

from __future__ import annotations

from collections.abc import Sequence

Pull = tuple[int, int, int, int]  # item, item, wanted difference second minus first, weight
Gap = tuple[int, int, int]  # upper item, lower item, least difference
STEPS = (8, 4, 2, 1)
INFINITE = 10**9
MOST_WORK = 1_500_000  # cuts, times items, times gaps


def heights(count: int, pulls: Sequence[Pull], gaps: Sequence[Gap]) -> list[int]:
    """A height for each item that keeps every gap and has the least sum of weight x |difference - wanted|.

    Of a diagram of some hundred symbols the descent is broken off: every gap is kept, wires bend more than they need.
    """
    y = _packed(count, gaps)
    left = MOST_WORK // (count * len(gaps) + 1)
    for step in STEPS:
        while left > 0 and any(_moved(y, pulls, gaps, sign * step) for sign in (1, -1)):
            left -= 1
    return y


def _packed(count: int, gaps: Sequence[Gap]) -> list[int]:
    y = [0] * count
    for _ in range(count + 1):
        moved = False
        for above, below, gap in gaps:
            if y[below] < y[above] + gap:
                y[below] = y[above] + gap
                moved = True
        if not moved:
            break
    return y


def _moved(y: list[int], pulls: Sequence[Pull], gaps: Sequence[Gap], step: int) -> bool:
    """Move the set of items whose move by `step` saves most; False where no move saves anything."""
    unary = [0] * len(y)
    edges: list[dict[int, int]] = [{} for _ in range(len(y) + 2)]
    for i, j, wanted, weight in pulls:
        off = y[j] - y[i] - wanted
        first = weight * (abs(off - step) - abs(off))  # if only i moves
        second = weight * (abs(off + step) - abs(off))  # if only j moves
        unary[i] += first
        unary[j] -= first
        edges[j][i] = edges[j].get(i, 0) + first + second
    for above, below, gap in gaps:
        if y[below] - y[above] - step < gap:  # above must not move down alone
            edges[above][below] = INFINITE
        if y[below] + step - y[above] < gap:
            edges[below][above] = INFINITE
    moved = _least_cut(unary, edges)
    for i in moved:
        y[i] += step
    return bool(moved)


def _least_cut(unary: list[int], edges: list[dict[int, int]]) -> list[int]:
    """The items that move: a least cut between source and sink, or nothing where the cut saves nothing."""
    source, sink = len(unary), len(unary) + 1
    target = 0
    for i, cost in enumerate(unary):
        if cost < 0:  # it saves by moving
            edges[source][i] = -cost
            target -= cost
        elif cost > 0:
            edges[i][sink] = cost
    flow = 0
    while True:
        came, ahead = {source: source}, [source]
        for here in ahead:
            for there, room in edges[here].items():
                if room > 0 and there not in came:
                    came[there] = here
                    ahead.append(there)
        if sink not in came:
            break
        path = [sink]
        while path[-1] != source:
            path.append(came[path[-1]])
        pairs = list(zip(path[1:], path, strict=False))
        room = min(edges[a][b] for a, b in pairs)
        for a, b in pairs:
            edges[a][b] -= room
            edges[b][a] = edges[b].get(a, 0) + room
        flow += room
    return [i for i in came if i < source] if flow < target else []
