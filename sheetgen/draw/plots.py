"""Plots as drawings. Matplotlib sets them out, at 0.01 mm to its pixel; its paths and ticks are read as shapes, so that
they are painted by the same writers, in the same letters and with the same care for grey, as all else.

Matplotlib is imported only when a plot is drawn: that takes half as long as a whole sheet without one.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sheetgen.circuit.current import Step, flow_of
from sheetgen.draw.typeface import text_width
from sheetgen.judge.figures.loads import Loads
from sheetgen.model.drawing import Area, Box, Drawing, Line, Point, Shape, Text
from sheetgen.model.geometry import MM
from sheetgen.model.reckoning import DropFigures
from sheetgen.model.solution import Row, Solution
from sheetgen.model.style import Style
from sheetgen.model.wiring import Wiring

WORTH = 0.2  # share of the limit that some lamp must lose: with less the table says all there is to see
DOTS = 100 * 25.4  # pixels of an inch: one is 0.01 mm
WIDTH, ROW, FOOT, HEAD = 180, 7, 11, 7  # millimetres
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


def profiles_of(wiring: Wiring, solution: Solution, drops: Sequence[DropFigures]) -> tuple[Profile, ...]:
    """Where on its way each lamp for which a drop was reckoned loses it, every other lamp on that can be."""
    loads = Loads(wiring, solution)
    found = []
    for drop in drops:
        if drop.volts is None:
            continue
        number = next(i for i, group in enumerate(solution.groups) if drop.lamp in group.lamps)
        group = solution.groups[number]
        row = group.row(dict(drop.setting))
        flow = loads.flow({**loads.all_on, number: row})
        pieces = _pieces(wiring, solution, drop, row, flow.volts)
        found.append(Profile(drop.lamp, pieces, float(drop.limit)))
    return tuple(found)


def _pieces(
    wiring: Wiring, solution: Solution, drop: DropFigures, row: Row, volts: Mapping
) -> tuple[tuple[str, float], ...]:
    group = solution.group_of_lamp(drop.lamp)
    path = next(p for p in flow_of(wiring, solution, group, row).paths if p.load == drop.lamp)
    cables = {core.key: core.cable for core in wiring.cores()}
    lost: dict[str, float] = {}
    for step in (*path.there, *path.back):
        if step.kind == "core" and not _beyond(wiring, step, cables):
            lost[cables[step.name]] = lost.get(cables[step.name], 0.0) + abs(volts[step.end] - volts[step.start])
    return tuple(lost.items())


def _beyond(wiring: Wiring, step: Step, cables: Mapping[str, str]) -> bool:
    """Whether a core is of a flex of unknown length, up to which the drop is reckoned."""
    cable = wiring.cable(cables[step.name])
    return cable.flex and cable.length is None


def drop_plot(profiles: Sequence[Profile], style: Style) -> Drawing:
    """A bar for each lamp, parted where one cable follows another, against the limit."""
    from matplotlib.figure import Figure

    margin = max(text_width(profile.lamp, style.letterings[NAME]) for profile in profiles) + 3 * MM
    height = HEAD + FOOT + ROW * len(profiles)
    figure = Figure((WIDTH / 25.4, height / 25.4), dpi=DOTS)
    left = margin / MM / WIDTH
    axes = figure.add_axes((left, FOOT / height, 0.97 - left, ROW * len(profiles) / height))
    for row, profile in enumerate(profiles):
        left = 0.0
        for _, volts in profile.pieces:
            axes.barh(row, volts, height=0.62, left=left)
            left += volts
    longest = max([*(p.volts for p in profiles), *(p.limit for p in profiles)])
    axes.set_xlim(0, longest * ROOM)
    axes.set_ylim(len(profiles) - 0.5, -0.5)
    return _Read(figure, axes, profiles, style).drawing()


class _Read:
    """Reads what matplotlib set out as shapes."""

    def __init__(self, figure, axes, profiles: Sequence[Profile], style: Style):
        self.axes, self.profiles, self.style = axes, profiles, style
        self.width, self.height = (round(side * DOTS) for side in figure.get_size_inches())

    def drawing(self) -> Drawing:
        """Grid and ticks, bars, limits, words."""
        shapes = [*self._grid(), *self._limits(), *self._bars()]
        return Drawing(self.width, self.height, tuple(shapes), "Volt drop to each lamp")

    def _at(self, x: float, y: float) -> Point:
        """A point of the data on paper, y downwards."""
        px, py = self.axes.transData.transform((x, y))
        return round(px), round(self.height - py)

    def _ends(self) -> tuple[float, float]:
        low, high = self.axes.get_ylim()
        return min(low, high), max(low, high)

    def _grid(self) -> list[Shape]:
        top, bottom = self._ends()
        shapes: list[Shape] = []
        for tick in self.axes.get_xticks():
            if 0 <= tick <= self.axes.get_xlim()[1]:
                foot = self._at(tick, bottom)
                shapes.append(Line((self._at(tick, top), foot), "plot grid"))
                shapes.append(Text(foot[0], foot[1] + 3 * MM, f"{tick:g}", VALUE))
        x = (self._at(0, bottom)[0] + self._at(self.axes.get_xlim()[1], bottom)[0]) // 2
        shapes.append(Text(x, self._at(0, bottom)[1] + 7 * MM, "volts lost on the way to the lamp and back", VALUE))
        return shapes

    def _bars(self) -> list[Shape]:
        patches = iter(self.axes.patches)
        shapes: list[Shape] = []
        for row, profile in enumerate(self.profiles):
            for number, (cable, volts) in enumerate(profile.pieces):
                shapes.append(self._bar(next(patches), cable, number))
                shapes += self._inside(row, profile, number, cable, volts)
            end = self._at(profile.volts, row)
            shapes += self._value(end, f"{profile.volts:.2f} V")
            shapes.append(Text(self._at(0, row)[0] - 150, end[1] + 90, profile.lamp, NAME, "end"))
        return shapes

    def _value(self, end: Point, text: str) -> list[Shape]:
        """A figure behind its bar, on a plate that keeps lines out of it."""
        width = text_width(text, self.style.letterings[VALUE])
        return [
            Box(end[0] + 70, end[1] - 180, width + 60, 360, "plate white"),
            Text(end[0] + MM, end[1] + 90, text, VALUE, "start"),
        ]

    def _bar(self, patch, cable: str, number: int) -> Area:
        path = patch.get_path().transformed(patch.get_transform())
        points = tuple((round(x), round(self.height - y)) for x, y in path.vertices[:4])
        return Area(points, "plot bar" if number % 2 == 0 else "plot bar other", about=(("cable", cable),))

    def _inside(self, row: int, profile: Profile, number: int, cable: str, volts: float) -> list[Shape]:
        """The cable's name on its piece, where there is room for it."""
        start = sum(v for _, v in profile.pieces[:number])
        (left, y), (right, _) = self._at(start, row), self._at(start + volts, row)
        if right - left < text_width(cable, self.style.letterings[INSIDE]) + MM:
            return []
        return [Text((left + right) // 2, y + 85, cable, INSIDE)]

    def _limits(self) -> list[Shape]:
        top, bottom = self._ends()
        shapes: list[Shape] = []
        for limit in dict.fromkeys(profile.limit for profile in self.profiles):
            head = self._at(limit, top)
            shapes.append(Line((head, self._at(limit, bottom)), "plot limit"))
            shapes.append(Text(head[0], head[1] - 100, f"limit {limit:g} V", NAME))
        return shapes
