"""Random houses drawn once and kept, with what is judged of them, for the laws that many tests ask of any house.

The strategies `houses()` and `sound_houses()` give one of them; `judged` solves and judges each of them once.
"""

from __future__ import annotations

import pytest
from circuits import SETS, sound_wirings, wirings
from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st
from judged_circuit import solution_to_reading

from sheetgen.model.reading import Reading
from sheetgen.model.solution import Solution
from sheetgen.model.wiring import Wiring
from sheetgen.solve.wiring_to_solution import wiring_to_solution


def _drawn(strategy: st.SearchStrategy[Wiring], count: int) -> tuple[Wiring, ...]:
    found: list[Wiring] = []

    @seed(2026)
    @settings(max_examples=count, deadline=None, database=None, phases=[Phase.generate],
              suppress_health_check=list(HealthCheck))
    @given(strategy)
    def draw(wiring: Wiring) -> None:
        found.append(wiring)

    draw()
    return tuple(found)


one_process = pytest.mark.xdist_group("houses")  # so that each of them is judged once and no more
HOUSES = _drawn(wirings(), 40)
SOUND = _drawn(sound_wirings(), 30)
_KEPT = {id(house) for house in (*HOUSES, *SOUND)}
_judged: dict[int, tuple[Solution, Reading]] = {}


def houses() -> st.SearchStrategy[Wiring]:
    """Houses right and wrong."""
    return st.sampled_from(HOUSES)


def sound_houses() -> st.SearchStrategy[Wiring]:
    """Houses with nothing wrong in them."""
    return st.sampled_from(SOUND)


def judged(wiring: Wiring) -> tuple[Solution, Reading]:
    """The solution of a wiring and what is said of it; of a house that is kept the same every time."""
    if id(wiring) in _judged:
        return _judged[id(wiring)]
    solution = wiring_to_solution(wiring)
    found = solution, solution_to_reading(wiring, solution, SETS)
    if id(wiring) in _KEPT:
        _judged[id(wiring)] = found
    return found
