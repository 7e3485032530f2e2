"""A plan as a person follows it on paper: steps with numbers, and ends with letters."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from string import ascii_uppercase

from sheetgen.model.finding_out import NumberedStep, Outcome, PlanEnd, PlanStep


def numbered(plan: PlanStep | None) -> tuple[tuple[NumberedStep, ...], tuple[PlanEnd, ...]]:
    """The steps in the order in which they may come, each once, and the ends that they lead to."""
    if plan is None:
        return (), ()
    order: dict[PlanStep, int] = {}
    ahead = [plan]
    while ahead:
        step = ahead.pop()
        if step not in order:
            order[step] = len(order) + 1
            ahead += [o.then for o in reversed(step.outcomes) if o.then]
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


def _goes_on(outcome: Outcome, order: dict[PlanStep, int], ends: dict[tuple[int, ...], str]) -> str:
    return f"step {order[outcome.then]}" if outcome.then else ends[outcome.left]


def _letters() -> Iterator[str]:
    for length in range(1, 4):
        for letters in product(ascii_uppercase, repeat=length):
            yield "".join(letters)
