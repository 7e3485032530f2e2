"""Which column each symbol stands in and which way round: the shortest wires from line at the left to neutral.

Channel k lies left of column k. A wire between two channels runs through every column between them; an end that leaves
a symbol on the side away from its goal has to turn back. Local search from many starts; the best few are handed on.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from functools import cache, lru_cache
from itertools import product

from sheetgen.draw.diagram.structure import ANY, LEFT, LINE_RAIL, NEUTRAL_RAIL, RIGHT, A, B, End, Structure

THROUGH, TURN = 2, 3  # what a wire costs for each column it passes and each time it turns back
TURN_OFF = 2  # more for a turn of a wire to a rail: those are to be seen straight
STACKED, BESIDE, BACK = 8, 5, 1  # two contacts in a column, a contact with another symbol, reading backwards
KEPT = 10  # choices handed on
TRIED = 2  # starts that are followed with two symbols moved at once
MOST_TURNED = 3  # contacts for which every way round is a start of its own
WINDOW = 2  # columns by which two symbols are moved at once

ColumnAndTurn = tuple[int, bool]  # column, turned
Port = tuple[int, int]  # channel, edge


@lru_cache(maxsize=256)
def columns_of(net: Structure) -> tuple[tuple[int, tuple[ColumnAndTurn, ...]], ...]:
    """(cost, seats): the best few choices of a seat for every symbol, best first."""
    table = _SeatCosts(net)
    loose = [i for i, contact in enumerate(net.contacts) if not contact]
    first = {tuple(seats): table.cost(seats) for seats in (table.settled(list(s), loose) for s in _starts(net))}
    best = sorted(first, key=lambda seats: (first[seats], seats))[:TRIED]
    settled = [tuple(table.settled(list(start), range(len(net.kinds)), pairs=True)) for start in best]
    found = {seats: table.cost(list(seats)) for seats in settled}
    ranked = sorted((cost, _packed(list(seats))) for seats, cost in {**first, **found}.items())
    return tuple(dict.fromkeys(ranked))[:KEPT]


def _starts(net: Structure) -> Iterator[tuple[ColumnAndTurn, ...]]:
    """Each contact in a column of its own, in several orders and ways round; the rest to the right of them."""
    contacts = [i for i, contact in enumerate(net.contacts) if contact]
    few = len(contacts) <= MOST_TURNED
    orders = [tuple(contacts), tuple(reversed(contacts))] if len(contacts) > 1 else [tuple(contacts)]
    sides = product((False, True), repeat=len(contacts)) if few else [
        tuple(i % 2 == k for i in range(len(contacts))) for k in (0, 1)
    ]
    for turned in sides:
        for order in orders:
            seats = [(len(contacts), False)] * len(net.contacts)
            for column, (i, t) in enumerate(zip(order, turned, strict=True)):
                seats[i] = (column, t)
            yield tuple(seats)


class _SeatCosts:
    """A structure with what each symbol's wires cost at each seat."""

    def __init__(self, net: Structure):
        self.contacts = net.contacts
        self.span = max(2, min(2 * sum(net.contacts) + 3, len(net.contacts) + 1, 12))
        self.wires: list[list[tuple[int, int, int]]] = [[] for _ in net.contacts]  # own side, other, its side
        for (i, side, _), (j, other, _) in net.ends:
            if i >= 0:
                self.wires[i].append((side, j, other))
            if j >= 0 and j != i:
                self.wires[j].append((other, i, side))

    def at(self, i: int, seat: ColumnAndTurn, seats: list[ColumnAndTurn], without: Collection[int] = ()) -> int:
        """What symbol `i` costs at a seat, the others where they are; leaving out what it shares with `without`."""
        return self._wires_of(i, seat, seats, without) + self._beside(i, seats, without)[seat[0]]

    def _wires_of(self, i: int, seat: ColumnAndTurn, seats: list[ColumnAndTurn], without: Collection[int] = ()) -> int:
        column, turned = seat
        cost = 0
        for side, j, other in self.wires[i]:
            if j in without:
                continue
            own = side if side == ANY else side ^ turned
            if j == LINE_RAIL:
                cost += _wire(B, own, column + 1, TURN + TURN_OFF)
            elif j == NEUTRAL_RAIL:
                cost += _wire(own, A, self.span - column, TURN + TURN_OFF)
            else:
                there, about = (column, turned) if j == i else seats[j]
                cost += _wire(own, other if other == ANY else other ^ about, there - column, TURN)
        return cost

    def _beside(self, i: int, seats: list[ColumnAndTurn], without: Collection[int] = ()) -> list[int]:
        """What symbol `i` costs in each column beside the others."""
        columns = max(self.span, 1 + max(column for column, _ in seats))  # a start may have more than are tried
        found, before, after = [0] * columns, [0] * columns, [0] * columns  # before and after: how many stand there
        contact, contacts = self.contacts[i], self.contacts
        for j, (there, _) in enumerate(seats):
            if j != i and j not in without:
                (before if j < i else after)[there] += 1
                found[there] += _together(contact, contacts[j])
        right, left = sum(before), 0  # of those before it those that stand further right, of the others further left
        for column in range(columns):
            right -= before[column]
            found[column] += BACK * (right + left)
            left += after[column]
        return found

    def _two(self, i: int, seat: ColumnAndTurn, j: int, other: ColumnAndTurn) -> int:
        """What two symbols cost beside one another."""
        if seat[0] == other[0]:
            return _together(self.contacts[i], self.contacts[j])
        return BACK if (seat[0] - other[0]) * (i - j) < 0 else 0

    def cost(self, seats: list[ColumnAndTurn]) -> int:
        """What the whole costs."""
        return sum(self.at(i, seat, seats, range(i)) for i, seat in enumerate(seats))

    def settled(self, seats: list[ColumnAndTurn], free: Sequence[int], pairs: bool = False) -> list[ColumnAndTurn]:
        """Move one free symbol at a time, then two that a wire joins, while that is cheaper."""
        while self._singly(seats, free) or (pairs and self._pairwise(seats)):
            pass
        return seats

    def _singly(self, seats: list[ColumnAndTurn], free: Sequence[int]) -> bool:
        moved = False
        for i in free:
            beside = self._beside(i, seats)
            here = self._wires_of(i, seats[i], seats) + beside[seats[i][0]]
            choices = ((c, t) for c in range(self.span) for t in ((False, True) if self.turns(i) else (False,)))
            cost, seat = min((self._wires_of(i, choice, seats) + beside[choice[0]], choice) for choice in choices)
            if cost < here:
                seats[i] = seat
                moved = True
        return moved

    def _pairwise(self, seats: list[ColumnAndTurn]) -> bool:
        for i in range(len(seats)):
            for j in sorted({j for _, j, _ in self.wires[i] if j > i}):
                beside = self._beside(i, seats, (j,)), self._beside(j, seats, (i,))
                here = self.at(i, seats[i], seats, (j,)) + self.at(j, seats[j], seats)
                for si, sj in product(self._near(i, seats[i]), self._near(j, seats[j])):
                    old = seats[i]
                    alone = self._wires_of(i, si, seats, (j,)) + beside[0][si[0]]
                    seats[i] = si
                    if alone < here and (alone + self._wires_of(j, sj, seats) + beside[1][sj[0]]
                                         + self._two(i, si, j, sj)) < here:
                        seats[j] = sj
                        return True
                    seats[i] = old
        return False

    def _near(self, i: int, seat: ColumnAndTurn) -> list[ColumnAndTurn]:
        columns = range(max(0, seat[0] - WINDOW), min(self.span, seat[0] + WINDOW + 1))
        return [(c, t) for c in columns for t in ((False, True) if self.turns(i) else (False,))]

    def turns(self, i: int) -> bool:
        """Whether it matters which way round a symbol stands."""
        return any(side != ANY for side, _, _ in self.wires[i])


def _together(contact: bool, other: bool) -> int:
    """What two symbols of one column cost."""
    return STACKED if contact and other else BESIDE if contact or other else 0


@cache
def _wire(own: int, other: int, distance: int, turn: int) -> int:
    """What a wire costs from a symbol in column 0 to one `distance` columns on, whose wires leave on these sides."""
    ports = [
        [port for port in ((column, RIGHT), (column + 1, LEFT)) if side == ANY or (port[1] == LEFT) == (side == B)]
        for side, column in ((own, 0), (other, distance))
    ]
    return min(wire_cost(p, q, turn) for p in ports[0] for q in ports[1])


def wire_cost(p: Port, q: Port, turn: int = TURN) -> int:
    """What a wire costs between two ports."""
    (cp, ep), (cq, eq) = sorted((p, q))
    if cp == cq:
        return turn if ep == eq else 0
    return (cq - cp) * THROUGH + turn * ((ep == RIGHT) + (eq == LEFT))


def ports_of(end: End, seats: tuple[ColumnAndTurn, ...], columns: int) -> tuple[Port, ...]:
    """Where a wire's end may lie: two ports for a joint."""
    symbol, side, _ = end
    if symbol == LINE_RAIL:
        return ((0, LEFT),)
    if symbol == NEUTRAL_RAIL:
        return ((columns, RIGHT),)
    column, turned = seats[symbol]
    left, right = (column, RIGHT), (column + 1, LEFT)
    if side == ANY:
        return left, right
    return (right if (side == B) != turned else left,)


def _packed(seats: list[ColumnAndTurn]) -> tuple[ColumnAndTurn, ...]:
    """The same order of columns, numbered from 0 without gaps."""
    rank = {column: i for i, column in enumerate(sorted({column for column, _ in seats}))}
    return tuple((rank[column], turned) for column, turned in seats)
