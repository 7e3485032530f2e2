"""Solution to Reading: the role of every core, the sleeves it needs, and what the check noticed."""

from __future__ import annotations

from collections.abc import Mapping

from sheetgen.model.reading import Reading
from sheetgen.model.solution import Solution
from sheetgen.model.style import ColourSet
from sheetgen.model.wiring import Wiring
from sheetgen.solution_to_reading.roles import nets_of, roles_of, ways_of
from sheetgen.solution_to_reading.sleeves import sleeves_of


def solution_to_reading(wiring: Wiring, solution: Solution, sets: Mapping[str, ColourSet]) -> Reading:
    """Read a solved wiring."""
    nets = nets_of(wiring, solution)
    roles = roles_of(wiring, solution, nets)
    sleeves = sleeves_of(wiring, roles, sets)
    return Reading(roles, ways_of(wiring, solution, nets), sleeves)
