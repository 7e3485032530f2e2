"""A sheet for the screen: the drawings in each look, and the job with every setting worked out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from sheetgen.model.drawing import Drawing
from sheetgen.model.reading import Reading
from sheetgen.model.style import Style
from sheetgen.model.wiring import Wiring

Stories = Mapping[tuple[str, ...], Mapping[tuple[str, ...], str]]


@dataclass(frozen=True)
class View:
    """One look: as found, in a colour set, or for a black-and-white printer. Contacts are drawn in every position.

    In the drawings what belongs to one position of a switch says so: ("moves", switch), ("position", name).
    """

    name: str  # "found", "legacy", "current", "mono"
    title: str
    wiring: Wiring
    reading: Reading
    style: Style
    sheets: tuple[Drawing, ...]
    diagrams: tuple[Drawing, ...]  # one for each group of the solution
    stories: Stories = field(default_factory=dict)
    """Switches, else lamps, of a group -> setting -> what happens in it, in the colours of this look."""


@dataclass(frozen=True)
class Screen:
    """Everything a sheet for the screen shows. The first view is as found."""

    views: tuple[View, ...]
    flows: Mapping[tuple[str, ...], Mapping[tuple[str, ...], tuple[str, ...]]]
    """Switches, else lamps, of a group -> setting -> cores that carry current."""
    source: str = ""
    fingerprint: str = ""
