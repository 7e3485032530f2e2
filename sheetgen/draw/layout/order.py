"""Which accessory stands beside which: the order of the ceiling row and of the wall row."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from math import inf

from sheetgen.draw.layout.scene import CEILING, GUTTER, WALL, Enclosure, Scene

EXHAUSTED = 40  # rounds of improvement at most
MARK_AGAINST = 0.8  # a continuation mark that does not stand at its end of the row
AGAINST_WALK = 0.4  # two accessories the other way round than one walks past them
BACKWARDS = 1.0  # a cable that runs from right to left
CROSSING = 1.5
WRONG_SIDE = 2.0  # a cable on a terminal that is at the side away from where it goes
NEIGHBOURS = 1.5  # distance along one row, against distance from row to row
Rows = tuple[tuple[str, ...], tuple[str, ...]]  # ceiling, wall
Joined = Sequence[tuple[str, str, float]]  # two enclosures, weight
Sided = Sequence[tuple[str, str]]  # two enclosures, of which the first should stand left of the second


def put_in_order(scene: Scene) -> Scene:
    """Order both rows for short cables, few crossings, and the order in which one walks through the house.

    Requires: enclosures, choices.
    Ensures: `order` holds every enclosure once; ways of the board stand at the left,
    in their order but where another crosses less. Marks from earlier sheets stand at
    the left too, and marks to later sheets at the right, but where they nest better elsewhere.
    """
    links = _links(scene)
    sided = _sided(scene)
    starts = dict.fromkeys((_by_rank(scene), _by_partners(scene, links)))
    best = min((_improved(start, links, sided, scene.enclosures) for start in starts), key=lambda found: found[:2])
    return replace(scene, order={CEILING: best[1][0], WALL: best[1][1]})


def _links(scene: Scene) -> list[tuple[str, str, float]]:
    """Pairs of enclosures joined by a run, from the board outward, with their weight."""
    found: dict[str, tuple[str, str]] = {}
    for key, enclosure in scene.enclosures.items():
        for entry in enclosure.entries:
            if not entry.hangs and enclosure.row != GUTTER:
                found[entry.run] = found.get(entry.run, (key, entry.partner))
    return [(a, b, 1.0) for a, b in found.values()]


def _sided(scene: Scene) -> list[tuple[str, str]]:
    """For each cable on terminals that have a side, its two ends from left to right as that side has it."""
    found = []
    for key, enclosure in scene.enclosures.items():
        lefts = {g.left for g in enclosure.groups if g.left != g.right}
        rights = {g.right for g in enclosure.groups if g.left != g.right}
        for entry in enclosure.entries:
            terminals = {s.terminal for s in entry.terminations}
            if terminals & lefts:
                found.append((entry.partner, key))
            elif terminals & rights:
                found.append((key, entry.partner))
    return found


def _kept_left(enclosure: Enclosure) -> bool:
    """A way of the board, which stays at the left."""
    return enclosure.rank < 0 and not enclosure.mark


def _by_rank(scene: Scene) -> Rows:
    enclosures = sorted(scene.enclosures.values(), key=lambda p: (p.rank, p.key))
    ceiling, wall = (tuple(e.key for e in enclosures if e.row == row) for row in (CEILING, WALL))
    return ceiling, wall


def _by_partners(scene: Scene, links: Joined) -> Rows:
    """The ceiling row by rank; under it every wall accessory by the mean place of what it is joined to."""
    ceiling, wall = _by_rank(scene)
    place = {key: i for i, key in enumerate(ceiling)}
    centre = {}
    for i, key in enumerate(wall):
        above = [place[b if a == key else a] for a, b, _ in links if key in (a, b) and (b if a == key else a) in place]
        centre[key] = sum(above) / len(above) if above else float(i)
    enclosures = scene.enclosures
    return ceiling, tuple(sorted(wall, key=lambda k: (not _kept_left(enclosures[k]), centre[k], enclosures[k].rank, k)))


def _improved(rows: Rows, links: Joined, sided: Sided, enclosures: Mapping[str, Enclosure]) -> tuple[float, Rows]:
    """Exchange and insert within a row as long as that helps."""
    cost = _cost(rows, links, sided, enclosures)
    for _ in range(EXHAUSTED):
        best, least = rows, inf
        for new in _moves(rows, enclosures):
            found = _cost(new, links, sided, enclosures, least)
            if (found, new) < (least, best):
                best, least = new, found
        if least >= cost - 1e-9:
            break
        cost, rows = least, best
    return round(cost, 6), rows


def _moves(rows: Rows, enclosures: Mapping[str, Enclosure]) -> Iterator[Rows]:
    for r in (0, 1):
        row = rows[r]
        kept = [_kept_left(enclosures[key]) for key in row]
        for i in range(len(row)):
            for j in range(len(row)):
                if i == j or kept[i] != kept[j]:
                    continue
                new = list(row)
                new.insert(j, new.pop(i))
                yield (tuple(new), rows[1]) if r == 0 else (rows[0], tuple(new))
                if i < j - 1:
                    new = list(row)
                    new[i], new[j] = new[j], new[i]
                    yield (tuple(new), rows[1]) if r == 0 else (rows[0], tuple(new))


def _cost(rows: Rows, links: Joined, sided: Sided, enclosures: Mapping[str, Enclosure], most: float = inf) -> float:
    """What an order costs its reader; of one that costs more than `most` no more than that it does."""
    place: dict[str, float] = {}
    longest = max(len(rows[0]), len(rows[1]), 1)
    for row in rows:
        step = 1.0 if len(row) * 2 > longest else longest / (2 * max(len(row), 1))
        place.update({key: i * step for i, key in enumerate(row)})
    above = set(rows[0])
    beside = {key: side * (2.0 * longest + 2) for _, key, _ in links if (side := enclosures[key].gutter)}
    cost, drops = 0.0, []
    spans: dict[bool, list[tuple[float, float]]] = {True: [], False: []}
    for a, b, weight in links:
        if b in beside:
            low, high = sorted((place[a], beside[b]))
            spans[a in above].append((low, high))
        elif (a in above) == (b in above):
            cost += weight * NEIGHBOURS * abs(place[a] - place[b])
            spans[a in above].append((place[a], place[b]) if place[a] < place[b] else (place[b], place[a]))
            if place[b] < place[a] and enclosures[a].rank < enclosures[b].rank:
                cost += BACKWARDS
        else:
            cost += weight * abs(place[a] - place[b])
            drops.append((place[a], place[b]) if a in above else (place[b], place[a]))
    for i, (u, v) in enumerate(drops):
        if cost > most:
            return inf
        cost += CROSSING * sum((u - x) * (v - y) < 0 for x, y in drops[:i])
        cost += CROSSING * sum(low < v < high for low, high in spans[False])
    for runs in spans.values():
        for i, (low, high) in enumerate(runs):
            if cost > most:
                return inf
            cost += CROSSING * sum(low < a < high < b or a < low < b < high for a, b in runs[:i])
    everywhere = {**place, **beside}
    cost += WRONG_SIDE * sum(everywhere[a] > everywhere[b] for a, b in sided)
    for row in rows:
        for i, key in enumerate(row):
            for k in row[:i]:
                if enclosures[k].rank > enclosures[key].rank:
                    cost += MARK_AGAINST if enclosures[key].mark or enclosures[k].mark else AGAINST_WALK
    return cost
