"""How cores are joined at some places so that one look at another place tells most: by climbing from no link at all.

The cores of a cable are joined among themselves, and differently in each cable; singles are joined with one another.
A long lead may be held on one core, which is then known wherever it closes.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise
from math import log2

from sheetgen.find.across import NOWHERE, Across, Link
from sheetgen.find.weights import EACH_PAIRING_TEST, FURTHER_PLACE, LONG_LEAD

MOST_ROUNDS = 12  # of the climb
Closed = frozenset[Link]


@dataclass(frozen=True)
class Coded:
    """Cores joined by hand, the core that a long lead is held on, and the cores that are looked at."""

    links: tuple[Link, ...]
    lead: int | None
    looked: tuple[int, ...]

    def closed(self, block: Sequence[int], other: Sequence[int] | Mapping[int, int]) -> Closed:
        """Of the cores looked at the pairs that close, and with the lead; `block`: what the links join."""
        where = [(spot, block[other[spot]]) for spot in self.looked if other[spot] != NOWHERE]
        found = [(a, b) for (a, x), (b, y) in combinations(where, 2) if x == y]
        if self.lead is not None:
            found += [(self.lead, spot) for spot, root in where if root == block[self.lead]]
        return frozenset(found)


def entropy(weights: Mapping[Closed, float]) -> float:
    """What a test tells, in bits, by how often each outcome comes."""
    whole = sum(weights.values())
    return -sum(w / whole * log2(w / whole) for w in weights.values()) if whole else 0.0


class Climb:
    """The links at some places that tell most of the cores looked at, for what they cost."""

    def __init__(self, across: Across, looked: Sequence[int], sources: Sequence[Sequence[int]],
                 rows: Sequence[Sequence[int]]):
        """`sources`: the ends at each place; `rows`: candidates as `Across.of` gives them."""
        self.across, self.looked = across, tuple(looked)
        seen = Counter(tuple(row[spot] for spot in self.looked) for row in rows)
        reached = {spot for there in seen for spot in there}
        self.rows = [(dict(zip(self.looked, there, strict=True)), count) for there, count in seen.items()]
        self.place_of: dict[int, int] = {}
        self.cables: list[int] = []
        self.singles: list[int] = []
        for place, ends in enumerate(sources):
            for end in ends:
                spots = across.of_end(end)
                self.place_of |= dict.fromkeys(spots, place)
                if reached.isdisjoint(spots):
                    continue
                if len(spots) > 1:
                    self.cables.append(end)
                else:
                    self.singles.append(spots[0])

    def best(self) -> Coded | None:
        """The best found; None where nothing tells anything."""
        links: dict[int, tuple[Link, ...]] = {}
        lead: int | None = None
        worth, chosen = 0.0, None
        for _ in range(MOST_ROUNDS):
            better = None
            for tried_links, tried_lead in self._moves(links, lead):
                coded = self._coded(tried_links, tried_lead)
                if (now := self._worth(coded)) > worth + 1e-9:
                    worth, better, chosen = now, (tried_links, tried_lead), coded
            if better is None:
                break
            links, lead = better
        return chosen

    def _coded(self, links: Mapping[int, tuple[Link, ...]], lead: int | None) -> Coded:
        return Coded(tuple(link for end in sorted(links) for link in links[end]), lead, self.looked)

    def _worth(self, coded: Coded) -> float:
        split: Counter[Closed] = Counter()
        block = self.across.blocks(coded.links)
        for other, count in self.rows:
            split[coded.closed(block, other)] += count
        return entropy(split) / self.cost(coded)

    def cost(self, coded: Coded) -> float:
        """In fifths of a dead test, with what any test costs; what is touched at the other place is not yet known."""
        places = {self.place_of[a] for a, _ in coded.links} | (
            {self.place_of[coded.lead]} if coded.lead is not None else set())
        return (EACH_PAIRING_TEST + LONG_LEAD + FURTHER_PLACE * max(0, len(places) - 1) + len(coded.links)
                + (coded.lead is not None))

    def _moves(self, links: Mapping[int, tuple[Link, ...]], lead: int | None
               ) -> Iterator[tuple[dict[int, tuple[Link, ...]], int | None]]:
        """Every other way of joining one cable, every single joined to another or parted, every core for the lead."""
        for end in self.cables:
            spots = self.across.of_end(end)
            pairs = [(pair,) for pair in combinations(spots, 2)]
            for pattern in ((), *pairs, tuple(pairwise(spots))):
                if links.get(spots[0], ()) != pattern:
                    yield {**links, spots[0]: pattern}, lead
        for a in self.singles:
            for b in (a, *(b for b in self.singles if b > a and self.place_of[b] == self.place_of[a])):
                wanted = ((a, b),) if b != a else ()
                if links.get(a, ()) != wanted:
                    yield {**links, a: wanted}, lead
        for spot in (*self.singles, None):
            if spot != lead:
                yield dict(links), spot
