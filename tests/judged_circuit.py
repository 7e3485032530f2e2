"""A wiring with its solution looked at as a circuit, for tests that hold the two apart."""

from __future__ import annotations

from collections.abc import Mapping

from sheetgen.circuit import Circuit
from sheetgen.circuit.current import Flow
from sheetgen.circuit.current import flow_of as flow_in
from sheetgen.judge import judge
from sheetgen.model.accessory import Terminal
from sheetgen.model.reading import Reading
from sheetgen.model.solution import Condition, Group, Row, Solution
from sheetgen.model.style import ColourSet
from sheetgen.model.wiring import Wiring


def solution_to_reading(wiring: Wiring, solution: Solution, sets: Mapping[str, ColourSet]) -> Reading:
    """What is said of a wiring with this solution."""
    return judge(Circuit(wiring, solution), sets)


def flow_of(wiring: Wiring, solution: Solution, group: Group, row: Row) -> Flow:
    """Where current flows in a setting."""
    return flow_in(Circuit(wiring, solution), group, row)


def conditions_of(solution: Solution, group: Group, row: Row) -> Mapping[Terminal, Condition]:
    """The condition of every terminal in a setting."""
    return {**solution.constant, **dict(zip(group.terminals, row.conditions, strict=True))}
