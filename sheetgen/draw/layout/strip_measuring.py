"""One way into one accessory, measured: rows, ports, tracks, size, crossings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from sheetgen.draw.layout.scene import Arrangement, CableEntry, Enclosure, Termination
from sheetgen.model.geometry import MM
from sheetgen.model.style import Style

LEFT, RIGHT = -1, 1
PER_ROW = 0.4  # what a row more costs, against one crossing
PER_MM = 0.03
UNEVEN = 0.01
ACROSS = 0.5  # a core that goes over the strip or under it
Key = tuple[str, int]  # Termination.key
Ports = dict[Key, tuple[int, int, int]]  # termination -> side, group, row in the group
Sided = Sequence[tuple[Termination, int]]  # with the side on which it comes in
Halves = Sequence["_Side"]  # left, right
Order = dict[Key, int]  # termination -> a number: its row in the whole strip, or where its track is


class WayIn(NamedTuple):
    """One way of bringing everything in.

    `across` are core ends of the innermost cables that go over the strip, or under it, to the half away from their
    cable.
    """

    places: tuple[tuple[int, ...], ...]
    """Left top, left bottom, right top, right bottom: numbers of entries from the strip outward."""
    link_sides: tuple[int, ...]
    across: frozenset[Key] = frozenset()


@dataclass
class _Side:
    """One half of an accessory: entries from the strip outward."""

    side: int
    tops: tuple[CableEntry, ...]
    bottoms: tuple[CableEntry, ...]
    links: tuple[tuple[Termination, Termination], ...]
    over: tuple[Termination, ...] = ()  # that come over the strip from the other half
    under: tuple[Termination, ...] = ()
    leaving: frozenset[Key] = frozenset()  # that go to the other half
    x: dict[tuple[str, int], int] = field(default_factory=dict)
    """Termination -> distance of its track from the strip's edge; of one that leaves, of its track on this half."""
    from_other: dict[Key, int] = field(default_factory=dict)  # likewise, of those that come from the other half
    centres: dict[str, int] = field(default_factory=dict)  # run -> distance of its middle
    order: Order = field(default_factory=dict)
    out: int = 0  # distance of the outermost ink
    tagged: int = 0  # distance of the outermost tag

    def terminations(self) -> list[Termination]:
        """Every termination landed on this side."""
        entered = [s for e in (*self.tops, *self.bottoms) for s in e.terminations if s.key not in self.leaving]
        return [*self.over, *self.under] + entered + [s for link in self.links for s in link]


def measured(enclosure: Enclosure, way: WayIn, style: Style) -> Arrangement:
    """Measure one way in."""
    halves = _halves(enclosure, way)
    rows, ports, order = _serve(enclosure, halves)
    for half in halves:  # its row is none of this half's: above the first or below the last, inner the further it goes
        own = order | {s.key: -1 - order[s.key] for s in halves[half.side < 0].over if s.key in half.leaving}
        half.order = own | {s.key: 10**5 - order[s.key] for s in halves[half.side < 0].under if s.key in half.leaving}
    strip = _strip_width(enclosure, style) // 2
    bases = [_base(enclosure, half, strip, style) for half in halves]
    _make_title_room(enclosure, halves, bases, strip, style)
    crossings = sum(_tracks(half, base, style) for half, base in zip(halves, bases, strict=True))
    return _measured(enclosure, halves, rows, ports, strip, crossings, style)


def _halves(enclosure: Enclosure, way: WayIn) -> tuple[_Side, _Side]:
    lt, lb, rt, rb = ([enclosure.entries[i] for i in place] for place in way.places)

    def across(entries: list[CableEntry]) -> tuple[Termination, ...]:
        return tuple(s for entry in entries[:1] for s in entry.terminations if s.key in way.across)

    def half(side: int, tops: list[CableEntry], bottoms: list[CableEntry], others: list[list[CableEntry]]) -> _Side:
        links = tuple(link for link, s in zip(enclosure.links, way.link_sides, strict=True) if s == side)
        return _Side(side, tuple(tops), tuple(bottoms), links, across(others[0]), across(others[1]), way.across)

    return half(LEFT, lt, lb, [rt, rb]), half(RIGHT, rt, rb, [lt, lb])


def _serve(enclosure: Enclosure, halves: tuple[_Side, ...]) -> tuple[tuple[int, ...], Ports, Order]:
    """Give every termination a port: from above inner to outer, from below outer to inner, and the links between.

    Where both sides fit a terminal's rows they take different ones, else they share rows left and right.
    """
    queues = {h.side: _queue(h) for h in halves}
    rows: list[int] = []
    ports: Ports = {}
    order: Order = {}
    for number, group in enumerate(enclosure.groups):
        names = {LEFT: group.left, RIGHT: group.right}
        downs = {side: [(s, side) for s in down if s.terminal == names[side]] for side, (down, _) in queues.items()}
        ups = {side: [(s, side) for s in up if s.terminal == names[side]] for side, (_, up) in queues.items()}
        counts = [len(downs[side]) + len(ups[side]) for side in (LEFT, RIGHT)]
        size, first = max(group.rows, *counts), sum(rows)
        if group.left is not None and group.left == group.right and sum(counts) <= group.rows:
            upper = LEFT if len(downs[LEFT]) >= len(downs[RIGHT]) else RIGHT
            _fill(downs[upper] + downs[-upper], ups[-upper] + ups[upper], size, number, first, ports, order)
        else:
            for side in (LEFT, RIGHT):
                _fill(downs[side], ups[side], size, number, first, ports, order)
        rows.append(size)
    return tuple(rows), ports, order


def _queue(half: _Side) -> tuple[list[Termination], list[Termination]]:
    """Strands that take the upper rows, first first; and those that take the lower rows, last row first."""
    down = [s for e in half.tops for s in e.terminations if s.key not in half.leaving]
    up = [s for e in half.bottoms for s in e.terminations if s.key not in half.leaving]
    return [*half.over, *down, *(s for link in half.links for s in link)], [*half.under, *up]


def _fill(downs: Sided, ups: Sided, size: int, group: int, first: int, ports: Ports, order: Order) -> None:
    """Rows from the top for what comes from above, from the bottom for what comes from below."""
    rows = [*enumerate(downs), *((size - 1 - i, up) for i, up in enumerate(ups))]
    for row, (s, side) in rows:
        ports[s.key] = (side, group, row)
        order[s.key] = first + row


def _strip_width(enclosure: Enclosure, style: Style) -> int:
    m = style.measures
    name = enclosure.name_width + 2 * m["name pad"]
    if enclosure.split:
        return 2 * max(name, m["strip"]) + m["device"]
    return max(name, m["strip"]) + m["device"] * enclosure.columns


def _base(enclosure: Enclosure, half: _Side, strip: int, style: Style) -> int:
    """From the strip's edge to the first track: port, sleeve, colour code, a straight piece."""
    m = style.measures
    terminations = half.terminations()
    if not terminations:
        return m["edge"]
    code = max(s.width for s in terminations)
    base = m["port"] + m["sleeve"] + 3 * m["stub gap"] + code + m["stub"]
    if enclosure.pendant and any(e.hangs for e in half.bottoms):
        base = max(base, max(enclosure.pendant.left(style), enclosure.pendant.right(style)) - strip)
    return base


def _make_title_room(enclosure: Enclosure, halves: Halves, bases: list[int], strip: int, style: Style) -> None:
    """Widen until the titles fit between what comes in from above on the left and on the right."""
    m = style.measures
    beside = 2 * (m["danger mark"] + m["danger gap"])  # kept free whether the check finds a danger or not
    widest = max((t.width + (0 if i else beside) for i, t in enumerate(enclosure.titles)), default=0) + 2 * m["edge"]
    short = widest - sum(bases) - 2 * strip - sum(m["edge"] for h in halves if h.bottoms and not h.tops)
    if short <= 0:
        return
    open_sides = [i for i, h in enumerate(halves) if not h.tops] or [0, 1]
    for i in open_sides:
        bases[i] += -(-short // len(open_sides))


def _tracks(half: _Side, base: int, style: Style) -> int:
    """Place the upright tracks of one half, as near to the strip as they can be; the number of crossings."""
    m = style.measures
    pitch = m["pitch"]
    start = base
    for a, b in half.links:
        half.x[a.key] = half.x[b.key] = start
        start += pitch
    order = half.order
    over = {s.key: start + i * pitch for i, s in enumerate(sorted(half.over, key=lambda s: order[s.key]))}
    under = {s.key: start + i * pitch for i, s in enumerate(sorted(half.under, key=lambda s: -order[s.key]))}
    tops = _stack(half.tops, start + len(over) * pitch, order, style, down=True)
    bottoms = _stack(half.bottoms, start + len(under) * pitch, order, style, down=False)
    shift_top, shift_low = _shifts({**tops, **over}, {**bottoms, **under}, order, pitch)
    half.from_other = {key: x + shift_top for key, x in over.items()} | {
        key: x + shift_low for key, x in under.items()}
    for placed, entries, shift in ((tops, half.tops, shift_top), (bottoms, half.bottoms, shift_low)):
        for entry in entries:
            xs = [placed[s.key] + shift for s in entry.terminations]
            half.x.update({s.key: x for s, x in zip(entry.terminations, xs, strict=True)})
            half.centres[entry.run] = (min(xs) + max(xs)) // 2
            half.tagged = max(half.tagged, half.centres[entry.run] + entry.tag // 2)
    half.out = max([*half.x.values(), *half.from_other.values()], default=base - m["edge"])
    return _crossings(half)


def _stack(entries: tuple[CableEntry, ...], start: int, order: Order, style: Style, down: bool) -> Order:
    """Tracks of the entries at one edge, inner to outer; within a cable so that its cores do not cross."""
    m = style.measures
    placed: dict[tuple[str, int], int] = {}
    middle: int | None = None
    last = (0, 0)
    for entry in entries:
        terminations = sorted(entry.terminations, key=lambda s: order[s.key], reverse=not down)
        span = (len(terminations) - 1) * m["pitch"]
        inner = start
        if middle is not None:
            tags = (max(entry.tag, span + 100) + max(last[1], last[0] + 100)) // 2 + 100
            apart = max((span + last[0]) // 2 + m["pitch"] + m["end gap"], tags)
            inner = middle + apart - span // 2
        for i, s in enumerate(terminations):
            placed[s.key] = inner + i * m["pitch"]
        middle, last = inner + span // 2, (span, entry.tag)
    return placed


def _shifts(tops: Order, bottoms: Order, order: Order, pitch: int) -> tuple[int, int]:
    """How far to move one edge's tracks outward so that no two conductors meet on one track."""

    apart = {x - y for a, x in tops.items() for b, y in bottoms.items() if order[a] >= order[b]}

    def free(shift_top: int, shift_low: int) -> bool:
        return all(not -pitch < x + shift_top - shift_low < pitch for x in apart)

    for shift in range(0, 100 * pitch, pitch // 2):
        if free(0, shift):
            return 0, shift
        if free(shift, 0):
            return shift, 0
    return 0, max(tops.values()) + pitch - min(bottoms.values())  # beyond every track from above


def _crossings(half: _Side) -> int:
    """How often the level part of one conductor meets the upright part of another."""
    order, xs = half.order, half.x | half.from_other
    upright = []
    for s in (*half.over, *(s for e in half.tops for s in e.terminations if s.key not in half.leaving)):
        upright.append((xs[s.key], -1, order[s.key], order[s.key]))
    for s in (*half.under, *(s for e in half.bottoms for s in e.terminations if s.key not in half.leaving)):
        upright.append((xs[s.key], order[s.key], 10**6, order[s.key]))
    for a, b in half.links:
        low, high = sorted((order[a.key], order[b.key]))
        upright += [(half.x[a.key], low, high, low), (half.x[a.key], low, low, high)]
    return sum(
        top < row < low for x, _, _, row in upright for other, top, low, _ in upright if other < x
    )


def _measured(
    enclosure: Enclosure, halves: Halves, rows: tuple[int, ...], ports: Ports, strip: int, crossings: int, style: Style
) -> Arrangement:
    m = style.measures
    left, right = halves
    tracks = {key: h.side * (strip + x) for h in halves for key, x in h.x.items()}
    own = {key: x for key, x in tracks.items() if key in left.leaving}
    tracks |= {key: h.side * (strip + x) for h in halves for key, x in h.from_other.items()}
    pins: dict[str, int] = {}
    for h in halves:
        for entry in (*h.tops, *h.bottoms):
            pins[entry.run] = h.side * (strip + h.centres[entry.run])
    box = (-(strip + left.out + m["edge"]), strip + right.out + m["edge"])
    reach = [min(box[0], -(strip + left.tagged)), max(box[1], strip + right.tagged)]
    pendant = enclosure.pendant
    if pendant:
        pin = pins[pendant.entry.cables[0]]
        reach = [min(reach[0], pin - pendant.left(style)), max(reach[1], pin + pendant.right(style))]
    header, height = _heights(enclosure, halves, rows, style)
    levels = _levels_across(halves, header, height, style)
    title_at = (_innermost(right, m["edge"]) - _innermost(left, m["edge"])) // 2
    width, uneven = reach[1] - reach[0], abs(box[0] + box[1])
    cost = crossings + PER_ROW * sum(rows) + (PER_MM * width + UNEVEN * uneven) / MM
    across = {key: (x, levels[key]) for key, x in own.items()}
    cost += ACROSS * len(across)
    return Arrangement(
        rows, ports, tracks, pins, strip, box, (reach[0], reach[1]), title_at, header, height, cost, crossings, across
    )


def _levels_across(halves: Halves, header: int, height: int, style: Style) -> dict[Key, int]:
    """The y at which core ends go over the strip or under it: the further in its row, the nearer to its cable."""
    m = style.measures
    found: dict[Key, int] = {}
    for half in halves:
        over = sorted(half.over, key=lambda s: half.order[s.key])
        found |= {s.key: header - m["pitch"] // 2 - i * m["pitch"] for i, s in enumerate(over)}
        under = sorted(half.under, key=lambda s: -half.order[s.key])
        foot = height - m["mouth"] - m["pad"] - len(under) * m["pitch"]
        found |= {s.key: foot + m["pitch"] // 2 + i * m["pitch"] for i, s in enumerate(under)}
    return found


def _innermost(half: _Side, edge: int) -> int:
    """How far titles may reach on one side: to the innermost track from above, else to the enclosure."""
    return min((half.x[s.key] for e in half.tops for s in e.terminations), default=half.out + edge)


def _heights(enclosure: Enclosure, halves: Halves, rows: tuple[int, ...], style: Style) -> tuple[int, int]:
    """Height of what stands above the first row, and of the enclosure."""
    m = style.measures
    lines = len(enclosure.titles)
    sheath_end = m["mouth"] + m["pad"] if any(h.tops for h in halves) else 0
    header = max(m["pad"] // 2 + 320 * lines + 40, sheath_end) + sum(len(h.over) for h in halves) * m["pitch"]
    used = [n for n in rows if n]
    body = sum(used) * m["row"] + max(len(used) - 1, 0) * m["terminal gap"]
    foot = m["mouth"] + m["pad"] if any(h.bottoms for h in halves) else m["pad"]
    foot += sum(len(h.under) for h in halves) * m["pitch"]
    return header, header + body + foot


def row_middles(enclosure: Enclosure, inside: Arrangement, style: Style) -> tuple[tuple[int, ...], ...]:
    """The y of every row of every group, from the enclosure's top."""
    m = style.measures
    y, middles = inside.header, []
    for count in inside.rows:
        middles.append(tuple(y + i * m["row"] + m["row"] // 2 for i in range(count)))
        y += count * m["row"] + (m["terminal gap"] if count else 0)
    return tuple(middles)
