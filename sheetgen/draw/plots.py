"""Volt drop plots: bars as drawings, painted by the same writers and in the same letters as all else."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sheetgen.circuit import Circuit
from sheetgen.circuit.current import path_of
from sheetgen.circuit.graph import Step
from sheetgen.draw.typeface import text_width
from sheetgen.judge.figures.loads import Currents, Loads
from sheetgen.model.accessory import Terminal
from sheetgen.model.drawing import Area, Box, Drawing, Line, Point, Shape, Text
from sheetgen.model.geometry import MM
from sheetgen.model.reckoning import DropFigures
from sheetgen.model.solution import Row
from sheetgen.model.style import Style
from sheetgen.model.wiring import Wiring

WORTH = 0.2  # share of the limit that some lamp must lose: with less the table says all there is to see
WIDTH, ROW, FOOT, HEAD = 180, 7, 11, 7  # millimetres
BAR = 434  # height of a bar, hundredths of a millimetre
MOST_BARS = 18  # that a sheet of A4 holds
AXIS = "volts lost on the way to the lamp and back"
DOTS = "\N{HORIZONTAL ELLIPSIS}"
ROOM = 1.12  # of the axis beyond the longest bar or the limit
NAME, VALUE, INSIDE = "diagram name", "diagram pin", "diagram code"


@dataclass(frozen=True)
class Profile:
    """The volts lost on the way to a lamp and back, cable by cable in the order in which line comes along them."""

    lamp: str
    pieces: tuple[tuple[str, float], ...]
    limit: float

    @property
    def volts(self) -> float:
        """Altogether."""
        return sum(volts for _, volts in self.pieces)


def worth_plotting(drops: Sequence[DropFigures]) -> bool:
    """Whether some lamp loses enough of what it may lose."""
    return any(drop.volts is not None and drop.volts >= WORTH * float(drop.limit) for drop in drops)


def profiles_of(circuit: Circuit, drops: Sequence[DropFigures]) -> tuple[Profile, ...]:
    """Where on its way each lamp for which a drop was reckoned loses it, every other lamp on that can be."""
    wiring, solution = circuit.wiring, circuit.solution
    loads = Loads(wiring, solution)
    cables = {core.key: core.cable for core in wiring.cores()}
    numbers = {lamp: i for i, group in enumerate(solution.groups) for lamp in group.lamps}
    flows: dict[tuple[int, tuple[str, ...]] | None, Currents] = {}  # None: of everything on at once
    found = []
    for drop in drops:
        if drop.volts is None:
            continue
        number = numbers[drop.lamp]
        row = solution.groups[number].row(dict(drop.setting))
        key = None if row is loads.all_on.get(number) else (number, row.setting)
        if key not in flows:
            flows[key] = loads.flow({**loads.all_on, number: row})
        pieces = _pieces(circuit, drop.lamp, row, flows[key].volts, cables)
        found.append(Profile(circuit.part(drop.lamp), pieces, float(drop.limit)))
    return tuple(found)


def _pieces(
    circuit: Circuit, lamp: str, row: Row, volts: Mapping[Terminal, float], cables: Mapping[str, str]
) -> tuple[tuple[str, float], ...]:
    path = path_of(circuit, circuit.solution.group_of_lamp(lamp), row, lamp)
    assert path is not None, "a drop is reckoned for what carries current"
    lost: dict[str, float] = {}
    for step in (*path.there, *path.back):
        if step.kind == "core" and not _beyond(circuit.wiring, step, cables):
            lost[cables[step.name]] = lost.get(cables[step.name], 0.0) + abs(volts[step.end] - volts[step.start])
    return tuple(lost.items())


def _beyond(wiring: Wiring, step: Step, cables: Mapping[str, str]) -> bool:
    """Whether a core is of a flex of unknown length, up to which the drop is reckoned."""
    cable = wiring.cable(cables[step.name])
    return cable.flex and cable.length is None


def drop_plots(profiles: Sequence[Profile], style: Style) -> tuple[Drawing, ...]:
    """A bar for each lamp against the limit, on as many drawings as sheets are needed; all to one scale."""
    longest = max(max(p.volts, p.limit) for p in profiles)
    sheets = -(-len(profiles) // MOST_BARS)
    share = -(-len(profiles) // sheets)
    parts = [profiles[i:i + share] for i in range(0, len(profiles), share)]
    return tuple(_BarChart(part, longest, style).drawing() for part in parts)


def steps_of(longest: float) -> list[float]:
    """Round figures from 0 up to the longest bar, 1, 2 or 5 times a power of ten apart, ten at most."""
    power = 10.0 ** math.floor(math.log10(longest / 10))
    step = next(power * times for times in (1, 2, 5, 10) if power * times * 10 >= longest)
    return [i * step for i in range(int(longest / step) + 1)]


class _BarChart:
    """Bars parted where one cable follows another; a bar begins at the names' right, the axis is below."""

    def __init__(self, profiles: Sequence[Profile], longest: float, style: Style):
        self.profiles, self.longest, self.style = profiles, longest, style
        room = WIDTH * MM // 3
        self.names = [self._cut(profile.lamp, room) for profile in profiles]
        self.left = max(text_width(name, style.letterings[NAME]) for name in self.names) + 3 * MM
        self.axis = round(WIDTH * MM * 0.97) - self.left
        self.top, self.foot = HEAD * MM, (HEAD + ROW * len(profiles)) * MM

    def _cut(self, name: str, room: int) -> str:
        """A name that fits beside its bar."""
        lettering = self.style.letterings[NAME]
        if text_width(name, lettering) <= room:
            return name
        fits = bisect_right(range(len(name)), room, key=lambda n: text_width(name[:n] + DOTS, lettering))
        return name[: max(fits - 1, 1)].rstrip() + DOTS

    def drawing(self) -> Drawing:
        """Grid and ticks, limits, bars, words."""
        shapes = (*self._grid(), *self._limits(), *self._bars())
        return Drawing(WIDTH * MM, self.foot + FOOT * MM, shapes, "Volt drop to each lamp")

    def _x(self, volts: float) -> int:
        return self.left + round(self.axis * volts / (self.longest * ROOM))

    def _middle(self, row: int) -> int:
        return self.top + row * ROW * MM + ROW * MM // 2

    def _grid(self) -> list[Shape]:
        shapes: list[Shape] = []
        for volts in steps_of(self.longest * ROOM):
            x = self._x(volts)
            shapes.append(Line(((x, self.top), (x, self.foot)), "plot grid"))
            shapes.append(Text(x, self.foot + 3 * MM, f"{volts:g}", VALUE))
        shapes.append(Text(self.left + self.axis // 2, self.foot + 7 * MM, AXIS, VALUE))
        return shapes

    def _limits(self) -> list[Shape]:
        shapes: list[Shape] = []
        for limit in dict.fromkeys(profile.limit for profile in self.profiles):
            x = self._x(limit)
            shapes.append(Line(((x, self.top), (x, self.foot)), "plot limit"))
            shapes.append(Text(x, self.top - 100, f"limit {limit:g} V", NAME))
        return shapes

    def _bars(self) -> list[Shape]:
        shapes: list[Shape] = []
        for row, (name, profile) in enumerate(zip(self.names, self.profiles, strict=True)):
            y, start = self._middle(row), 0.0
            for number, (cable, volts) in enumerate(profile.pieces):
                shapes += self._piece(y, number, cable, (self._x(start), self._x(start + volts)))
                start += volts
            shapes += self._value((self._x(profile.volts), y), f"{profile.volts:.2f} V")
            shapes.append(Text(self.left - 150, y + 90, name, NAME, "end"))
        return shapes

    def _piece(self, y: int, number: int, cable: str, ends: tuple[int, int]) -> list[Shape]:
        """A piece of a bar, with the cable's name on it where there is room for it."""
        (left, right), half = ends, BAR // 2
        points = ((left, y + half), (left, y - half), (right, y - half), (right, y + half))
        bar = Area(points, "plot bar" if number % 2 == 0 else "plot bar other", about=(("cable", cable),))
        if right - left < text_width(cable, self.style.letterings[INSIDE]) + MM:
            return [bar]
        return [bar, Text((left + right) // 2, y + 85, cable, INSIDE)]

    def _value(self, end: Point, text: str) -> list[Shape]:
        """A figure behind its bar, on a plate that keeps lines out of it."""
        width = text_width(text, self.style.letterings[VALUE])
        return [
            Box(end[0] + 70, end[1] - 180, width + 60, 360, "plate white"),
            Text(end[0] + MM, end[1] + 90, text, VALUE, "start"),
        ]
