"""The cores at the cable ends that were seen, numbered, and what a meter finds joined among them.

Every core is off its terminal meanwhile, so that nothing joins two of them but a cable or somebody's hand.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property

from sheetgen.catalogue.colours import CODES, read_core_name
from sheetgen.find.ends import Pairing, orders
from sheetgen.model.finding_out import Spot, TakenReading
from sheetgen.model.wiring import Cable, Core
from sheetgen.solve.joined import Joined

NOWHERE = -1  # the other end of a core that goes to a place not opened
Link = tuple[int, int]  # two cores joined by hand, by number


def core_word(core: Core) -> str:
    """'red', 'red 1', 'cpc'."""
    return "cpc" if core.cpc and not core.colour else f"{CODES[core.colour]} {core.mark}".strip()


class Across:
    """The cores of some ends by number, end by end in the order of each."""

    def __init__(self, ends: Sequence[Cable]):
        self.ends = tuple(ends)
        self.spots = [(i, k) for i, end in enumerate(ends) for k in range(len(end.cores))]
        self.number = {spot: n for n, spot in enumerate(self.spots)}
        self._orders: dict[tuple[int, int], list[tuple[int, ...]]] = {}

    @cached_property
    def words(self) -> list[Spot]:
        """Each core as (end, core) in words."""
        return [(self.ends[i].name, core_word(self.ends[i].cores[k])) for i, k in self.spots]

    @cached_property
    def _named(self) -> Mapping[tuple[str, tuple[str, str] | None], int]:
        return {(name, read_core_name(core)): n for n, (name, core) in enumerate(self.words)}

    def of_word(self, spot: Spot) -> int | None:
        """The number of a core in words or in codes; None where it is at no end."""
        return self._named.get((spot[0], read_core_name(spot[1].replace("bare", "cpc"))))

    def of_end(self, end: int) -> range:
        """The cores of an end."""
        first = self.number[end, 0]
        return range(first, first + len(self.ends[end].cores))

    def orders(self, i: int, j: int) -> list[tuple[int, ...]]:
        """For each core of one end which of the other it may be, in every way; see `ends.orders`."""
        if (i, j) not in self._orders:
            self._orders[i, j] = orders(self.ends[i], self.ends[j])
        return self._orders[i, j]

    def of(self, pairing: Pairing) -> tuple[int, ...]:
        """For every core the number of its other end, or NOWHERE."""
        found = [NOWHERE] * len(self.spots)
        turned = dict(pairing.turned)
        for i, j in pairing.pairs:
            for k, there in enumerate(turned.get((i, j)) or self.orders(i, j)[0]):
                a, b = self.number[i, k], self.number[j, there]
                found[a], found[b] = b, a
        return tuple(found)

    def blocks(self, links: Iterable[Link]) -> list[int]:
        """A number for each core, the same for those that are joined by hand."""
        return self.roots((), links)

    def roots(self, other: Sequence[int], links: Iterable[Link]) -> list[int]:
        """The same by hand or by the cables of the candidate that `of` gave."""
        joined = Joined(len(self.spots))
        for x, y in links:
            joined.join(x, y)
        for x, y in enumerate(other):
            if y > x:
                joined.join(x, y)
        return joined.all()


class Taken:
    """The readings that were taken between cores at these ends, in numbers. Live ones say nothing here."""

    def __init__(self, across: Across, readings: Sequence[TakenReading]):
        self.across = across
        self.readings: list[tuple[tuple[Link, ...], int, int, bool]] = []
        for taken in readings:
            a, b = (across.of_word(spot) for spot in taken.between)
            links = [(across.of_word(x), across.of_word(y)) for x, y in taken.joined]
            if a is not None and b is not None and not taken.live and all(None not in link for link in links):
                self.readings.append((tuple((x, y) for x, y in links if x is not None and y is not None), a, b,
                                      taken.closed))

    def agree(self, other: Sequence[int]) -> bool:
        """Whether every reading may be so in a candidate."""
        known: dict[tuple[Link, ...], list[int]] = {}
        for links, a, b, closed in self.readings:
            if links not in known:
                known[links] = self.across.roots(other, links)
            if (known[links][a] == known[links][b]) != closed:
                return False
        return True

    def narrow(self, domains: list[set[int]]) -> None:
        """Take the partners away that single readings speak against; what two cores together say is left to `agree`."""
        for links, a, b, closed in self.readings:
            (i, x), (j, y) = self.across.spots[a], self.across.spots[b]
            block = self.across.blocks(links)
            touched = {spot for link in links for spot in link}
            if self._may_meet(links, a, b):
                continue
            if i == j:
                self._of_one_end(domains, i, (x, y), closed, block, touched)
            elif b not in touched and (a in touched or not links):
                self._by_lead(domains, j, y, closed, {s for s, root in enumerate(block) if root == block[a]})
            elif a not in touched and b in touched:
                self._by_lead(domains, i, x, closed, {s for s, root in enumerate(block) if root == block[b]})
            elif a not in touched and b not in touched and self._place(a) != self._place(b):
                self._by_lead(domains, j, y, closed, {a})
            elif closed and a not in touched and b not in touched:
                for end, core in ((i, x), (j, y)):
                    self._by_lead(domains, end, core, True, touched)
        agreed(domains)

    def _place(self, spot: int) -> str:
        return self.across.ends[self.across.spots[spot][0]].ends[0]

    def _may_meet(self, links: Sequence[Link], a: int, b: int) -> bool:
        """Whether the way of a reading may lead over links at several places, by a cable between them."""
        if all(self.across.spots[x][0] == self.across.spots[y][0] for x, y in links):
            return False
        held = {self._place(a), self._place(b)} if self._place(a) != self._place(b) else set()
        joined_at = {self._place(spot) for link in links for spot in link}
        return len(joined_at) > 1 or len(joined_at | held) > 2

    def _of_one_end(self, domains: list[set[int]], end: int, cores: tuple[int, int], closed: bool,
                    block: Sequence[int], touched: set[int]) -> None:
        """Two cores of one end close where its other end has them joined."""
        for j in [j for j in domains[end] if j >= 0]:
            there = [(self.across.number[j, order[cores[0]]], self.across.number[j, order[cores[1]]])
                     for order in self.across.orders(end, j)]
            if closed and not any(x in touched and y in touched for x, y in there):
                domains[end].discard(j)
            if not closed and all(block[x] == block[y] for x, y in there):
                domains[end].discard(j)
        if closed:
            domains[end].discard(NOWHERE)

    def _by_lead(self, domains: list[set[int]], end: int, core: int, closed: bool, held: set[int]) -> None:
        """A core closes to a lead that is held on others where it is one of them."""
        for j in [j for j in domains[end] if j >= 0]:
            there = [self.across.number[j, order[core]] for order in self.across.orders(end, j)]
            if (closed and not held & set(there)) or (not closed and held.issuperset(there)):
                domains[end].discard(j)
        if closed:
            domains[end].discard(NOWHERE)


def agreed(domains: list[set[int]]) -> None:
    """A partner that would have another is none; an end of which the partner is known is no other's."""
    changed = True
    while changed:
        changed = False
        for i, domain in enumerate(domains):
            sure = next(iter(domain)) if len(domain) == 1 else NOWHERE
            for j in [j for j in domain if j >= 0 and i not in domains[j]]:
                domain.discard(j)
                changed = True
            if sure < 0:
                continue
            for k, other in enumerate(domains):
                if k not in (i, sure) and other & {i, sure}:
                    other -= {i, sure}
                    changed = True
