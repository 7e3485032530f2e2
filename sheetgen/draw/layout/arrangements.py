"""Inside one accessory: every way of bringing its cables in, left or right, in every order, and what each costs.

An accessory is a strip of terminal rows with a left and a right port each. A conductor goes straight from its port to
an upright track beside the strip, and along that to the edge where its cable comes in. Few cables come into one
accessory, so all ways are tried; with many, the best found by exchanging two at a time.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import islice, permutations, product
from math import factorial

from sheetgen.draw.layout.overview import box_arrangements
from sheetgen.draw.layout.pendants import pendant_height
from sheetgen.draw.layout.scene import BOTTOM, TOP, Arrangement, CableEntry, Enclosure, Scene
from sheetgen.draw.layout.strip_measuring import WayIn, measured
from sheetgen.draw.layout.weighing import SAME
from sheetgen.model.style import Style

KEPT = 14  # ways in that later passes may choose from
ALIKE = 48  # of ways as good as the best, for then only what lies outside tells which is better
PARTED = 6  # of these, ways of which some cores may also be led to the other half
EXACT = 400  # ways up to which all are tried


def find_arrangements(scene: Scene) -> Scene:
    """The best ways into every enclosure.

    Requires: enclosures.
    Ensures: `choices` holds for every enclosure at least one Arrangement; in each, every
    termination has a port of its own on its terminal and an upright track that it shares with no other.
    """
    choices, measures = {}, tuple(sorted(scene.style.measures.items()))
    for key, enclosure in scene.enclosures.items():
        if enclosure.mark:
            choices[key] = _mark_arrangements(enclosure, scene.style)
            continue
        if enclosure.boxed:
            choices[key] = box_arrangements(enclosure, scene.style)
            continue
        if enclosure.gutter or enclosure.lampholder:
            choices[key] = (_plain_arrangement(enclosure, scene.style),)
            continue
        twin, found = KNOWN.ways((measures, *_shape(enclosure)), enclosure, scene.style)
        choices[key] = found if twin is enclosure else tuple(_renamed(way, twin, enclosure) for way in found)
    return replace(scene, choices=choices)


class KnownWays:
    """The ways into enclosures met lately, over all layouts: a house, and a street, has few shapes of enclosure."""

    def __init__(self, most: int = 2000):
        self.most = most
        self.found: OrderedDict[object, tuple[Enclosure, tuple[Arrangement, ...]]] = OrderedDict()

    def ways(self, shape: object, enclosure: Enclosure, style: Style) -> tuple[Enclosure, tuple[Arrangement, ...]]:
        """The best ways into an enclosure of that shape, and the enclosure for which they were found."""
        if shape in self.found:
            self.found.move_to_end(shape)
        else:
            self.found[shape] = enclosure, _best(enclosure, style)
            if len(self.found) > self.most:
                self.found.popitem(last=False)
        return self.found[shape]


KNOWN = KnownWays()


def _shape(enclosure: Enclosure) -> tuple[object, ...]:
    """All that the ways in depend on: enclosures of one shape have the same ways in."""
    entries = tuple(
        (e.edge, e.sheathed, e.tag, e.hangs, tuple((s.terminal, s.width) for s in e.terminations))
        for e in enclosure.entries
    )
    links = tuple(tuple((s.terminal, s.width) for s in link) for link in enclosure.links)
    hung = enclosure.pendant
    pendant = hung and (len(hung.slots), hung.pitch, hung.title_width)
    titles = tuple((t.role, t.width) for t in enclosure.titles)
    return enclosure.groups, entries, links, pendant, titles, enclosure.name_width, enclosure.columns, enclosure.split


def _renamed(way: Arrangement, twin: Enclosure, enclosure: Enclosure) -> Arrangement:
    """The same way in for an enclosure of the same shape."""
    keys = {a.key: b.key for ea, eb in zip(twin.entries, enclosure.entries, strict=True)
            for a, b in zip(ea.terminations, eb.terminations, strict=True)}
    keys |= {a.key: b.key for la, lb in zip(twin.links, enclosure.links, strict=True)
             for a, b in zip(la, lb, strict=True)}
    routes = {a: b for ea, eb in zip(twin.entries, enclosure.entries, strict=True)
              for a, b in zip(ea.routes, eb.routes, strict=True)}
    return replace(
        way, ports={keys[k]: v for k, v in way.ports.items()}, across={keys[k]: v for k, v in way.across.items()},
        tracks={keys[k]: v for k, v in way.tracks.items()},
        pins={routes[c]: v for c, v in way.pins.items()},
    )


def _best(enclosure: Enclosure, style: Style) -> tuple[Arrangement, ...]:
    ways = _all_ways(enclosure) if _count(enclosure) <= EXACT else _climb(enclosure, style)
    found = [(measured(enclosure, way, style), way) for way in ways]
    found.sort(key=lambda pair: pair[0].cost)
    alike = sum(arrangement.cost < found[0][0].cost + SAME for arrangement, _ in found[:ALIKE])
    kept = [arrangement for arrangement, _ in found[:max(KEPT, alike)]]
    for arrangement, way in found[:PARTED]:
        better = _with_cores_parted(enclosure, way, arrangement, style)
        if better is not arrangement:
            kept.append(better)
    return tuple(sorted(kept, key=lambda arrangement: arrangement.cost))


def _with_cores_parted(enclosure: Enclosure, way: WayIn, best: Arrangement, style: Style) -> Arrangement:
    """The same way in with cores of the innermost cables led over or under the strip, as long as that is better."""
    if enclosure.split:
        return best
    while best.crossings:
        tries = [way._replace(across=way.across | {key}) for key in _may_go_across(enclosure, way)]
        found = [(measured(enclosure, new, style), i) for i, new in enumerate(tries)]
        least, i = min(found, key=lambda pair: pair[0].cost, default=(best, -1))
        if least.cost >= best.cost:
            break
        best, way = least, tries[i]
    return best


def _may_go_across(enclosure: Enclosure, way: WayIn) -> list[tuple[str, int]]:
    """Core ends of the innermost cable on one side of each edge, but for the cable's last one."""
    found = []
    for edge in (0, 1):
        sides = [enclosure.entries[p[0]] for p in (way.places[edge], way.places[edge + 2]) if p]
        keys = [[s.key for s in entry.terminations] if entry.sheathed else [] for entry in sides]
        if any(way.across.intersection(k) for k in keys):
            keys = [k for k in keys if way.across.intersection(k)]
        for those in keys:
            free = [key for key in those if key not in way.across]
            found += free if len(free) > 1 else []
    return found


def _count(enclosure: Enclosure) -> int:
    """How many ways in there are: each edge's entries in one order, parted anywhere into left and right.

    Beside a pendant's flex, which has its half to itself, they are not parted.
    """
    count = 1 << min(len(enclosure.links), 3)
    for edge in (TOP, BOTTOM):
        entries = [e for e in enclosure.entries if e.edge == edge]
        hung = any(e.hangs for e in entries)
        count *= 2 * factorial(len(entries) - 1) if hung else factorial(len(entries) + 1)
    return count


def _all_ways(enclosure: Enclosure) -> Iterator[WayIn]:
    tops = [i for i, e in enumerate(enclosure.entries) if e.edge == TOP]
    bottoms = [i for i, e in enumerate(enclosure.entries) if e.edge == BOTTOM]
    sides = list(product((1, -1), repeat=min(len(enclosure.links), 3)))
    for (lt, rt), (lb, rb) in product(list(_partings(tops)), list(_partings(bottoms))):
        if allowed(enclosure, (lt, lb, rt, rb)):
            for side in sides:
                yield WayIn((lt, lb, rt, rb), side + (1,) * (len(enclosure.links) - len(side)))


def _partings(items: Sequence[int]) -> Iterator[tuple[tuple[int, ...], tuple[int, ...]]]:
    for order in permutations(items):
        for cut in range(len(items) + 1):
            yield order[:cut], order[cut:]


def allowed(enclosure: Enclosure, places: tuple[tuple[int, ...], ...]) -> bool:
    """A pendant's flex has its half of the lower edge to itself; sides are kept where terminals have sides."""
    lt, lb, rt, rb = places
    for below in (lb, rb):
        if len(below) > 1 and any(enclosure.entries[i].hangs for i in below):
            return False
    if not enclosure.split:
        return True
    lefts = {g.left for g in enclosure.groups if g.left != g.right}
    rights = {g.right for g in enclosure.groups if g.left != g.right}

    def fits(entry: CableEntry, wrong: set[str | None]) -> bool:
        return not any(s.terminal in wrong for s in entry.terminations)

    left, right = ([enclosure.entries[i] for i in half] for half in (lt + lb, rt + rb))
    return all(fits(entry, rights) for entry in left) and all(fits(entry, lefts) for entry in right)


def _first_way(enclosure: Enclosure) -> WayIn:
    """Entries by turns left and right, a flex alone on the right, sides kept where terminals have sides."""
    rights = {g.right for g in enclosure.groups if g.left != g.right}
    lefts = {g.left for g in enclosure.groups if g.left != g.right}
    hangs = any(e.hangs for e in enclosure.entries)
    places: list[list[int]] = [[], [], [], []]
    for i, entry in enumerate(enclosure.entries):
        low = entry.edge == BOTTOM
        used = {s.terminal for s in entry.terminations}
        right = len(places[low]) > len(places[2 + low])
        if low and hangs:
            right = entry.hangs
        if enclosure.split and used & (lefts | rights):
            right = bool(used & rights)
        places[2 * right + low].append(i)
    return WayIn(tuple(tuple(p) for p in places), (1,) * len(enclosure.links))


def _climb(enclosure: Enclosure, style: Style) -> list[WayIn]:
    """The best of many: exchange two entries, or move one, as long as that helps."""
    best = _first_way(enclosure)
    cost = measured(enclosure, best, style).cost
    tried = 0
    while tried < EXACT:
        ways = [w for w in _neighbours(best) if allowed(enclosure, w[0])]
        scored = [(measured(enclosure, w, style).cost, i) for i, w in enumerate(ways)]
        tried += len(ways)
        least, i = min(scored, default=(cost, -1))
        if least >= cost:
            break
        best, cost = ways[i], least
    return [best, *islice((w for w in _neighbours(best) if allowed(enclosure, w[0])), 4 * KEPT)]


def _neighbours(way: WayIn) -> Iterator[WayIn]:
    places, sides, _ = way
    for edge in (0, 1):
        both = [*((edge, i) for i in range(len(places[edge]))), *((edge + 2, i) for i in range(len(places[edge + 2])))]
        for n, (p, i) in enumerate(both):
            for q, j in both[n + 1:]:
                new = [list(x) for x in places]
                new[p][i], new[q][j] = new[q][j], new[p][i]
                yield WayIn(tuple(map(tuple, new)), sides)
            new = [list(x) for x in places]
            new[(p + 2) % 4].append(new[p].pop(i))
            yield WayIn(tuple(map(tuple, new)), sides)


def _plain_arrangement(enclosure: Enclosure, style: Style) -> Arrangement:
    """A lampholder that stands by itself, under its flex; or a gutter, which is no more than a line."""
    (entry,) = enclosure.entries
    pendant = enclosure.pendant
    box = (-pendant.body_left(style), pendant.body_right(style)) if pendant else (0, 0)
    reach = (-pendant.left(style), pendant.right(style)) if pendant else (0, 0)
    reach = (min(reach[0], -(entry.tag // 2)), max(reach[1], entry.tag // 2)) if pendant else reach
    return Arrangement(
        rows=(), ports={}, tracks={}, pins=dict.fromkeys(entry.routes, 0), strip=0, box=box, reach=reach, title_at=0,
        header=0, height=pendant_height(pendant, style) if pendant else 0, cost=0.0,
    )


def _mark_arrangements(enclosure: Enclosure, style: Style) -> tuple[Arrangement, ...]:
    """A continuation mark has no strip: its cables end side by side on its upper edge, in any order."""
    entries = enclosure.entries
    orders = permutations(entries) if len(entries) <= 3 else iter((entries, entries[::-1]))
    return tuple(_mark_arrangement(enclosure, order, style) for order in orders)


def _mark_arrangement(enclosure: Enclosure, entries: Sequence[CableEntry], style: Style) -> Arrangement:
    m = style.measures
    pins: dict[str, int] = {}
    x, low, high = 0, 0, 0
    for entry in entries:
        span = (len(entry.routes) - 1) * m["pitch"]
        half = max(span + m["lane" if entry.sheathed else "pitch"], entry.tag + 100) // 2
        if pins:
            x += half
        pins.update({c: x - span // 2 + i * m["pitch"] for i, c in enumerate(entry.routes)})
        low, high = min(low, x - half), x + half
        x += half
    written = max(t.width for t in enclosure.titles) + 2 * m["edge"] + 200
    wide = max(written, max(pins.values()) - min(pins.values()) + 400)
    middle = (min(pins.values()) + max(pins.values())) // 2
    box = (middle - wide // 2, middle + wide // 2)
    height = 2 * m["pad"] + 330 * len(enclosure.titles)
    return Arrangement(
        rows=(), ports={}, tracks={}, pins=pins, strip=0, box=box, reach=(min(low, box[0]), max(high, box[1])),
        title_at=middle, header=0, height=height, cost=0.0,
    )
