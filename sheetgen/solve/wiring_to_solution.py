"""Wiring to Solution: the state of every terminal and load in every setting of the switches, exact."""

from __future__ import annotations

from sheetgen.model.solution import Solution
from sheetgen.model.wiring import Wiring
from sheetgen.solve.solve import Solver


def wiring_to_solution(wiring: Wiring) -> Solution:
    """Solve a wiring in every setting of its switches."""
    return Solver().solve(wiring)
