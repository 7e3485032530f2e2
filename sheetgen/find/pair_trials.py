"""The tests that tell which two ends are one cable: cores joined at some places, looked for at another.

Every core at every opened accessory is off its terminal and apart meanwhile, so that an end that closes is the other
end of a cable that was joined, and of no other.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import combinations

from sheetgen.find.across import NOWHERE, Across
from sheetgen.find.coding import Climb, Closed, Coded
from sheetgen.find.ends import Pairing
from sheetgen.find.plan import Option, Reads
from sheetgen.find.weights import FURTHER_PLACE, LONG_LEAD
from sheetgen.model.finding_out import Means, Trial
from sheetgen.model.wiring import Cable, Core
from sheetgen.model.words import joined

NONE = "none closed"
MOST_TOGETHER = 4  # places: of more not every two are tried together, only all


class PairTrials:
    """Tests on the ends of one wiring."""

    def __init__(self, ends: Sequence[Cable], printed: Callable[[str], str] = str):
        """`printed`: an accessory's name as it is read."""
        self.printed = printed
        self.ends, self.across = ends, Across(ends)
        self.places: dict[str, list[int]] = {}
        for i, end in enumerate(ends):
            self.places.setdefault(end.ends[0], []).append(i)
        self._rows: dict[Pairing, tuple[int, ...]] = {}

    def row(self, pairing: Pairing) -> tuple[int, ...]:
        """See `Across.of`."""
        if pairing not in self._rows:
            self._rows[pairing] = self.across.of(pairing)
        return self._rows[pairing]

    def options(self, candidates: Sequence[Pairing]) -> Iterator[Option]:
        """The tests that tell these candidates apart."""
        rows = [self.row(c) for c in candidates]
        found: dict[tuple[Closed, ...], Coded] = {}
        for coded in self._thought_of(rows):
            closed = tuple(self._closed(coded, row) for row in rows)
            if len(set(closed)) > 1 and (closed not in found or self._effort(coded) < self._effort(found[closed])):
                found[closed] = coded
        for closed, coded in found.items():
            yield self.option(coded, closed)

    def _closed(self, coded: Coded, row: Sequence[int]) -> Closed:
        """What closes; links at several places may meet through a single between them."""
        far = len({self._end(a).ends[0] for a, _ in coded.links}) > 1
        return coded.closed(self.across.roots(row, coded.links) if far else self.across.blocks(coded.links), row)

    def _effort(self, coded: Coded) -> int:
        return len(self._joined_at(coded)) * FURTHER_PLACE + len(coded.links)

    def _joined_at(self, coded: Coded) -> list[str]:
        spots = [a for a, _ in coded.links] + ([coded.lead] if coded.lead is not None else [])
        return list(dict.fromkeys(self._end(spot).ends[0] for spot in spots))

    def _end(self, spot: int) -> Cable:
        return self.ends[self.across.spots[spot][0]]

    # What may be tried

    def _thought_of(self, rows: Sequence[Sequence[int]]) -> Iterator[Coded]:
        for place, here in self.places.items():
            reached = [{self.across.spots[row[s]][0] for row in rows if row[s] != NOWHERE}
                       for i in here for s in self.across.of_end(i)[:1]]
            looked_ends = [i for i, ends in zip(here, reached, strict=True) if len(ends) > 1 or (
                any(row[self.across.of_end(i)[0]] == NOWHERE for row in rows) and ends) or self._turns(rows, i)]
            if not looked_ends:
                continue
            partners = {e for i, ends in zip(here, reached, strict=True) if i in looked_ends for e in ends}
            sources = {p: [i for i in at if i in partners] for p, at in self.places.items() if p != place}
            sources = {p: at for p, at in sources.items() if at}
            looked = [s for i in looked_ends for s in self.across.of_end(i)]
            for ends in sources.values():
                yield from (self._alone(i, looked) for i in ends)
            for chosen in self._together(list(sources)):
                if coded := Climb(self.across, looked, [sources[p] for p in chosen], rows).best():
                    yield coded

    def _turns(self, rows: Sequence[Sequence[int]], end: int) -> bool:
        return any(len({row[s] for row in rows}) > 1 for s in self.across.of_end(end))

    def _together(self, places: Sequence[str]) -> Iterator[tuple[str, ...]]:
        """Each place, every two where there are few, and all."""
        yield from ((p,) for p in places)
        if len(places) > 2:
            if len(places) <= MOST_TOGETHER:
                yield from combinations(places, 2)
            yield tuple(places)
        elif len(places) == 2:
            yield tuple(places)

    def _alone(self, end: int, looked: Sequence[int]) -> Coded:
        """Two cores of one end joined; of a single the long lead held on it."""
        spots = self.across.of_end(end)
        if len(spots) == 1:
            return Coded((), spots[0], tuple(looked))
        a, b = two_cores(self.ends[end])
        cores = self.ends[end].cores
        return Coded(((spots[cores.index(a)], spots[cores.index(b)]),), None, tuple(looked))

    # In words

    def option(self, coded: Coded, closed: Sequence[Closed]) -> Option:
        """A test with what closes under each candidate."""
        pairs = sorted(set().union(*closed))
        kinds = {self._kind(*pair) for pair in pairs}
        plain = len(kinds) == 1 and None not in kinds
        trial = self._trial(coded, pairs, plain)
        return Option(trial, tuple(self._reads(coded, found, plain) for found in closed))

    def _kind(self, a: int, b: int) -> tuple[str, str] | None:
        """The cores by their words, where both are of one end."""
        return (self._core(a), self._core(b)) if self._end(a) is self._end(b) else None

    def _core(self, spot: int) -> str:
        return self.across.words[spot][1]

    def _trial(self, coded: Coded, pairs: Sequence[tuple[int, int]], plain: bool) -> Trial:
        looked = list(dict.fromkeys(self._end(s).name for pair in pairs for s in pair if s in coded.looked))
        printed = self.printed
        place = self._end(coded.looked[0]).ends[0]
        there = printed(place)
        parts = [f"at {printed(other)} {'join ' if n == 0 else ''}{self._links_at(other, coded)}"
                 for n, other in enumerate(dict.fromkeys(self._end(a).ends[0] for a, _ in coded.links))]
        if coded.lead is not None:
            parts.append(f"a long lead from {self._lead(coded.lead)} to {there}")
        names = joined(looked, "or")
        if not coded.links:
            look = f"to {there}: {names}"
            says = f"with a long lead from {self._lead(coded.lead or 0)} {look}"
        elif plain and coded.lead is None:
            says = f"{'; '.join(parts)}; at {there} look " + (
                f"which closes: {names}" if len(looked) > 1 else f"whether {names} closes")
        else:
            says = f"{'; '.join(parts)}; at {there} look which cores close together: {joined(looked)}"
        cost = LONG_LEAD + FURTHER_PLACE * (len(self._joined_at(coded)) - 1) + len(coded.links) + len(pairs)
        spots = self.across.words
        return Trial(Means.DEAD, place, says[0].upper() + says[1:], cost,
                     joined=tuple((spots[a], spots[b]) for a, b in coded.links),
                     pairs=tuple((spots[a], spots[b]) for a, b in pairs), cores=True)

    def _lead(self, spot: int) -> str:
        return f"{self._full(spot)} at {self.printed(self._end(spot).ends[0])}"

    def _links_at(self, place: str, coded: Coded) -> str:
        if len(coded.links) == 1 and self._kind(*coded.links[0]):
            return f"{joined(map(self._core, coded.links[0]))} of {self._end(coded.links[0][0]).name}"
        return joined(self._group(group) for group in self._groups(coded.links)
                      if self._end(group[0]).ends[0] == place)

    def _groups(self, links: Iterable[tuple[int, int]]) -> list[list[int]]:
        """The cores that are joined together, each set once."""
        links = list(links)
        block = self.across.blocks(links)
        touched = sorted({s for link in links for s in link})
        roots = dict.fromkeys(block[s] for s in touched)
        return [[s for s in touched if block[s] == root] for root in roots]

    def _group(self, spots: Sequence[int]) -> str:
        """'red-black of c'; 'red of a with red of b'."""
        if len({self._end(s).name for s in spots}) == 1:
            return f"{'+'.join(self._core(s) for s in spots)} of {self._end(spots[0]).name}"
        return " with ".join(self._full(s) for s in spots)

    def _full(self, spot: int) -> str:
        end = self._end(spot)
        return f"{self._core(spot)} of {end.name}" if len(end.cores) > 1 else end.name

    def _reads(self, coded: Coded, closed: Closed, plain: bool) -> Reads:
        pairs = tuple((self.across.words[a], self.across.words[b]) for a, b in sorted(closed))
        if not closed:
            return Reads(NONE)
        groups = self._groups(closed)
        if coded.lead is not None:
            to_lead = [[s for s in g if s != coded.lead] for g in groups if coded.lead in g]
            says = [f"{joined(self._full(s) for s in g)}{' to the lead' if coded.links else ''}" for g in to_lead]
            says += [self._group(g) for g in groups if coded.lead not in g]
        elif plain:
            says = [self._end(g[0]).name for g in groups]
        else:
            says = [self._group(g) for g in groups]
        return Reads(f"{joined(says) if plain or len(says) == 1 else '; '.join(says)} closed", pairs)


def two_cores(end: Cable) -> tuple[Core, Core]:
    """Two cores that can be told at both ends: by their colours, or both of one colour."""
    many = Counter(core.colour for core in end.cores)
    own = [core for core in end.cores if many[core.colour] == 1]
    own.sort(key=lambda core: core.cpc)
    if len(own) > 1:
        return own[0], own[1]
    alike = [core for core in end.cores if many[core.colour] > 1]
    return alike[0], alike[1]
