"""The shortest plan of tests that tells candidates apart.

Test sequencing as an AND/OR tree: K. R. Pattipati, M. G. Alexandridis, "Application of heuristic search and information
theory to sequential fault diagnosis", IEEE Trans. SMC 20 (1990). Exact by memoised search while few candidates are
left; above that greedy by information gained for the cost, which is near the best (D. Golovin, A. Krause, "Adaptive
submodularity", JAIR 42, 2011). A means is used only where none before it tells anything more: dead before live.
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import inf, log2
from typing import NamedTuple

from sheetgen.find.weights import AT_ONE_PLACE, EACH_TEST
from sheetgen.model.finding_out import Means, Outcome, PlanFigures, PlanStep, Spot, Trial

MOST_EXACT = 16  # candidates, those that nothing tells apart counted once
MOST_NODES = 40_000  # tests weighed in the exact search; beyond, greedy
MOST_PARTED = 2_000_000  # likewise, ways to part what is left that are looked at
RANK = {Means.WATCH: 0, Means.LOOK: 1, Means.DEAD: 1, Means.LIVE: 2}


@dataclass(frozen=True)
class Reads:
    """What a test reads: in words, and which of its pairs are closed."""

    says: str
    closed: tuple[tuple[Spot, Spot], ...] = ()


@dataclass(frozen=True)
class Option:
    """A test, and what it reads under every candidate; None where under that one it may read anything."""

    trial: Trial
    reads: tuple[Reads | None, ...]


@dataclass(frozen=True)
class _Split:
    """An option over the sets of candidates that nothing tells apart, as bits."""

    option: int
    rank: int
    cost: int
    reads: tuple[Reads, ...]
    parts: tuple[int, ...]  # of each reading the candidates under which it is read
    silent: int  # those under which it may read anything

    def of(self, left: int) -> list[tuple[Reads, int]]:
        """Each reading that is possible with what is left, and what is left then."""
        return [(reads, (part | self.silent) & left)
                for reads, part in zip(self.reads, self.parts, strict=True) if part & left]


class Planner:
    """A plan for some candidates with their weights, by some tests."""

    def __init__(self, weights: Sequence[int], options: Sequence[Option], least: Means = Means.WATCH,
                 most: Means = Means.LIVE, each: Mapping[Means, int] = EACH_TEST):
        self.each = each
        self.options = [o for o in options if RANK[least] <= RANK[o.trial.means] <= RANK[most]]
        self.alike = self._alike(len(weights))
        self.weights = [sum(weights[i] for i in group) for group in self.alike]
        self.splits = self._splits()
        self.whole = (1 << len(self.alike)) - 1
        self._best: dict[int, tuple[float, _Split | None]] = {}
        self._usable: dict[int, list[_Split]] = {}
        self.weighed = self.parted = 0
        self.exact = len(self.alike) <= MOST_EXACT

    def _alike(self, count: int) -> list[list[int]]:
        """Candidates that read the same under every test are one."""
        codes: list[list[Hashable]] = [[] for _ in range(count)]
        for option in self.options:
            known: dict[Hashable, int] = {}
            for i, reads in enumerate(option.reads):
                codes[i].append(known.setdefault(reads, len(known)) if reads is not None else None)
        groups: dict[Hashable, list[int]] = {}
        for i, code in enumerate(codes):
            groups.setdefault(tuple(code), []).append(i)
        return list(groups.values())

    def _splits(self) -> list[_Split]:
        """Of tests that part the candidates in the same way the cheapest, the first of them."""
        found: dict[Hashable, _Split] = {}
        for number, option in enumerate(self.options):
            parts: dict[Reads, int] = {}
            silent = 0
            for bit, group in enumerate(self.alike):
                reads = option.reads[group[0]]
                if reads is None:
                    silent |= 1 << bit
                else:
                    parts[reads] = parts.get(reads, 0) | 1 << bit
            cost = option.trial.cost + self.each[option.trial.means]
            split = _Split(number, RANK[option.trial.means], cost, tuple(parts), tuple(parts.values()), silent)
            key = (split.rank, frozenset(split.parts), silent)
            if len(parts) > 1 and (key not in found or split.cost < found[key].cost):
                found[key] = split
        return sorted(found.values(), key=lambda s: (s.rank, s.cost, s.option))

    def usable(self, left: int) -> list[_Split]:
        """The tests that tell candidates apart, of the first means that does; one for each way of parting them."""
        if left not in self._usable:
            found: dict[frozenset[int], _Split] = {}
            rank = RANK[Means.LIVE]
            self.parted += len(self.splits)
            for split in self.splits:
                if split.rank > rank:
                    break
                parts = frozenset(part for _, part in split.of(left))
                if len(parts) > 1 and left not in parts and parts not in found:
                    found[parts] = split
                    rank = split.rank
            self._usable[left] = sorted(found.values(), key=lambda s: (-self._gain(s, left) / s.cost, s.option))
        return self._usable[left]

    def _weight(self, left: int) -> int:
        return sum(w for bit, w in enumerate(self.weights) if left >> bit & 1)

    def _gain(self, split: _Split, left: int) -> float:
        weights = [self._weight(part) for _, part in split.of(left)]
        entropy = -sum(w / sum(weights) * log2(w / sum(weights)) for w in weights)
        return entropy * self._weight(left) / sum(weights)

    def step(self, left: int | None = None) -> PlanStep | None:
        """The plan for what is left; None where no test tells anything more."""
        left = self.whole if left is None else left
        split = self._chosen(left)
        return self._as_step(split, left, to_the_end=True) if split else None

    def greedy(self) -> PlanStep | None:
        """The test that tells most for its cost, alone."""
        split = next(iter(self.usable(self.whole)), None)
        return self._as_step(split, self.whole, to_the_end=False) if split else None

    def _as_step(self, split: _Split, left: int, to_the_end: bool) -> PlanStep:
        option = self.options[split.option]
        outcomes = [Outcome(reads.says, self._numbers(part), self.step(part) if to_the_end else None, reads.closed)
                    for reads, part in split.of(left)]
        outcomes.sort(key=lambda o: (-len(o.closed), o.left))
        return PlanStep(option.trial, tuple(outcomes))

    def _numbers(self, left: int) -> tuple[int, ...]:
        return tuple(sorted(i for bit, group in enumerate(self.alike) if left >> bit & 1 for i in group))

    def _chosen(self, left: int) -> _Split | None:
        if left.bit_count() < 2:
            return None
        if left.bit_count() <= MOST_EXACT and not self.tired:
            return self._least(left)[1]
        self.exact = False
        return next(iter(self.usable(left)), None)

    @property
    def tired(self) -> bool:
        """More was weighed than the exact search may."""
        return self.weighed > MOST_NODES or self.parted > MOST_PARTED

    def _least(self, left: int) -> tuple[float, _Split | None]:
        """The least expected cost of telling apart what is left, in weights times costs, and the first test."""
        if left.bit_count() < 2:
            return 0.0, None
        if left in self._best:
            return self._best[left]
        best, chosen = inf, None
        usable = self.usable(left)
        here = self._weight(left)
        for split in usable:
            self.weighed += 1
            if self.tired and chosen is not None:
                self.exact = False
                break
            cost = float(split.cost * here)
            parts = [part for _, part in split.of(left)]
            cost += sum(self._at_least(part) for part in parts)
            for part in parts:
                if cost >= best:
                    break
                cost += self._least(part)[0] - self._at_least(part)
            if cost < best:
                best, chosen = cost, split
        self._best[left] = (best if chosen else 0.0, chosen)
        return self._best[left]

    def _at_least(self, left: int) -> float:
        """A bound from below: one more test, the cheapest there is, where any tells anything."""
        usable = self.usable(left) if left.bit_count() > 1 else []
        return min(s.cost for s in usable) * self._weight(left) if usable else 0.0

    @property
    def branches(self) -> int:
        """The most outcomes that any of the tests has."""
        return max((len(s.parts) for s in self.splits), default=2)

    @property
    def least_cost(self) -> int:
        """What the cheapest of the tests costs."""
        return min((s.cost for s in self.splits), default=0)


def figures_of(step: PlanStep | None, weights: Sequence[int], planners: Sequence[Planner]) -> PlanFigures:
    """Tests to the end over all candidates by weight, beside what no plan with so many outcomes can beat."""
    each = planners[0].each if planners else EACH_TEST
    ends = list(_ends(step, Trodden(0, 0, 0), each)) if step else [(tuple(range(len(weights))), Trodden(0, 0, 0))]
    heavy = [float(sum(weights[i] for i in left)) for left, _ in ends]
    whole = sum(heavy) or 1.0
    branches = max((p.branches for p in planners), default=2)
    mean, worst = shortest_code(heavy, branches)

    def expected(of: Callable[[Trodden], int]) -> float:
        return sum(w * of(way) for w, (_, way) in zip(heavy, ends, strict=True)) / whole

    cheapest = min((p.least_cost for p in planners if p.splits), default=0)
    return PlanFigures(
        mean_tests=expected(lambda way: way.tests), worst_tests=max(way.tests for _, way in ends),
        mean_readings=expected(lambda way: way.readings), worst_readings=max(way.readings for _, way in ends),
        mean_bound=mean, worst_bound=worst,
        cost=expected(lambda way: way.cost) / AT_ONE_PLACE, cost_bound=mean * cheapest / AT_ONE_PLACE,
        exact=all(p.exact and not p.tired for p in planners),
    )


class Trodden(NamedTuple):
    """What was done on the way to an end of a plan; `readings` are tests by instrument."""

    tests: int
    readings: int
    cost: int


def _ends(step: PlanStep, way: Trodden, each: Mapping[Means, int]) -> Iterator[tuple[tuple[int, ...], Trodden]]:
    """The candidates left at each end of a plan, and the way to it."""
    trial = step.trial
    reading = trial.means in (Means.DEAD, Means.LIVE)
    now = Trodden(way.tests + 1, way.readings + reading, way.cost + trial.cost + each[trial.means])
    for outcome in step.outcomes:
        if outcome.then:
            yield from _ends(outcome.then, now, each)
        else:
            yield outcome.left, now


def renumbered(step: PlanStep | None, numbers: Sequence[int]) -> PlanStep | None:
    """A plan for some candidates in the numbers that they have among all."""
    if step is None:
        return None
    return PlanStep(step.trial, tuple(
        replace(o, left=tuple(numbers[i] for i in o.left), then=renumbered(o.then, numbers)) for o in step.outcomes))


def went_on(step: PlanStep | None, left: tuple[int, ...],
            more: Callable[[tuple[int, ...]], PlanStep | None]) -> PlanStep | None:
    """A plan with another after each of its ends that leaves several candidates; that other where there is none."""
    if step is None:
        return more(left) if len(left) > 1 else None
    return PlanStep(step.trial, tuple(replace(o, then=went_on(o.then, o.left, more)) for o in step.outcomes))


def shortest_code(weights: Sequence[float], branches: int) -> tuple[float, int]:
    """The mean and the longest word of the shortest codes of so many letters for some weights (D. A. Huffman, 1952).

    No plan whose every test has at most so many outcomes needs fewer tests in the mean, or at the worst.
    """
    if len(weights) < 2:
        return 0.0, 0
    ahead = sorted(weights)
    ahead = [0.0] * (-(len(ahead) - 1) % (branches - 1) if branches > 2 else 0) + ahead
    whole, total = sum(weights), 0.0
    heapq.heapify(ahead)
    while len(ahead) > 1:
        together = sum(heapq.heappop(ahead) for _ in range(min(branches, len(ahead))))
        total += together
        heapq.heappush(ahead, together)
    deepest, reach = 0, 1
    while reach < len(weights):
        deepest, reach = deepest + 1, reach * branches
    return total / whole, deepest
