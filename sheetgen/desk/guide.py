"""A plan of tests followed on a page, one test at a time: what to do, what it may read, and what is left after it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sheetgen.find.steps import numbered
from sheetgen.model.finding_out import FaultFound, Identified, Means, PlanStep
from sheetgen.model.words import capital
from sheetgen.pages.plan_of_tests import SUPPLY, in_words, rules_of

MOST_NAMED = 12  # of what is left


@dataclass(frozen=True)
class GuideStep:
    """One test: the supply, how the switches stand, what to do, and the readings to choose from."""

    number: int
    supply: str
    live: bool
    switches: str
    does: str
    before: str
    reads: tuple[str, ...]


@dataclass(frozen=True)
class GuideNow:
    """Where somebody stands in a plan: the next test, if there is one, and what is left, likeliest first."""

    step: GuideStep | None
    left: tuple[str, ...]
    count: int
    brief: bool  # the plan stops before its ends: take the reading down and begin again with it


def standing_in(found: FaultFound | Identified, ways: Sequence[int]) -> GuideNow:
    """The place in a plan after these readings, each by its number. ValueError where there is no such reading."""
    says = _candidates(found)
    step, left = found.plan, tuple(range(len(says)))
    order = {s.trial: s.number for s in numbered(found.plan)[0]}
    for way in ways:
        if step is None or not 0 <= way < len(step.outcomes):
            raise ValueError(f"there is no reading {way}")
        outcome = step.outcomes[way]
        step, left = outcome.then, outcome.left
    return GuideNow(
        _step(step, order[step.trial], dict(found.standings)) if step else None,
        tuple(says[i] for i in left[:MOST_NAMED] if i < len(says)), len(left), step is None and not found.told_apart)


def _candidates(found: FaultFound | Identified) -> tuple[str, ...]:
    if isinstance(found, FaultFound):
        return tuple(f"{suspect.says} {suspect.look}".strip() for suspect in found.suspects)
    return tuple(map(capital, found.says)) or ("",) * min(found.candidates, 10_000)


def _step(step: PlanStep, number: int, standings: Mapping[tuple[str, str], str]) -> GuideStep:
    trial = step.trial
    return GuideStep(number, SUPPLY[trial.means], trial.means is Means.LIVE, in_words(trial.setting, standings),
                     f"{capital(trial.says)}.", " ".join(rules_of([trial])),
                     tuple(capital(o.reads) for o in step.outcomes))
