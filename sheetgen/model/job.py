"""A job: the wiring with all that was worked out from it, ready to be set on pages."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from sheetgen.model.drawing import Drawing
from sheetgen.model.reading import Reading
from sheetgen.model.solution import Solution
from sheetgen.model.style import ColourSet
from sheetgen.model.wiring import Wiring


@dataclass(frozen=True)
class LivePath:
    """One setting of a group explained: the diagram with the live conductors picked out, and what happens in words."""

    setting: tuple[str, ...]  # position of each switch of the group
    says: str
    drawing: Drawing | None = None


@dataclass(frozen=True)
class Diagram:
    """The circuit diagram of one group, and its live paths in the order in which they are to be read."""

    switches: tuple[str, ...]  # the group's, as in the solution
    drawing: Drawing
    paths: tuple[LivePath, ...] = ()
    lamps: tuple[str, ...] = ()  # the group's, as in the solution


@dataclass(frozen=True)
class Job:
    """Everything a job sheet prints. The drawings, legend and diagrams are at their printed size."""

    wiring: Wiring
    solution: Solution
    reading: Reading
    drawings: tuple[Drawing, ...] = ()  # of the wiring, one for each sheet
    overview: tuple[Drawing, ...] = ()  # of a wiring of several sheets: what is drawn on which
    legend: Drawing | None = None
    legends: tuple[Drawing, ...] = ()  # of each drawing: only what occurs on it
    diagrams: tuple[Diagram, ...] = ()
    plots: tuple[Drawing, ...] = ()  # of the volt drop, where there is something to see
    sets: Mapping[str, ColourSet] = field(default_factory=dict)
    source: str = ""  # file name of the description
    fingerprint: str = ""  # of the description's bytes, short
