"""A style: paints, text sizes and papers, read from YAML under styles/. Nothing here draws."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

BOTH = "both"  # in place of the name of a colour set: for a class that meets old and new work


@dataclass(frozen=True)
class ColourSet:
    """The conductor colours of one period: styles/colours/<name>.yaml."""

    name: str  # "legacy"
    title: str  # "legacy (red, black)"
    line: str  # colour of a line and of the sleeve that marks one
    neutral: str
    protective: str  # colour of the sleeve on a bare cpc: "GNYE"
    cores: Mapping[str, tuple[str, ...]]  # canonical cable type -> its cores in order, cpc last as "" or "GNYE"
    also: tuple[str, ...] = ()  # other colours met in this set
    period: str = ""
    source: str = ""


@dataclass(frozen=True)
class Paint:
    """How a role is painted. Colours are '#rrggbb' or '' for none; lengths in hundredths of a millimetre."""

    stroke: str = ""
    fill: str = ""
    width: int = 0
    dash: tuple[int, ...] = ()
    centre: str = ""  # colour of a thinner line along the middle
    casing: str = ""  # colour of a wider line beneath
    second: str = ""  # the other colour of green-and-yellow, painted in the gaps of the dash


@dataclass(frozen=True)
class Lettering:
    """How a text role is set."""

    size: float  # points
    weight: str = "regular"  # "regular", "bold"
    paint: str = "#000000"


@dataclass(frozen=True)
class Paper:
    """A sheet: millimetres, landscape."""

    name: str
    width: int
    height: int
    margin: int


@dataclass(frozen=True)
class Style:
    """Everything the writers look up: styles/print/<name>.yaml with the paints of every colour code."""

    name: str  # "colour" or "mono"
    paper: Paper
    roles: Mapping[str, Paint]
    colours: Mapping[str, Paint]  # colour code -> conductor paint
    letterings: Mapping[str, Lettering]
    names: Mapping[str, str]  # colour code -> English word
    sets: Mapping[str, ColourSet]
    measures: Mapping[str, int]  # named lengths of the layout, hundredths of a millimetre
