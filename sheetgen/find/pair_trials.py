"""The tests that tell which two ends are one cable: cores joined at one end, looked for at every end of another place.

Every core at every opened accessory is off its terminal and apart meanwhile, so that an end that closes is the other
end of a cable that was joined, and of no other.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from sheetgen.catalogue.colours import CODES
from sheetgen.find.ends import Pairing
from sheetgen.find.plan import Option, Reads
from sheetgen.find.weights import LONG_LEAD
from sheetgen.model.finding_out import Means, Spot, Trial
from sheetgen.model.wiring import Cable, Core
from sheetgen.model.words import joined

NONE = "none closed"
Link = tuple[Spot, Spot]


class PairTrials:
    """Tests on the ends of one wiring."""

    def __init__(self, ends: Sequence[Cable], domains: Sequence[set[int]]):
        self.ends, self.domains = ends, domains
        self.places: dict[str, list[int]] = {}
        for i, end in enumerate(ends):
            self.places.setdefault(end.ends[0], []).append(i)

    def options(self, candidates: Sequence[Pairing]) -> Iterator[Option]:
        """One end joined, or all of a place, and the ends of another place; then cores of one colour."""
        for trial, joined_ends, looked in self.trials():
            yield Option(trial, tuple(self._reads(c, joined_ends, looked) for c in candidates))
        yield from self._orders(candidates)

    def trials(self, alone: bool = False) -> Iterator[tuple[Trial, tuple[int, ...], tuple[int, ...]]]:
        """Each test with the ends that are joined and those that are looked at; `alone`: one end at a time."""
        for here, at_here in self.places.items():
            several = [i for i in at_here if len(self.ends[i].cores) > 1]
            sets = [(i,) for i in at_here] + ([tuple(several)] if len(several) > 1 and not alone else [])
            for joined_ends in sets:
                for there, at_there in self.places.items():
                    looked = tuple(c for c in at_there if any(c in self.domains[i] for i in joined_ends))
                    if there != here and looked:
                        yield self._trial(here, there, joined_ends, looked), joined_ends, looked

    def _trial(self, here: str, there: str, joined_ends: tuple[int, ...], looked: tuple[int, ...]) -> Trial:
        names = joined(self.ends[i].name for i in joined_ends)
        touched = joined((self.ends[i].name for i in looked), "or")
        single = len(self.ends[joined_ends[0]].cores) == 1
        if single:
            held = _spot(self.ends[joined_ends[0]], self.ends[joined_ends[0]].cores[0])
            pairs = tuple((held, _spot(self.ends[c], self.ends[c].cores[0])) for c in looked)
            says = f"With a long lead from {names} at {here} to {there}: {touched}"
            return Trial(Means.DEAD, there, says, LONG_LEAD + len(pairs), pairs=pairs)
        cores = joined(core_word(core) for core in two_cores(self.ends[joined_ends[0]]))
        which = f"look which closes: {touched}" if len(looked) > 1 else f"look whether {touched} closes"
        says = (f"At {here} join {cores} of {names}; at {there} {which}" if len(joined_ends) == 1 else
                f"At {here} join two cores of each cable, {names}, each by itself; at {there} {which}")
        links = tuple(_link(self.ends[i]) for i in joined_ends)
        pairs = tuple(_link(self.ends[c]) for c in looked)
        return Trial(Means.DEAD, there, says, LONG_LEAD + len(links) + len(pairs), joined=links, pairs=pairs)

    def _reads(self, candidate: Pairing, joined_ends: tuple[int, ...], looked: tuple[int, ...]) -> Reads:
        """Which ends close: those whose partner is joined."""
        return self.reading([c for c in looked if candidate.partner[c] in joined_ends], joined_ends)

    def reading(self, closed: Sequence[int], joined_ends: tuple[int, ...]) -> Reads:
        """What it says when some ends close."""
        if not closed:
            return Reads(NONE)
        says = f"{joined(self.ends[c].name for c in closed)} closed"
        if len(self.ends[joined_ends[0]].cores) == 1:
            held = _spot(self.ends[joined_ends[0]], self.ends[joined_ends[0]].cores[0])
            return Reads(says, tuple((held, _spot(self.ends[c], self.ends[c].cores[0])) for c in closed))
        return Reads(says, tuple(_link(self.ends[c]) for c in closed))

    def _orders(self, candidates: Sequence[Pairing]) -> Iterator[Option]:
        """Cores of one colour: a long lead from each to those of the other end."""
        for pair in dict.fromkeys(pair for c in candidates for pair, _ in c.turned):
            a, b = (self.ends[i] for i in pair)
            many = Counter(core.colour for core in a.cores)
            alike = [i for i, core in enumerate(a.cores) if many[core.colour] > 1]
            for i in alike:
                held = _spot(a, a.cores[i])
                same = [j for j, core in enumerate(b.cores) if core.colour == a.cores[i].colour]
                pairs = tuple((held, _spot(b, b.cores[j])) for j in same)
                which = joined((core_word(b.cores[j]) for j in same), "or")
                says = (f"With a long lead from {core_word(a.cores[i])} of {a.name} at {a.ends[0]} to {b.name} at "
                        f"{b.ends[0]}: {which}")
                trial = Trial(Means.DEAD, b.ends[0], says, LONG_LEAD + len(pairs), pairs=pairs)
                yield Option(trial, tuple(self._which(c, pair, i, b, held) for c in candidates))

    def _which(self, candidate: Pairing, pair: tuple[int, int], core: int, other: Cable, held: Spot) -> Reads | None:
        order = dict(candidate.turned).get(pair)
        if order is None:
            return Reads(NONE)
        there = other.cores[order[core]]
        return Reads(f"{core_word(there)} closed", ((held, _spot(other, there)),))


def two_cores(end: Cable) -> tuple[Core, Core]:
    """Two cores that can be told at both ends: by their colours, or both of one colour."""
    many = Counter(core.colour for core in end.cores)
    own = [core for core in end.cores if many[core.colour] == 1]
    own.sort(key=lambda core: core.cpc)
    if len(own) > 1:
        return own[0], own[1]
    alike = [core for core in end.cores if many[core.colour] > 1]
    return alike[0], alike[1]


def _link(end: Cable) -> Link:
    a, b = two_cores(end)
    return _spot(end, a), _spot(end, b)


def _spot(end: Cable, core: Core) -> Spot:
    return end.name, core_word(core)


def core_word(core: Core) -> str:
    """'red', 'red 1', 'cpc'."""
    return "cpc" if core.cpc and not core.colour else f"{CODES[core.colour]} {core.mark}".strip()
