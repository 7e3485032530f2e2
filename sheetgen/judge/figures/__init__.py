"""Figures from lengths, sizes and devices: pure functions of a wiring and its solution, on published tables."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property

from sheetgen.judge.figures.devices import ways_of
from sheetgen.judge.figures.drops import Greatest, drops_of
from sheetgen.judge.figures.insulation import insulation_plan
from sheetgen.judge.figures.loads import Loads
from sheetgen.judge.figures.points import points_of
from sheetgen.judge.figures.ratings import cables_of, totals_of
from sheetgen.model.reckoning import (
    CableFigures,
    DropFigures,
    InsulationPlan,
    PointFigures,
    Reckoning,
    Total,
    WayFigures,
)
from sheetgen.model.solution import Solution
from sheetgen.model.wiring import Wiring


def reckon(wiring: Wiring, solution: Solution, ways: Mapping[str, tuple[str, ...]]) -> Reckoning:
    """Every figure of a job. `ways`: Core.key -> the ways whose rails reach it, as in the reading."""
    return Reckoner(wiring, solution, ways).everything()


class Reckoner:
    """The figures of a job, each kind worked out when it is first asked for: a rule asks for few of them."""

    def __init__(self, wiring: Wiring, solution: Solution, ways: Mapping[str, tuple[str, ...]]):
        self._wiring, self._solution, self._ways = wiring, solution, ways

    def everything(self) -> Reckoning:
        """All that is kept with a reading."""
        return Reckoning(cables=self.cables, ways=self.ways, points=self.points, drops=self.drops,
                         insulation=self.insulation, totals=self.totals)

    @cached_property
    def cables(self) -> tuple[CableFigures, ...]:
        """What each cable carries and may carry."""
        return cables_of(self._wiring, self._drops_and_greatest[1], _devices(self._wiring, self._ways),
                         self._ways)

    @cached_property
    def ways(self) -> tuple[WayFigures, ...]:
        """What each way takes, and the limit of its device."""
        return ways_of(self._loads)

    @cached_property
    def points(self) -> tuple[PointFigures, ...]:
        """R1+R2 and Zs at each accessory."""
        return points_of(self._wiring, self._solution)

    @property
    def drops(self) -> tuple[DropFigures, ...]:
        """The volts lost on the way to each lamp."""
        return self._drops_and_greatest[0]

    @cached_property
    def insulation(self) -> InsulationPlan:
        """What is joined and tested together."""
        return insulation_plan(self._wiring, self._solution, self._ways)

    @cached_property
    def totals(self) -> tuple[Total, ...]:
        """Lengths of each type of cable."""
        return totals_of(self._wiring)

    @cached_property
    def _loads(self) -> Loads:
        return Loads(self._wiring, self._solution)

    @cached_property
    def _drops_and_greatest(self) -> tuple[tuple[DropFigures, ...], Greatest]:
        return drops_of(self._loads)


def _devices(wiring: Wiring, ways: Mapping[str, tuple[str, ...]]) -> dict[str, str]:
    """Cable -> type of the device of the way that its live cores belong to."""
    types = {way.accessory: way.device.type for way in wiring.board.ways if way.device}
    found = {}
    for cable in wiring.cables:
        reached = [way for core in cable.cores if not core.cpc for way in ways[core.key]]
        found[cable.name] = next((types[way] for way in reached if way in types), "")
    return found
