"""Figures from lengths, sizes and devices: pure functions of a wiring and its solution, on published tables."""

from __future__ import annotations

from collections.abc import Mapping

from sheetgen.judge.figures.devices import ways_of
from sheetgen.judge.figures.drops import drops_of
from sheetgen.judge.figures.insulation import insulation_plan
from sheetgen.judge.figures.loads import Loads
from sheetgen.judge.figures.points import points_of
from sheetgen.judge.figures.ratings import cables_of, totals_of
from sheetgen.model.reckoning import Reckoning
from sheetgen.model.solution import Solution
from sheetgen.model.wiring import Wiring


def reckon(wiring: Wiring, solution: Solution, ways: Mapping[str, tuple[str, ...]]) -> Reckoning:
    """Every figure of a job. `ways`: Core.key -> the ways whose rails reach it, as in the reading."""
    loads = Loads(wiring, solution)
    drops, greatest = drops_of(loads)
    return Reckoning(
        cables=cables_of(wiring, greatest, _devices(wiring, ways)),
        ways=ways_of(loads),
        points=points_of(wiring, solution),
        drops=drops,
        insulation=insulation_plan(wiring, solution),
        totals=totals_of(wiring),
    )


def _devices(wiring: Wiring, ways: Mapping[str, tuple[str, ...]]) -> dict[str, str]:
    """Cable -> type of the device of the way that its live cores belong to."""
    types = {way.accessory: way.device.type for way in wiring.board.ways if way.device}
    found = {}
    for cable in wiring.cables:
        reached = [way for core in cable.cores if not core.cpc for way in ways[core.key]]
        found[cable.name] = next((types[way] for way in reached if way in types), "")
    return found
