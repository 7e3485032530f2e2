"""Where along its row each accessory stands: so that drops from ceiling to wall run straight, within the paper."""

from __future__ import annotations

from collections.abc import Mapping

from sheetgen.draw.layout.scene import CEILING, WALL, Arrangement, Scene

SWEEPS = 14


def place(scene: Scene) -> Scene:
    """Set both rows out from left to right.

    Requires: order, inside.
    Ensures: `at` for every enclosure; no two enclosures of a row come nearer than the measure `between`; the rows are
    as wide as the wider one must be, or as wide as straight drops make them within the paper's width.
    """
    rows = {row: keys for row, keys in scene.order.items() if keys}
    steps = {row: _steps(keys, scene) for row, keys in rows.items()}
    need = max((_extent(keys, steps[row], scene.inside) for row, keys in rows.items()), default=0)
    width = max(need, scene.width)
    at: dict[str, int] = {}
    for row, keys in rows.items():
        offset = -scene.inside[keys[0]].reach[0]
        at.update({key: offset + s for key, s in zip(keys, steps[row], strict=True)})
    pulls = _pulls(scene)
    settled = 0  # rows one after the other that stay where they are: once all do, they stay for good
    for sweep in range(SWEEPS):
        for row in ((WALL, CEILING) if sweep % 2 else (CEILING, WALL)):
            if row in rows and settled < len(rows):
                found = _settle(rows[row], steps[row], at, pulls, scene.inside, width)
                settled = settled + 1 if all(at[key] == x for key, x in found.items()) else 0
                at.update(found)
    return scene.moved_to_edge(at)


def _steps(keys: tuple[str, ...], scene: Scene) -> list[int]:
    """The least distance of each enclosure's middle from the first one's."""
    between = scene.style.measures["between"]
    found, x = [], 0
    for i, key in enumerate(keys):
        if i:
            x += scene.inside[keys[i - 1]].reach[1] - scene.inside[key].reach[0] + between
        found.append(x)
    return found


def _extent(keys: tuple[str, ...], steps: list[int], inside: Mapping[str, Arrangement]) -> int:
    return steps[-1] + inside[keys[-1]].reach[1] - inside[keys[0]].reach[0]


def _pulls(scene: Scene) -> dict[str, list[tuple[str, int]]]:
    """Enclosure -> (other enclosure, how far from its middle this one's would stand to have the drop run straight),

    for every cable that has its two ends in different rows.
    """
    found: dict[str, list[tuple[str, int]]] = {key: [] for key in scene.enclosures}
    for key, enclosure in scene.enclosures.items():
        for entry in enclosure.entries:
            other = scene.enclosures.get(entry.partner)
            if other and {other.row, enclosure.row} == {CEILING, WALL}:
                ours, its = scene.inside[key].pins, scene.inside[other.key].pins
                found[key] += [(other.key, its[cable] - ours[cable]) for cable in entry.routes]
    return found


def _settle(
    keys: tuple[str, ...], steps: list[int], at: dict[str, int], pulls: dict[str, list[tuple[str, int]]],
    inside: Mapping[str, Arrangement], width: int,
) -> dict[str, int]:
    """Each enclosure as near to the median of its partners' pins as its neighbours and the paper allow."""
    aims: list[int] = []
    weights: list[float] = []
    for key, step in zip(keys, steps, strict=True):
        partners = pulls[key]
        if len(partners) == 1:
            (other, shift), = partners
            aims.append(at[other] + shift - step)
        else:
            aim = sorted([at[other] + shift for other, shift in partners])
            aims.append((aim[(len(aim) - 1) // 2] if aim else at[key]) - step)
        weights.append(len(partners) or 0.01)
    low = -inside[keys[0]].reach[0]
    high = max(width - inside[keys[-1]].reach[1] - steps[-1], low)
    return {key: min(max(x, low), high) + step
            for key, step, x in zip(keys, steps, _isotonic(aims, weights), strict=True)}


def _isotonic(aims: list[int], weights: list[float]) -> list[int]:
    """The never-falling sequence nearest to the aims: pool adjacent violators, each pool at its weighted median."""
    pools: list[list[tuple[int, float]]] = []
    middles: list[int] = []
    for aim, weight in zip(aims, weights, strict=True):
        pools.append([(aim, weight)])
        middles.append(aim)
        while len(pools) > 1 and middles[-2] > middles[-1]:
            last = pools.pop()
            middles.pop()
            pools[-1] = sorted(pools[-1] + last)
            middles[-1] = _median(pools[-1])
    return [middle for pool, middle in zip(pools, middles, strict=True) for _ in pool]


def _median(pool: list[tuple[int, float]]) -> int:
    half, total = sum(w for _, w in pool) / 2, 0.0
    for value, weight in pool:
        total += weight
        if total >= half - 1e-9:
            return value
    return pool[-1][0]
