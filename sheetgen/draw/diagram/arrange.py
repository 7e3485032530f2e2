"""From a schematic to its plan: a column, a row and a way round for every symbol, a route for every wire.

Requires: a schematic. Ensures: no two symbols overlap, every wire runs from pin to pin through the channels, and among
the arrangements tried none has a lower cost of length, turns and crossings.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from sheetgen.draw.diagram.branches import Arranged, arranged
from sheetgen.draw.diagram.columns import columns_of
from sheetgen.draw.diagram.heights import Gap, heights
from sheetgen.draw.diagram.order import RAIL, Order, RoughRun, RunEnd, order_of
from sheetgen.draw.diagram.structure import LEFT, RIGHT, Structure, structure_of
from sheetgen.draw.diagram.tracks import tracks_of, upright
from sheetgen.model.diagram import ChannelRun, DiagramPlan, Schematic, SymbolPlace

TRIES = 12  # in which one pair of a channel is moved apart at a time; from then on all
CROSSING = 10  # what a crossing costs, where a column passed costs THROUGH
# In half rows: how far the wires of a pin lie apart, the pins of a contact, and what a symbol needs above and below.
WIRE_APART, PIN_APART = 2, 4
LOADS = ("lamp", "fan", "electronics")
ABOVE = {"joint": 3, "end": 3, "unknown": 4, "lamp": 5, "fan": 5, "electronics": 5}
BELOW = {"joint": 1, "end": 1, "unknown": 2}
RUNG_APART = 6
CONTACT_ABOVE, SYMBOL_BELOW, PASSING = 5, 2, 1
STRAIGHT, PASSING_STRAIGHT, TURNING = 4, 8, 1  # how strongly the two ends of a wire pull at one another
TO_LOAD = 3  # times as strongly where one is a lamp


def plan_of(schematic: Schematic) -> DiagramPlan:
    """Where everything of a schematic stands."""
    found = arranged(structure_of(schematic), _arranged)
    return DiagramPlan(schematic, found.places, found.routes, found.columns, found.crossings)


Fans = dict[tuple[int, int], int]  # (rough, end) -> the row on which it leaves its pin, relative to the pin's


@dataclass(frozen=True)
class Body:
    """A symbol's rows, relative to its first pin: the row of each pin on the left and the right, and its extent."""

    pins: tuple[tuple[int, ...], tuple[int, ...]]
    top: int
    bottom: int


@lru_cache(maxsize=256)
def _arranged(net: Structure) -> Arranged:
    order = _best(net)
    fans: Fans = {}
    bodies = [_body(net, order, i, fans) for i in range(len(net.kinds))]
    fans = _fans(order, bodies, _rows(order, bodies, fans))
    bodies = [_body(net, order, i, fans) for i in range(len(net.kinds))]
    rows, tracks = _rows_and_tracks(order, bodies, fans)
    places = tuple(
        SymbolPlace(column, rows[i], bodies[i].pins, turned, order.over[i])
        for i, (column, turned) in enumerate(order.seats)
    )
    routes: list[list[ChannelRun]] = [[] for _ in net.ends]
    links = [rough for rough in order.rough_runs if _is_link(rough)]
    for number, rough in enumerate(order.rough_runs):
        if rough in links:
            continue
        sides, ends = _ends(order, bodies, fans, rows, number)
        if rough.wire in order.backwards:
            routes[rough.wire].insert(0, ChannelRun(rough.channel, sides[::-1], ends[::-1], tracks.get(number, -1)))
        else:
            routes[rough.wire].append(ChannelRun(rough.channel, sides, ends, tracks.get(number, -1)))
    below = max([-WIRE_APART, *(row for route in routes for run in route for row in run.rows)])
    below = max([below, *(place.row + row + _below_pins(net, i)
                          for i, place in enumerate(places) for side in place.pins for row in side)])
    for n, rough in enumerate(links, 1):  # each on a row of its own
        row = below + n * WIRE_APART
        routes[rough.wire].append(ChannelRun(rough.channel, (rough.ends[0].edge, rough.ends[1].edge), (row, row)))
    height = max([*(rows[i] + body.bottom for i, body in enumerate(bodies)), below + SYMBOL_BELOW * (len(links) + 1)])
    return Arranged(places, tuple(tuple(route) for route in routes), len(order.columns), order.cost()[0], height)


def _is_link(rough: RoughRun) -> bool:
    """Whether a wire runs straight from one rail to another."""
    return rough.ends[0].item == RAIL == rough.ends[1].item


def _best(net: Structure) -> Order:
    """The cheapest of the orders of the columns tried: of a diagram too large to be searched through, the first."""
    best: tuple[int, Order] | None = None
    for cost, seats in columns_of(net):
        if best is not None and cost >= best[0]:
            break
        order = order_of(net, seats)
        total = cost + CROSSING * order.cost()[0]
        if best is None or total < best[0]:
            best = (total, order)
        if order.left <= 0:
            break
    assert best is not None, "there is always one start"
    return best[1]


def _rows_and_tracks(order: Order, bodies: list[Body], fans: Fans) -> tuple[list[int], dict[int, int]]:
    """The row of every item, moved until in each channel the uprights can stand without one lying on another.

    It comes to an end: what is moved apart stays so, and it is always an item that comes to lie below one of the column
    before.
    """
    apart: list[Gap] = []
    tried = 0
    while True:
        tried += 1
        rows = _rows(order, bodies, fans, apart)
        rows = [row - _top(rows, bodies) for row in rows]
        tracks, clashes = _tracks(order, bodies, fans, rows, 1 if tried < TRIES else None)
        if clashes is None:
            return rows, tracks
        assert clashes, "two wires of a diagram lie on one another"
        apart += clashes


def _tracks(
    order: Order, bodies: list[Body], fans: Fans, rows: list[int], most: int | None
) -> tuple[dict[int, int], list[Gap] | None]:
    """The track of every rough that has an upright; and what is to be moved apart, None where they all can stand.

    Of each channel so many at most.
    """
    tracks: dict[int, int] = {}
    clashes: list[Gap] = []
    stand = True
    for k in range(len(order.by_channel)):
        numbers, uprights = [], []
        for number, rough in enumerate(order.rough_runs):
            if rough.channel != k or _is_link(rough):
                continue
            found = upright(*_ends(order, bodies, fans, rows, number))
            if found is not None:
                numbers.append(number)
                uprights.append(found)
        given, clear = tracks_of(uprights)
        tracks.update(zip(numbers, given, strict=True))
        if not clear:
            stand = False
            clashes += _clashes(order, bodies, fans, rows, numbers)[:most]
    return tracks, None if stand else clashes


def _clashes(order: Order, bodies: list[Body], fans: Fans, rows: list[int], numbers: list[int]) -> list[Gap]:
    """Ends on opposite edges of a channel that share a row though no wire joins them: the right one is to lie lower."""
    ends = [(lies, number, end) for number in numbers for end, lies in enumerate(order.rough_runs[number].ends)
            if lies.item != RAIL]
    still = [0] * len(rows)
    found = []
    for a, na, ea in ends:
        for b, nb, eb in ends:
            if na != nb and a.edge == LEFT and b.edge == RIGHT and a.item != b.item:
                ra, rb = _row_at(bodies, fans, rows, na, ea, a), _row_at(bodies, fans, rows, nb, eb, b)
                if ra == rb:
                    off = _row_at(bodies, fans, still, na, ea, a) - _row_at(bodies, fans, still, nb, eb, b)
                    found.append((a.item, b.item, off + 1))
    return found


def _ends(
    order: Order, bodies: list[Body], fans: Fans, rows: list[int], number: int
) -> tuple[tuple[int, int], tuple[int, int]]:
    """The edges and the rows of the two ends of a run; an end at a rail is level with the other."""
    ends = order.rough_runs[number].ends
    a, b = (
        None if lies.item == RAIL else _row_at(bodies, fans, rows, number, end, lies) for end, lies in enumerate(ends)
    )
    a, b = (b if a is None else a), (a if b is None else b)
    return (ends[0].edge, ends[1].edge), (a or 0, b or 0)


def _top(rows: list[int], bodies: list[Body]) -> int:
    tops = [rows[i] + body.top for i, body in enumerate(bodies)] + [row - PASSING for row in rows[len(bodies):]]
    return min(tops, default=0)


def _row_at(bodies: list[Body], fans: Fans, rows: list[int], number: int, end: int, lies: RunEnd) -> int:
    """The row on which a wire's end leaves its item, which is no rail."""
    if lies.item >= len(bodies):
        return rows[lies.item]
    return rows[lies.item] + bodies[lies.item].pins[1 - lies.edge][lies.pin] + fans.get((number, end), 0)


def _fans(order: Order, bodies: list[Body], rows: list[int]) -> Fans:
    """Where several wires share a pin: the rows, relative to the pin's, on which they leave it without crossing."""
    at_pin: dict[tuple[int, int, int], list[tuple[tuple[int, int], int, int]]] = {}
    for number, rough in enumerate(order.rough_runs):
        for end, lies in enumerate(rough.ends):
            if 0 <= lies.item < len(bodies):
                other = rough.ends[1 - end]
                here = _row_at(bodies, {}, rows, number, end, lies)
                rise = 0 if other.item == RAIL else _row_at(bodies, {}, rows, number, 1 - end, other) - here
                back = lies.edge == other.edge  # it turns back to the same edge: outermost, the nearest goal first
                key = (-1 if rise < 0 else 1, -rise) if back else (0, rise)
                at_pin.setdefault((lies.item, lies.edge, lies.pin), []).append((key, number, end))
    fans = {}
    for leaving in at_pin.values():
        leaving.sort()
        level = min(range(len(leaving)), key=lambda i: (abs(leaving[i][0][0]), abs(leaving[i][0][1])))
        for i, (_, number, end) in enumerate(leaving):
            fans[number, end] = (i - level) * WIRE_APART
    return fans


def _body(net: Structure, order: Order, i: int, fans: Fans) -> Body:
    """The rows of a symbol's pins and of the wires at them."""
    turned, over = order.seats[i][1], order.over[i]
    wires: dict[tuple[int, int], list[int]] = {}
    for number, rough in enumerate(order.rough_runs):
        for end, lies in enumerate(rough.ends):
            if lies.item == i:
                wires.setdefault((1 - lies.edge, lies.pin), []).append(fans.get((number, end), 0))
    counts = net.pins[i][::-1] if turned else net.pins[i]
    sides = []
    for side in (0, 1):
        numbers = list(range(counts[side]))[:: -1 if over else 1]
        sides.append([(pin, *_reach(wires.get((side, pin), []))) for pin in numbers])
    (left, right), top, bottom = _stacked(sides[0], sides[1])
    kind = net.kinds[i]
    return Body(
        (tuple(left[pin] for pin in sorted(left)), tuple(right[pin] for pin in sorted(right))),
        top - ABOVE.get(kind, CONTACT_ABOVE),
        bottom + BELOW.get(kind, SYMBOL_BELOW) + _below_pins(net, i),
    )


def _below_pins(net: Structure, i: int) -> int:
    """How many rows the further rungs of a symbol reach below its pins."""
    return max(0, net.rungs[i] - 1) * RUNG_APART


def _reach(offsets: list[int]) -> tuple[int, int]:
    return min(offsets, default=0), max(offsets, default=0)


def _stacked(
    left: list[tuple[int, int, int]], right: list[tuple[int, int, int]]
) -> tuple[tuple[dict[int, int], dict[int, int]], int, int]:
    """The row of every pin on both sides, the shorter side against the middle of the longer; top and bottom row."""
    if len(left) == len(right):
        both = [(0, min(a[1], b[1]), max(a[2], b[2])) for a, b in zip(left, right, strict=True)]
        rows = [_column(both), _column(both)]
    else:
        rows = [_column(left), _column(right)]
        spare = [(row[-1] if row else 0) for row in rows]
        short = spare.index(min(spare))
        rows[short] = [row + abs(spare[0] - spare[1]) // 2 for row in rows[short]]
    ends = [(row + up, row + down) for side, row_s in zip((left, right), rows, strict=True)
            for (_, up, down), row in zip(side, row_s, strict=True)]
    named = [{pin: row for (pin, _, _), row in zip(side, row_s, strict=True)}
             for side, row_s in zip((left, right), rows, strict=True)]
    return (named[0], named[1]), min(up for up, _ in ends), max(down for _, down in ends)


def _column(pins: list[tuple[int, int, int]]) -> list[int]:
    rows: list[int] = []
    for i, (_, up, _) in enumerate(pins):
        rows.append(0 if i == 0 else rows[-1] + max(PIN_APART, pins[i - 1][2] + WIRE_APART - up))
    return rows


def _rows(order: Order, bodies: list[Body], fans: Fans, apart: Sequence[Gap] = ()) -> list[int]:
    """The row of every item: symbols, then the wires that pass a column."""
    count = len(bodies) + len(order.through)

    still = [0] * count
    pulls = []
    for number, rough in enumerate(order.rough_runs):
        p, q = rough.ends
        if p.item != RAIL and q.item != RAIL and p.item != q.item:
            passing = p.item >= len(bodies) and q.item >= len(bodies)
            weight = TURNING if p.edge == q.edge else PASSING_STRAIGHT if passing else STRAIGHT
            loads = [t for t in (p, q) if t.item < len(bodies) and order.net.kinds[t.item] in LOADS]
            weight *= TO_LOAD if loads else 1
            off = _row_at(bodies, fans, still, number, 0, p) - _row_at(bodies, fans, still, number, 1, q)
            pulls.append((p.item, q.item, off, weight))
    gaps = list(apart)
    for column in order.columns:
        for above, below in itertools.pairwise(column):
            bottom = bodies[above].bottom if above < len(bodies) else PASSING
            top = bodies[below].top if below < len(bodies) else -PASSING
            gaps.append((above, below, bottom - top))
    return heights(count, pulls, gaps)
