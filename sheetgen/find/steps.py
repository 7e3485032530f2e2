"""A plan as a person follows it on paper: steps with numbers, and ends with letters."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import product
from string import ascii_uppercase

from sheetgen.model.finding_out import NumberedStep, Outcome, PlanEnd, PlanStep


def numbered(plan: PlanStep | None) -> tuple[tuple[NumberedStep, ...], tuple[PlanEnd, ...]]:
    """The steps in the order in which they may come, each once, and the ends that they lead to."""
    if plan is None:
        return (), ()
    order = {step: number for number, step in enumerate(in_order(plan), 1)}
    letters = _letters()
    ends: dict[tuple[int, ...], str] = {}
    steps = []
    for step, number in order.items():
        ways = []
        for outcome in step.outcomes:
            if outcome.then is None and outcome.left not in ends:
                ends[outcome.left] = next(letters)
            ways.append((outcome.reads, _goes_on(outcome, order, ends)))
        steps.append(NumberedStep(number, step.trial, tuple(ways)))
    return tuple(steps), tuple(PlanEnd(letter, left) for left, letter in ends.items())


def in_order(plan: PlanStep) -> tuple[PlanStep, ...]:
    """The steps in the order in which they may come, each once."""
    found: dict[PlanStep, None] = {}
    ahead = [plan]
    while ahead:
        step = ahead.pop()
        if step not in found:
            found[step] = None
            ahead += [o.then for o in reversed(step.outcomes) if o.then]
    return tuple(found)


def _goes_on(outcome: Outcome, order: dict[PlanStep, int], ends: dict[tuple[int, ...], str]) -> str:
    return f"step {order[outcome.then]}" if outcome.then else ends[outcome.left]


def _letters() -> Iterator[str]:
    for length in range(1, 4):
        for letters in product(ascii_uppercase, repeat=length):
            yield "".join(letters)


def first_steps(plan: PlanStep, effort: Callable[[PlanStep], float], most: float) -> PlanStep:
    """The plan as far as so much effort goes, nearest steps first; where it goes on its outcomes leave nothing to say.

    Such an outcome has no candidates and no next step.
    """
    kept: dict[PlanStep, None] = {}
    used, ahead = 0.0, deque([plan])
    while ahead:
        step = ahead.popleft()
        if step in kept:
            continue
        used += effort(step)
        if kept and used > most:
            break
        kept[step] = None
        ahead += [o.then for o in step.outcomes if o.then]

    def cut(step: PlanStep) -> PlanStep:
        return PlanStep(step.trial, tuple(
            o if o.then is None else replace(o, then=cut(o.then)) if o.then in kept else replace(o, left=(), then=None)
            for o in step.outcomes))

    return cut(plan)
