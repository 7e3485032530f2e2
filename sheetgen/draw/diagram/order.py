"""The order of symbols and passing wires in each column, from top to bottom: the fewest crossings that can be found."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import combinations, groupby, product
from operator import itemgetter

from sheetgen.draw.diagram.columns import ColumnAndTurn, Port, ports_of, wire_cost
from sheetgen.draw.diagram.structure import ANY, LEFT, RIGHT, End, Structure

RAIL = -1  # the item at the end of a wire that is a rail: at whatever height suits the wire
MANY = 1000  # more than pins on a side
BOTH_RAILS = 3  # the kind of span that crosses nothing: a wire from rail to rail
SWEEPS = 6
MOST_WEIGHED = 200_000  # runs that are looked at for one order: a diagram so large is drawn as far as it got


Span = tuple[int, int, int]  # kind, from, to


@dataclass(frozen=True)
class RunEnd:
    """The end of a run: the edge of the channel, the item it lies on, its pin counted from the top, of how many."""

    edge: int
    item: int
    pin: int = 0
    pins: int = 1


@dataclass(frozen=True)
class RoughRun:
    """A wire's stretch through one channel, before rows are known."""

    wire: int
    channel: int
    ends: tuple[RunEnd, RunEnd]


@dataclass
class Order:
    """Items from top to bottom in each column; items beyond the symbols are wires passing a column."""

    net: Structure
    seats: tuple[ColumnAndTurn, ...]
    columns: list[list[int]]
    rough_runs: list[RoughRun]
    over: list[bool]
    through: list[tuple[int, int]] = field(default_factory=list)  # of each passing item: wire, column
    place: dict[int, int] = field(default_factory=dict)
    by_channel: list[list[RoughRun]] = field(default_factory=list)
    left: int = field(default_factory=lambda: MOST_WEIGHED)  # of the pairs that may be looked at
    backwards: set[int] = field(default_factory=set)  # wires whose runs lead from their second end to their first

    def settle_places(self) -> None:
        """Number the items of every column."""
        for column in self.columns:
            for i, item in enumerate(column):
                self.place[item] = i

    def key(self, lies: RunEnd) -> int:
        """How far down an end lies on its edge."""
        pin = lies.pins - 1 - lies.pin if lies.item < len(self.over) and self.over[lies.item] else lies.pin
        return self.place[lies.item] * MANY + pin

    def cost(self, channels: Sequence[int] | None = None) -> tuple[int, int]:
        """Crossings in these channels, or in all; and how far the ends of the wires lie apart, counted in items.

        Between orders that cross alike the straighter is better.
        """
        crossings = slant = 0
        for k in range(len(self.by_channel)) if channels is None else channels:
            spans = [span for span in (_span(self, rough) for rough in self.by_channel[k]) if span[0] != BOTH_RAILS]
            crossings += _crossings(spans)
            self.left -= len(spans)
            slant += sum(abs(a // MANY - b // MANY) for _, a, b in spans)
        return crossings, slant


def _span(order: Order, rough: RoughRun) -> Span:
    """(kind, from, to): kind 0 runs from left edge to right; 1 and 2 turn back to the left or right edge."""
    p, q = rough.ends
    if p.item == RAIL and q.item == RAIL:
        return BOTH_RAILS, 0, 0
    kp = order.key(q) if p.item == RAIL else order.key(p)
    kq = order.key(p) if q.item == RAIL else order.key(q)
    if p.edge == q.edge:
        return 1 + p.edge, min(kp, kq), max(kp, kq)
    return (0, kp, kq) if p.edge == LEFT else (0, kq, kp)


def _crossings(spans: Sequence[Span]) -> int:
    """How many pairs of spans cross: two from edge to edge that change places, one of them that leaves within one that
    turns back, two that turn back at the same edge and of which one begins within the other and ends beyond it."""
    straight = sorted(span for span in spans if span[0] == 0)
    found = 0
    ends: list[int] = []  # of those before, from top to bottom
    for _, alike in groupby(straight, key=itemgetter(1)):
        here = [end for _, _, end in alike]
        found += sum(len(ends) - bisect_right(ends, end) for end in here)
        ends = sorted(ends + here)
    for edge in (1, 2):
        at = sorted(span[edge] for span in straight)
        turning = sorted(span for span in spans if span[0] == edge)
        found += sum(max(0, bisect_left(at, high) - bisect_right(at, low)) for _, low, high in turning)
        found += sum(1 for a, b in combinations(turning, 2) if a[1] < b[1] < a[2] < b[2])
    return found


def order_of(net: Structure, seats: tuple[ColumnAndTurn, ...]) -> Order:
    """SymbolPlace every wire in its channels, and find the order with the fewest crossings."""
    order = _laid(net, seats)
    for _ in range(SWEEPS):
        before = order.cost()
        for k in range(len(order.columns)):
            _improve(order, k)
        for wire in dict.fromkeys(wire for wire, _ in order.through):
            if order.left > 0:
                _around(order, wire)
        if order.cost() >= before or order.left <= 0:
            break
    return order


def _laid(net: Structure, seats: tuple[ColumnAndTurn, ...]) -> Order:
    count = max((column for column, _ in seats), default=-1) + 1
    columns: list[list[int]] = [[i for i, (c, _) in enumerate(seats) if c == k] for k in range(count)]
    order = Order(net, seats, columns, [], [False] * len(seats))
    for wire, ends in enumerate(net.ends):
        start, goal = _sides(net, ends, seats, count)
        if goal[0][0] < start[0][0]:
            start, goal = goal, start
            order.backwards.add(wire)
        _lay(order, wire, start, goal)
    order.by_channel = [[r for r in order.rough_runs if r.channel == k] for k in range(count + 1)]
    order.settle_places()
    return order


def _sides(
    net: Structure, ends: tuple[End, End], seats: tuple[ColumnAndTurn, ...], count: int
) -> tuple[tuple[Port, RunEnd], tuple[Port, RunEnd]]:
    """The cheapest ports of a wire's two ends."""
    choices = [[(port, _lying(net, end, port)) for port in ports_of(end, seats, count)] for end in ends]
    _, p, q = min(
        ((wire_cost(p[0], q[0]), p, q) for p in choices[0] for q in choices[1]),
        key=lambda found: (found[0], found[1][0]),
    )
    return p, q


def _lying(net: Structure, end: End, port: Port) -> RunEnd:
    symbol, side, pin = end
    if symbol < 0:
        return RunEnd(port[1], RAIL)
    return RunEnd(port[1], symbol, pin, 1 if side == ANY else net.pins[symbol][side])


def _lay(order: Order, wire: int, start: tuple[Port, RunEnd], goal: tuple[Port, RunEnd]) -> None:
    """The stretches of a wire, with an item in every column that it passes."""
    (channel, _), lies = start
    while channel < goal[0][0]:
        item = len(order.over) + len(order.through)
        order.through.append((wire, channel))
        order.columns[channel].append(item)
        order.rough_runs.append(RoughRun(wire, channel, (lies, RunEnd(RIGHT, item))))
        lies = RunEnd(LEFT, item)
        channel += 1
    order.rough_runs.append(RoughRun(wire, channel, (lies, goal[1])))


def _improve(order: Order, k: int) -> None:
    """Move each item of a column wherever it crosses least, and turn symbols upside down where that helps."""
    channels = (k, k + 1)
    column = order.columns[k]

    def cost() -> tuple[int, int]:
        for i, item in enumerate(column):
            order.place[item] = i
        return order.cost(channels)

    cost()
    for item in sorted(column):
        if order.left <= 0:
            break
        home = column.index(item)
        turns = (False, True) if item < len(order.over) and max(order.net.pins[item]) > 1 else (False,)
        tried = []
        for over in turns:
            for to in range(len(column)):
                column.remove(item)
                column.insert(to, item)
                if len(turns) > 1:
                    order.over[item] = over
                tried.append((cost(), to != home, over, to))
        _best, _, over, to = min(tried)
        column.remove(item)
        column.insert(to, item)
        if len(turns) > 1:
            order.over[item] = over
    cost()


def _around(order: Order, wire: int) -> None:
    """Lead a wire above or below all that it passes, or close to its ends; turn its contacts over where that helps."""
    items = [len(order.over) + i for i, (own, _) in enumerate(order.through) if own == wire]
    ends = {symbol for symbol, _, _ in order.net.ends[wire]}
    tall = {s for s, side, _ in order.net.ends[wire] if s >= 0 and side != ANY and max(order.net.pins[s]) > 1}
    turning = sorted(tall)
    home, stood = [list(column) for column in order.columns], list(order.over)
    tried = [(order.cost(), 0, home, stood)]
    for side, turns in product(range(4), product((False, True), repeat=len(turning))):
        columns = [[item for item in column if item not in items] for column in home]
        for item in items:
            column = columns[order.through[item - len(order.over)][1]]
            column.insert(_slot(column, ends, side), item)
        over = list(stood)
        for symbol, turn in zip(turning, turns, strict=True):
            over[symbol] = turn
        order.columns[:], order.over[:] = columns, over
        order.settle_places()
        tried.append((order.cost(), side + 1, columns, over))
    _, _, order.columns[:], order.over[:] = min(tried)
    order.settle_places()


def _slot(column: list[int], ends: set[int], side: int) -> int:
    """Where a passing wire goes: at the top, at the bottom, just above its own symbol, just below it."""
    own = [i for i, item in enumerate(column) if item in ends]
    below = side % 2
    if side < 2 or not own:
        return len(column) if below else 0
    return own[-1] + 1 if below else own[0]
