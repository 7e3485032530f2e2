"""The plan that tells pairings of cable ends apart: tests are thought of anew for what each reading leaves."""

from __future__ import annotations

from collections.abc import Sequence

from sheetgen.find.ends import Pairing
from sheetgen.find.pair_trials import PairTrials
from sheetgen.find.plan import MOST_EXACT, Planner, renumbered
from sheetgen.find.weights import EACH_PAIRING_TEST, EACH_TEST
from sheetgen.model.finding_out import Means, Outcome, PlanStep

EACH = {**EACH_TEST, Means.DEAD: EACH_PAIRING_TEST}


def whole_plan(trials: PairTrials, candidates: Sequence[Pairing]) -> tuple[PlanStep | None, list[Planner]]:
    """The plan to the end, and the planners that made it: tests are thought of anew for what each reading leaves."""
    planners: list[Planner] = []
    known: dict[tuple[int, ...], PlanStep | None] = {}

    def to_the_end(left: tuple[int, ...]) -> PlanStep | None:
        if len(left) < 2:
            return None
        if left not in known:
            some = [candidates[i] for i in left]
            planner = Planner([1] * len(some), [*trials.options(some)], each=EACH)
            planners.append(planner)
            many = len(planner.alike) > MOST_EXACT
            step = renumbered(planner.greedy() if many else planner.step(), left)
            if step is not None and many:
                step = PlanStep(step.trial, tuple(
                    Outcome(o.reads, o.left, to_the_end(o.left), o.closed) for o in step.outcomes))
            known[left] = step
        return known[left]

    return to_the_end(tuple(range(len(candidates)))), planners


def first_step(trials: PairTrials, candidates: Sequence[Pairing]) -> PlanStep | None:
    """The test that tells most, with what each reading leaves; where planning to the end would take long."""
    planner = Planner([1] * len(candidates), [*trials.options(candidates)], each=EACH)
    return planner.greedy()
