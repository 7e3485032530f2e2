"""Inside one accessory: every way of bringing its cables in, left or right, in every order, and what each costs.

An accessory is a strip of terminal rows with a left and a right port each. A conductor goes straight from its port to
an upright track beside the strip, and along that to the edge where its cable comes in. Few cables come into one
accessory, so all ways are tried; with many, the best found by exchanging two at a time.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import islice, permutations, product

from sheetgen.draw.layout.scene import BOTTOM, TOP, Entry, Inside, Post, Scene
from sheetgen.draw.layout.strip import Way, inside_of
from sheetgen.model.style import Style

KEPT = 14  # ways in that later passes may choose from
EXACT = 400  # ways up to which all are tried


def enter(scene: Scene) -> Scene:
    """The best ways into every post.

    Requires: posts.
    Ensures: `choices` holds for every post at least one Inside; in each, every strand has a port of its own on its
    terminal and an upright track that it shares with no other.
    """
    choices, known = {}, scene.known
    for key, post in scene.posts.items():
        if post.mark:
            choices[key] = _mark_ways(post, scene.style)
            continue
        shape = _shape(post)
        if shape not in known:
            known[shape] = post, _best(post, scene.style)
        twin, found = known[shape]
        choices[key] = found if twin is post else tuple(_renamed(way, twin, post) for way in found)
    return replace(scene, choices=choices)


def _shape(post: Post) -> object:
    """All that the ways in depend on: posts of one shape have the same ways in."""
    entries = tuple(
        (e.edge, e.sheathed, e.tag, e.hangs, tuple((s.terminal, s.width) for s in e.strands)) for e in post.entries
    )
    links = tuple(tuple((s.terminal, s.width) for s in link) for link in post.links)
    hanging = post.hanging and (len(post.hanging.slots), post.hanging.pitch, post.hanging.title_width)
    titles = tuple((t.role, t.width) for t in post.titles)
    return post.groups, entries, links, hanging, titles, post.name_width, post.columns, post.split


def _renamed(way: Inside, twin: Post, post: Post) -> Inside:
    """The same way in for a post of the same shape."""
    keys = {a.key: b.key for ea, eb in zip(twin.entries, post.entries, strict=True)
            for a, b in zip(ea.strands, eb.strands, strict=True)}
    keys |= {a.key: b.key for la, lb in zip(twin.links, post.links, strict=True) for a, b in zip(la, lb, strict=True)}
    cables = {a: b for ea, eb in zip(twin.entries, post.entries, strict=True)
              for a, b in zip(ea.cables, eb.cables, strict=True)}
    return replace(
        way, ports={keys[k]: v for k, v in way.ports.items()}, tracks={keys[k]: v for k, v in way.tracks.items()},
        pins={cables[c]: v for c, v in way.pins.items()},
    )


def _best(post: Post, style: Style) -> tuple[Inside, ...]:
    ways = _all_ways(post) if _count(post) <= EXACT else _climb(post, style)
    found = [inside_of(post, way, style) for way in ways]
    found.sort(key=lambda i: i.cost)
    return tuple(found[:KEPT])


def _count(post: Post) -> int:
    """How many ways in there are: each edge's entries in one order, parted anywhere into left and right."""
    count = 2 ** min(len(post.links), 3)
    for edge in (TOP, BOTTOM):
        for i in range(sum(e.edge == edge for e in post.entries)):
            count *= i + 2
    return count


def _all_ways(post: Post) -> Iterator[Way]:
    tops = [i for i, e in enumerate(post.entries) if e.edge == TOP]
    bottoms = [i for i, e in enumerate(post.entries) if e.edge == BOTTOM]
    sides = list(product((1, -1), repeat=min(len(post.links), 3)))
    for (lt, rt), (lb, rb) in product(list(_partings(tops)), list(_partings(bottoms))):
        if allowed(post, (lt, lb, rt, rb)):
            for side in sides:
                yield (lt, lb, rt, rb), side + (1,) * (len(post.links) - len(side))


def _partings(items: Sequence[int]) -> Iterator[tuple[tuple[int, ...], tuple[int, ...]]]:
    for order in permutations(items):
        for cut in range(len(items) + 1):
            yield order[:cut], order[cut:]


def allowed(post: Post, places: tuple[tuple[int, ...], ...]) -> bool:
    """A pendant's flex has its half of the lower edge to itself; sides are kept where terminals have sides."""
    lt, lb, rt, rb = places
    for below in (lb, rb):
        if len(below) > 1 and any(post.entries[i].hangs for i in below):
            return False
    if not post.split:
        return True
    lefts = {g.left for g in post.groups if g.left != g.right}
    rights = {g.right for g in post.groups if g.left != g.right}

    def fits(entry: Entry, wrong: set[str | None]) -> bool:
        return not any(s.terminal in wrong for s in entry.strands)

    return all(fits(post.entries[i], rights) for i in lt + lb) and all(fits(post.entries[i], lefts) for i in rt + rb)


def _first_way(post: Post) -> Way:
    """Entries by turns left and right, a flex alone on the right, sides kept where terminals have sides."""
    rights = {g.right for g in post.groups if g.left != g.right}
    lefts = {g.left for g in post.groups if g.left != g.right}
    hangs = any(e.hangs for e in post.entries)
    places: list[list[int]] = [[], [], [], []]
    for i, entry in enumerate(post.entries):
        low = entry.edge == BOTTOM
        used = {s.terminal for s in entry.strands}
        right = len(places[low]) > len(places[2 + low])
        if low and hangs:
            right = entry.hangs
        if post.split and used & (lefts | rights):
            right = bool(used & rights)
        places[2 * right + low].append(i)
    return tuple(tuple(p) for p in places), (1,) * len(post.links)


def _climb(post: Post, style: Style) -> list[Way]:
    """The best of many: exchange two entries, or move one, as long as that helps."""
    best = _first_way(post)
    cost = inside_of(post, best, style).cost
    tried = 0
    while tried < EXACT:
        ways = [w for w in _neighbours(best) if allowed(post, w[0])]
        scored = [(inside_of(post, w, style).cost, i) for i, w in enumerate(ways)]
        tried += len(ways)
        least, i = min(scored, default=(cost, -1))
        if least >= cost:
            break
        best, cost = ways[i], least
    return [best, *islice((w for w in _neighbours(best) if allowed(post, w[0])), 4 * KEPT)]


def _neighbours(way: Way) -> Iterator[Way]:
    places, sides = way
    for edge in (0, 1):
        both = [*((edge, i) for i in range(len(places[edge]))), *((edge + 2, i) for i in range(len(places[edge + 2])))]
        for n, (p, i) in enumerate(both):
            for q, j in both[n + 1:]:
                new = [list(x) for x in places]
                new[p][i], new[q][j] = new[q][j], new[p][i]
                yield tuple(map(tuple, new)), sides
            new = [list(x) for x in places]
            new[(p + 2) % 4].append(new[p].pop(i))
            yield tuple(map(tuple, new)), sides


def _mark_ways(post: Post, style: Style) -> tuple[Inside, ...]:
    """A continuation mark has no strip: its cables end side by side on its upper edge, in any order."""
    orders = permutations(post.entries) if len(post.entries) <= 3 else (post.entries, post.entries[::-1])
    return tuple(_mark_inside(post, order, style) for order in orders)


def _mark_inside(post: Post, entries: Sequence[Entry], style: Style) -> Inside:
    m = style.measures
    pins: dict[str, int] = {}
    x, low, high = 0, 0, 0
    for entry in entries:
        span = (len(entry.cables) - 1) * m["pitch"]
        half = max(span + m["pitch"], entry.tag + 100) // 2
        if pins:
            x += half
        pins.update({c: x - span // 2 + i * m["pitch"] for i, c in enumerate(entry.cables)})
        low, high = min(low, x - half), x + half
        x += half
    wide = max(max(t.width for t in post.titles) + 2 * m["edge"] + 200, max(pins.values()) - min(pins.values()) + 400)
    middle = (min(pins.values()) + max(pins.values())) // 2
    box = (middle - wide // 2, middle + wide // 2)
    height = 2 * m["pad"] + 330 * len(post.titles)
    return Inside(
        rows=(), ports={}, tracks={}, pins=pins, strip=0, box=box, reach=(min(low, box[0]), max(high, box[1])),
        title_at=middle, header=0, height=height, cost=0.0,
    )
