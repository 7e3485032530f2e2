"""Currents in every conductor and the volts lost on the way, with the lamps as given currents.

Nodal analysis in floating point. The nodes are eliminated in order of how few others they touch, so that a circuit
without rings, as lighting is, takes time in proportion to its size.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping
from heapq import heapify, heappop, heappush


def solve(
    conductors: Iterable[tuple[Hashable, Hashable, float]],
    injected: Mapping[Hashable, float],
    fixed: Iterable[Hashable],
) -> dict[Hashable, float]:
    """Volts at every node, the fixed ones at 0.

    `conductors`: node, node, siemens; `injected`: amperes into a node. Of nodes that no fixed one reaches, the last to
    be eliminated is at 0.
    """
    held = set(fixed)
    near: dict[Hashable, dict[Hashable, float]] = {}
    own: dict[Hashable, float] = {}
    for a, b, siemens in conductors:
        if a == b:
            continue
        for here, there in ((a, b), (b, a)):
            if here not in held:
                own[here] = own.get(here, 0.0) + siemens
                row = near.setdefault(here, {})
                if there not in held:
                    row[there] = row.get(there, 0.0) + siemens
    amps = {node: injected.get(node, 0.0) for node in near}
    volts: dict[Hashable, float] = dict.fromkeys(held, 0.0)
    for node, total, row in reversed(_eliminate(near, own, amps)):
        flows = amps[node] + sum(siemens * volts[other] for other, siemens in row.items())
        volts[node] = flows / total if total else 0.0
    return volts


Row = dict[Hashable, float]  # node -> siemens of all that joins it to the row's own


def _eliminate(
    near: dict[Hashable, Row], own: dict[Hashable, float], amps: dict[Hashable, float]
) -> list[tuple[Hashable, float, Row]]:
    """Take the nodes out one by one, handing what they carry to their neighbours."""
    order = {node: i for i, node in enumerate(near)}
    nothing = {node: 1e-9 * total for node, total in own.items()}  # what is left of a sum of nothing in floating point
    queue = [(len(row), order[node], node) for node, row in near.items()]
    heapify(queue)
    steps: list[tuple[Hashable, float, Row]] = []
    gone: set[Hashable] = set()
    while queue:
        touching, _, node = heappop(queue)
        if node in gone or touching != len(near[node]):
            continue
        gone.add(node)
        row, total = near.pop(node), own[node]
        if total <= nothing[node]:
            total = 0.0  # the last of nodes that no fixed one reaches
        steps.append((node, total, row))
        others = list(row.items())
        for a, to_a in others:
            del near[a][node]
            if not total:
                continue
            share = to_a / total
            amps[a] += share * amps[node]
            own[a] -= share * to_a
            for b, to_b in others:
                if b != a:
                    near[a][b] = near[a].get(b, 0.0) + share * to_b
        for a, _ in others:
            heappush(queue, (len(near[a]), order[a], a))
    return steps
