"""The figures of a wiring, and lengths to work them from."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from circuits import SETS
from judged_circuit import solution_to_reading

from sheetgen.judge.figures import reckon
from sheetgen.model.reckoning import Reckoning
from sheetgen.model.wiring import Wiring
from sheetgen.solve.wiring_to_solution import wiring_to_solution

F = Fraction


def reckoned(wiring: Wiring) -> Reckoning:
    """Everything that is reckoned of a wiring."""
    solution = wiring_to_solution(wiring)
    return reckon(wiring, solution, solution_to_reading(wiring, solution, SETS).ways)


def with_lengths(wiring: Wiring, metres: int = 5) -> Wiring:
    """Every cable but flex a length of its own, method C."""
    return replace(wiring, cables=tuple(
        replace(c, length=F(metres + i), method="C") if not c.flex else c for i, c in enumerate(wiring.cables)))
