"""The plan: no plan of the same tests costs less, by trying all; means in their order; ends that no test parts."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.find.plan import Option, Planner, Reads, figures_of, renumbered
from sheetgen.find.weights import EACH_TEST
from sheetgen.model.finding_out import Means, PlanStep, Trial
from sheetgen.pages.plan_of_tests import _in_two_columns


def option(means: Means, cost: int, reads: list[int | None]) -> Option:
    trial = Trial(means, "", f"{means} {cost} {reads}", cost)
    return Option(trial, tuple(None if r is None else Reads(str(r)) for r in reads))


def least_cost(left: frozenset[int], options: list[Option], weights: list[int]) -> float:
    """By trying every test at every step."""
    best = None
    for o in options:
        parts: dict[str, set[int]] = {}
        for i in left:
            parts.setdefault(o.reads[i].says, set()).add(i)
        if len(parts) > 1:
            cost = (o.trial.cost + EACH_TEST[o.trial.means]) * sum(weights[i] for i in left) + sum(
                least_cost(frozenset(p), options, weights) for p in parts.values())
            best = cost if best is None else min(best, cost)
    return best or 0.0


def cost_of(step: PlanStep | None, weights: list[int], left: tuple[int, ...]) -> float:
    if step is None:
        return 0.0
    own = (step.trial.cost + EACH_TEST[step.trial.means]) * sum(weights[i] for i in left)
    return own + sum(cost_of(o.then, weights, o.left) for o in step.outcomes)


@settings(max_examples=80, deadline=None)
@given(st.integers(2, 5).flatmap(lambda n: st.tuples(
    st.lists(st.integers(1, 9), min_size=n, max_size=n),
    st.lists(st.tuples(st.integers(1, 20), st.lists(st.integers(0, 2), min_size=n, max_size=n)), max_size=5))))
def test_no_plan_of_the_same_tests_costs_less(case) -> None:
    weights, tests = case
    options = [option(Means.DEAD, cost, reads) for cost, reads in tests]
    planner = Planner(weights, options)
    plan = planner.step()
    everything = tuple(range(len(weights)))
    assert cost_of(plan, weights, everything) == least_cost(frozenset(everything), options, weights)
    figures = figures_of(plan, weights, [planner])
    assert figures.exact and figures.mean_tests >= figures.mean_bound - 1e-9
    assert figures.cost >= figures.cost_bound - 1e-9 and figures.worst_tests >= figures.worst_bound


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.integers(1, 9), st.lists(st.integers(0, 1), min_size=4, max_size=4)), max_size=5))
def test_what_is_left_at_an_end_reads_the_same_in_every_test(tests) -> None:
    options = [option(Means.DEAD, cost, reads) for cost, reads in tests]
    for left in ends(Planner([1] * 4, options).step(), (0, 1, 2, 3)):
        assert all(len({o.reads[i] for i in left}) == 1 for o in options)


def ends(step: PlanStep | None, left: tuple[int, ...]) -> list[tuple[int, ...]]:
    return [left] if step is None else [e for o in step.outcomes for e in ends(o.then, o.left)]


def test_a_plan_that_would_take_too_long_to_be_the_best_is_still_whole_and_does_not_claim_to_be(monkeypatch) -> None:
    monkeypatch.setattr("sheetgen.find.plan.MOST_PARTED", 1)
    options = [option(Means.DEAD, cost, [i >> bit & 1 for i in range(8)]) for bit, cost in enumerate((9, 5, 7))]
    planner = Planner([1] * 8, options)
    plan = planner.step()
    assert sorted(ends(plan, tuple(range(8)))) == [(i,) for i in range(8)]
    assert not figures_of(plan, [1] * 8, [planner]).exact


def test_live_comes_only_when_no_dead_test_is_left() -> None:
    plan = Planner([1, 1, 1, 1], [option(Means.LIVE, 1, [0, 1, 2, 3]), option(Means.DEAD, 90, [0, 0, 1, 1])]).step()
    assert plan.trial.means is Means.DEAD
    assert [o.then.trial.means for o in plan.outcomes] == [Means.LIVE, Means.LIVE]


def test_a_reading_that_may_be_anything_keeps_its_candidate_in_every_outcome() -> None:
    plan = Planner([1, 1, 1], [option(Means.DEAD, 1, [0, 1, None])]).step()
    assert sorted(o.left for o in plan.outcomes) == [(0, 2), (1, 2)]


def test_a_plan_for_some_has_their_numbers_among_all() -> None:
    plan = renumbered(Planner([1, 1], [option(Means.DEAD, 1, [0, 1])]).step(), (7, 3))
    assert [o.left for o in plan.outcomes] == [(7,), (3,)]


@pytest.mark.parametrize(("heights", "column", "fits"), [
    ([4, 4], 4, True), ([4, 4, 1], 4, False), ([2, 2, 4], 4, True), ([2, 3, 2], 4, False), ([1, 4], 4, True),
    ([4, 5], 4, False), ([5], 4, True), ([], 4, True), ([2, 2, 2, 2], 4, True), ([2, 2, 2, 2, 0.5], 4, False)])
def test_steps_are_parted_into_two_columns_in_their_order(heights: list[float], column: float, fits: bool) -> None:
    """One step by itself has to do, however high."""
    assert _in_two_columns(heights, column) is fits
