"""The next step alone, where pairings of cable ends are too many to list: the one that tells most for what it takes.

What a step tells is reckoned end by end, by the partners that each may still have and by those pairings looked at that
fit; its outcomes are all that may be read, whether such a pairing was looked at or not.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise, product
from math import log2

from sheetgen.find.across import Link
from sheetgen.find.coding import Closed, Coded
from sheetgen.find.ends import Pairing
from sheetgen.find.pair_trials import PairTrials
from sheetgen.find.pairing import Search
from sheetgen.find.weights import EACH_PAIRING_TEST, FURTHER_PLACE, LONG_LEAD
from sheetgen.model.finding_out import Outcome, PlanStep

MOST_OUTCOMES = 24  # a person chooses from them
MOST_LOOKED = 3  # ends at the other place
Code = tuple[str, ...]  # colours of the cores that are joined; () where none are


@dataclass(frozen=True)
class _ThoughtOf:
    """A test thought of: the ends looked at, how each end elsewhere is joined, or the single that a lead is held on."""

    worth: float
    looked: tuple[int, ...]
    codes: Mapping[int, Code]
    lead: int | None = None


class _Steps:
    def __init__(self, trials: PairTrials, search: Search, some: Sequence[Pairing]):
        self.trials, self.search, self.some = trials, search, some
        self.across, self.ends = trials.across, trials.ends
        counted = [Counter(p.partner[i] for p in some) for i in range(len(self.ends))]
        self.chance = [self._chances(i, counted[i]) for i in range(len(self.ends))]

    def _chances(self, end: int, counted: Counter[int]) -> dict[int, float]:
        """Of each partner that an end may have, from the pairings looked at and, in the same measure, from nothing."""
        domain = self.search.domains[end]
        whole = sum(counted.values())
        return {j: (1 / len(domain) + counted[j] / whole) / 2 if whole else 1 / len(domain) for j in domain}

    def best(self) -> _ThoughtOf | None:
        """The step that tells most; None where every end has but one partner left."""
        found: list[_ThoughtOf] = []
        for place, here in self.trials.places.items():
            unknown = [i for i in here if len(self.chance[i]) > 1]
            singles = [i for i in unknown if len(self.ends[i].cores) == 1]
            cables = [i for i in unknown if len(self.ends[i].cores) > 1]
            found += self._by_lead(singles)
            for count in range(1, min(MOST_LOOKED, len(cables)) + 1):
                found += (self._coded(place, looked) for looked in combinations(cables[:8], count))
        return max((s for s in found if s.worth > 0), key=lambda s: s.worth, default=None)

    def _by_lead(self, looked: Sequence[int]) -> Iterator[_ThoughtOf]:
        """A long lead held on a single elsewhere."""
        for held in {j for i in looked for j in self.chance[i] if j >= 0}:
            those = tuple(i for i in looked if held in self.chance[i])
            worth = _bits([self.chance[held].get(i, 0.0) for i in those])
            cost = EACH_PAIRING_TEST + LONG_LEAD + len(those)
            yield _ThoughtOf(worth / cost, those, {}, held)

    def _coded(self, place: str, looked: tuple[int, ...]) -> _ThoughtOf:
        """Places are joined one after another, as long as that is worth it."""
        where = {j: self.ends[j].ends[0] for i in looked for j in self.chance[i] if j >= 0}
        codes: dict[int, Code] = {}
        worth, places = 0.0, set[str]()
        while True:
            better: tuple[float, str, dict[int, Code]] | None = None
            for other in sorted(set(where.values()) - places):
                tried = self._with([j for j in where if where[j] == other], codes, looked)
                now = self._worth(tried, looked, len(places) + 1)
                if self._outcomes(tried, looked) <= MOST_OUTCOMES and now > (better[0] if better else worth):
                    better = now, other, tried
            if better is None:
                return _ThoughtOf(worth, looked, codes)
            worth, other, codes = better
            places.add(other)

    def _with(self, more: Sequence[int], codes: Mapping[int, Code], looked: Sequence[int]) -> dict[int, Code]:
        """Each further end joined in the way that tells most; one may stay as it is."""
        found = dict(codes)
        for end in more:
            best = max(((), *self._patterns(end)),
                       key=lambda code: self._tells({**found, end: code}, looked))
            if best:
                found[end] = best
        return found

    def _patterns(self, end: int) -> list[Code]:
        """Ways of joining two cores of an end, or all, by colours that are told apart."""
        words = [word for _, word in (self.across.words[s] for s in self.across.of_end(end))]
        colours = Counter(core.colour for core in self.ends[end].cores)
        own = [w for w, core in zip(words, self.ends[end].cores, strict=True) if colours[core.colour] == 1]
        own = own if len(own) > 1 else words[:2]
        return [*combinations(own, 2), *([tuple(own)] if len(own) > 2 else [])]

    def _masses(self, codes: Mapping[int, Code], end: int) -> dict[Code, float]:
        masses: dict[Code, float] = {}
        for j, chance in self.chance[end].items():
            code = codes.get(j, ())
            masses[code] = masses.get(code, 0.0) + chance
        return masses

    def _tells(self, codes: Mapping[int, Code], looked: Sequence[int]) -> float:
        return sum(_bits(self._joined_masses(codes, i)) for i in looked)

    def _joined_masses(self, codes: Mapping[int, Code], end: int) -> list[float]:
        """Of each way of joining the chance that a partner is joined so."""
        chances, masses = self.chance[end], dict[Code, float]()
        for j in [j for j in chances if j in codes]:
            masses[codes[j]] = masses.get(codes[j], 0.0) + chances[j]
        masses.pop((), None)
        return list(masses.values())

    def _worth(self, codes: Mapping[int, Code], looked: Sequence[int], places: int) -> float:
        cost = EACH_PAIRING_TEST + LONG_LEAD + FURTHER_PLACE * (places - 1) + len(codes) + 2 * len(looked)
        return self._tells(codes, looked) / cost

    def _outcomes(self, codes: Mapping[int, Code], looked: Sequence[int]) -> int:
        found = 1
        for i in looked:
            found *= len(self._masses(codes, i))
        return found

    # What it may read

    def planned(self, step: _ThoughtOf) -> PlanStep:
        """The step with all that it may read, and which of the pairings looked at read so."""
        coded = self._as_coded(step)
        if step.lead is not None:
            held = self.across.of_end(step.lead)[0]
            may = [frozenset({(held, self.across.of_end(i)[0])}) for i in step.looked] + [frozenset()]
        else:
            may = list(self._may_close(step))
        rows = [self.trials.row(p) for p in self.some]
        block = self.across.blocks(coded.links)
        closes = [coded.closed(block, row) for row in rows]
        option = self.trials.option(coded, may)
        outcomes = [
            Outcome(reads.says, tuple(n for n, closed in enumerate(closes) if closed == found), None, reads.closed)
            for found, reads in zip(may, option.reads, strict=True) if reads is not None]
        outcomes.sort(key=lambda o: -len(o.closed))
        return PlanStep(option.trial, tuple(outcomes))

    def _as_coded(self, step: _ThoughtOf) -> Coded:
        links: list[Link] = []
        for end in sorted(step.codes):
            links += pairwise(self._spots(end, step.codes[end]))
        looked = tuple(s for i in step.looked for s in self.across.of_end(i))
        return Coded(tuple(links), self.across.of_end(step.lead)[0] if step.lead is not None else None, looked)

    def _spots(self, end: int, code: Code) -> list[int]:
        return [s for s in self.across.of_end(end) if self.across.words[s][1] in code]

    def _may_close(self, step: _ThoughtOf) -> Iterator[Closed]:
        """Every way in which the ends may close, none more often than it is joined."""
        joined = Counter(step.codes.values())
        for chosen in product(*(sorted(self._masses(step.codes, i)) for i in step.looked)):
            if all(count <= joined[code] for code, count in Counter(chosen).items() if code):
                yield frozenset(pair for i, code in zip(step.looked, chosen, strict=True) if code
                                for pair in combinations(self._spots(i, code), 2))


def next_step(trials: PairTrials, search: Search, some: Sequence[Pairing]) -> PlanStep | None:
    """The one step to make now; None where nothing is left to tell."""
    steps = _Steps(trials, search, some)
    best = steps.best()
    return steps.planned(best) if best else None


def _bits(masses: Sequence[float]) -> float:
    """What one end tells, by the chances of its readings; what they leave is 'none'."""
    left = max(0.0, 1 - sum(masses))
    return -sum(m * log2(m) for m in (*masses, left) if m > 0)
