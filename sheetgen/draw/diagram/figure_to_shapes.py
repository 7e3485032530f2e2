"""From a figure to shapes: the diagram at rest, or a miniature with what is live and where current flows."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial

from sheetgen.draw.diagram.arrange import RUNG_APART
from sheetgen.draw.diagram.plan_to_figure import Measures
from sheetgen.draw.diagram.symbols import PIN, SymbolShapes
from sheetgen.model.accessory import Terminal
from sheetgen.model.diagram import (
    POINTS,
    Connection,
    Figure,
    PinPoints,
    Point,
    Rung,
    SupplyRail,
    Symbol,
    outer,
    rungs_of,
)
from sheetgen.model.drawing import About, Area, Circle, Drawing, Line, Shape, Text

ARROW, ARROW_HALF = 210, 95  # length and half width of an arrow head
PIECES = {"dot": "diagram dot", "link": "diagram link", "loose": "diagram loose", "unknown": "unknown end",
          "terminal": "diagram pin"}  # what a piece of a symbol is -> its role
GAP = 75  # half of the gap where a wire crosses above another


@dataclass(frozen=True)
class ShownSetting:
    """What a miniature shows. `flow`: core -> its end at which current enters; `at` holds the live terminals."""

    setting: Mapping[str, str] = field(default_factory=dict)
    live: frozenset[Terminal] = frozenset()
    flow: Mapping[str, Terminal] = field(default_factory=dict)
    carrying: frozenset[Terminal] = frozenset()  # pins of contacts that current passes
    lit: Mapping[str, str] = field(default_factory=dict)  # load -> "on", "dim", ...
    shown: bool = False  # False: the diagram at rest


def figure_to_drawing(figure: Figure, measures: Measures, state: ShownSetting, title: str = "") -> Drawing:
    """The figure as a drawing: wires, then bars, symbols and texts above them."""
    inked = _Shapes(figure, measures, state)
    shapes = (*inked.wires(), *inked.bars(), *inked.symbols(), *inked.pins(), *inked.arrows(), *inked.texts())
    return Drawing(figure.width, figure.height, shapes, title)


class _Shapes:
    def __init__(self, figure: Figure, measures: Measures, state: ShownSetting):
        self.figure, self.m, self.state = figure, measures, state
        self.schematic = figure.plan.schematic
        self.met = {path[n] for path in figure.paths for n in (0, -1)}

    def role(self, terminal: Terminal | None) -> str:
        """How what is at a terminal's potential is inked."""
        if not self.state.shown:
            return "diagram wire"
        return "diagram live" if terminal and outer(terminal) in self.state.live else "diagram rest"

    # wires

    def wires(self) -> list[Shape]:
        """Every wire, a dot where wires part, and a gap where one crosses above another."""
        shapes: list[Shape] = []
        for wire, path in zip(self.schematic.wires, self.figure.paths, strict=True):
            ends = (("from", str(wire.ends[0])), ("to", str(outer(wire.ends[1]))))
            about = (("core", self._core(wire)), *ends) if wire.cores else ends
            shapes.append(Line(path, self._wire_role(wire), about=about))
        for wire, at in self._crossings():
            x, y = at
            shapes.append(Line(((x, y - GAP), (x, y + GAP)), "diagram gap"))
            shapes.append(Line(((x, y - GAP), (x, y + GAP)), self._wire_role(wire), about=(("over", wire.core),)))
        shapes += [Line(((x, y - GAP), (x, y + GAP)), "diagram gap") for x, y in self._under_bars()]
        shapes += [Circle(x, y, 38, "diagram dot") for x, y in self._partings()]
        return shapes

    def _core(self, wire: Connection) -> str:
        """The core that a connection is known by: one that carries current, else its first."""
        return next((core for core, _, _ in wire.cores if core in self.state.flow), wire.core)

    def _wire_role(self, wire: Connection) -> str:
        role = self.role(next(end for end in wire.ends if end.accessory))
        carries = self._core(wire) in self.state.flow if wire.cores else outer(wire.ends[1]) in self.state.carrying
        return "diagram current" if role == "diagram rest" and carries else role

    def _crossings(self) -> Iterator[tuple[Connection, Point]]:
        """(upper wire, point) wherever an upright stretch of one wire crosses a level stretch of another."""
        stretches = [(wire, a, b) for wire, path in zip(self.schematic.wires, self.figure.paths, strict=True)
                     for a, b in itertools.pairwise(path)]
        level = [(w, min(a[0], b[0]), max(a[0], b[0]), a[1]) for w, a, b in stretches if a[1] == b[1]]
        for wire, a, b in stretches:
            if a[0] == b[0]:
                low, high = sorted((a[1], b[1]))
                for other, left, right, y in level:
                    if other is not wire and left < a[0] < right and low < y < high:
                        yield wire, (a[0], y)

    def _under_bars(self) -> Iterator[Point]:
        """Where a wire to an outer rail passes under another."""
        for bar in self.figure.bars:
            for path in self.figure.paths:
                for (ax, ay), (bx, by) in itertools.pairwise(path):
                    if ay == by and min(ax, bx) < bar.x < max(ax, bx) and bar.top < ay < bar.bottom:
                        yield bar.x, ay

    def _partings(self) -> list[Point]:
        """Where wires of one pin part after a stretch that they share."""
        ways: dict[tuple[Point, ...], list[tuple[Point, ...]]] = {}
        for path in self.figure.paths:
            for way in (path, path[::-1]):
                ways.setdefault(way[:1], []).append(way)
        found = [point for leaving in ways.values() for i, a in enumerate(leaving) for b in leaving[:i]
                 if (point := _parting(a, b)) != a[0]]
        return list(dict.fromkeys(found))

    # rails

    def bars(self) -> list[Shape]:
        """The rails, a dot at every wire that leaves one."""
        shapes: list[Shape] = []
        for bar in self.figure.bars:
            about: About = (("rail", str(bar.rail.terminal)),)
            about += () if bar.rail.supplied else (("terminal", str(bar.rail.terminal)),)  # live or not as that is
            shapes.append(Line(((bar.x, bar.top), (bar.x, bar.bottom)), self._rail_role(bar.rail), about=about))
            for (x, y), tap in bar.taps:
                shapes.append(Circle(x, y, 45, "diagram dot", about=(("terminal", str(tap)),)))
        return shapes

    def _rail_role(self, rail: SupplyRail) -> str:
        """How a rail is inked; one that nothing supplies as the conductor that it is."""
        if not rail.supplied:
            return self.role(rail.terminal)
        return "diagram rail live" if self.state.shown and rail.kind == "line" else "diagram rail"

    # symbols

    def symbols(self) -> list[Shape]:
        """Every symbol."""
        return [shape for i in range(len(self.schematic.symbols)) for shape in self._symbol(i)]

    def _symbol(self, i: int) -> list[Shape]:
        part, pins = self.schematic.symbols[i], self.figure.pins[i]
        symbol = SymbolShapes(pins, lambda what, pin: self._piece_role(i, what, pin))
        if part.kind in POINTS:
            used = pins[0][0] in self.met, pins[1][0] in self.met
            kinds = {"joint": symbol.joint, "end": symbol.loose_end, "unknown": symbol.unknown_end}
            return kinds[part.kind](used)
        if rungs_of(part):
            return self._ladder(i)
        if part.load:
            return self._load(symbol, part.kind, part.load)
        turned = self.figure.plan.places[i].turned
        return symbol.contact(self.m.contact, self._made(part, turned), hinged=int(turned))

    def _load(self, symbol: SymbolShapes, what: str, load: str) -> list[Shape]:
        if what == "lamp":
            return symbol.lamp(self.m.lamp, self.state.lit.get(load) == "on")
        return symbol.load(self.m.lamp, what == "fan")

    def _ladder(self, i: int) -> list[Shape]:
        """Loads in parallel: a rung for each, between two uprights."""
        part, turned = self.schematic.symbols[i], self.figure.plan.places[i].turned
        shapes: list[Shape] = []
        rungs = self._rung_pins(i)
        for pins, rung in zip(rungs, part.rungs, strict=True):
            symbol = SymbolShapes(pins, partial(self._rung_role, rung, turned))
            shapes += self._load(symbol, rung.what, rung.load)
        for side in (0, 1):
            role, about = self._piece_role(i, "lead", (side, 0))
            points = tuple(pins[side][0] for pins in rungs)
            shapes += [Line(ends, role, about=about) for ends in itertools.pairwise(points)]
        return shapes

    def _rung_pins(self, i: int) -> list[PinPoints]:
        """The points of the pins of each rung of a symbol."""
        (left,), (right,) = self.figure.pins[i]
        down = RUNG_APART * self.m.row
        return [(((left[0], left[1] + n * down),), ((right[0], right[1] + n * down),))
                for n in range(len(self.schematic.symbols[i].rungs))]

    def _rung_role(self, rung: Rung, turned: bool, what: str, pin: tuple[int, int] | None) -> tuple[str, About]:
        about: About = (("symbol", rung.load),)
        terminal = rung.ends[pin[0] ^ turned] if pin else None
        if terminal is not None:
            about += (("terminal", str(terminal)),)
        if what == "lead":
            return self.role(terminal), about
        lit = self.state.lit.get(rung.load) in ("on", "dim")
        return {"body": "diagram lit" if lit else "diagram body"}.get(what, "diagram symbol"), about

    def _made(self, part: Symbol, turned: bool) -> list[tuple[tuple[int, int], tuple[int, int]]]:
        """The pairs of pins joined in the setting shown; at rest every switch is in its first position."""
        position = self.state.setting.get(part.switch, part.joins[0][0])
        at = {pin: (int(turned), n) for n, pin in enumerate(part.a)}
        at |= {pin: (1 - turned, n) for n, pin in enumerate(part.b)}
        return [(at[a], at[b]) for a, b in dict(part.joins)[position]]

    def _piece_role(self, number: int, what: str, pin: tuple[int, int] | None) -> tuple[str, About]:
        part = self.schematic.symbols[number]
        terminal = self._terminal(number, pin) if pin else None
        about: About = (("symbol", part.switch or part.load or str(outer(part.pins[0]))),)
        if terminal is not None:
            about += (("terminal", str(outer(terminal))),)
        if what in ("lead", "blade"):
            role = self.role(terminal)
            if role == "diagram rest" and terminal and outer(terminal) in self.state.carrying:
                role = "diagram current"
            return ("diagram blade" if what == "blade" and not self.state.shown else role), about
        if what == "body":
            return ("diagram lit" if self.state.lit.get(part.load) in ("on", "dim") else "diagram body"), about
        return PIECES.get(what, "diagram symbol"), about

    def _terminal(self, number: int, pin: tuple[int, int]) -> Terminal:
        """The terminal of a pin, given as (visual side, number)."""
        part, place = self.schematic.symbols[number], self.figure.plan.places[number]
        mine = part.b if (pin[0] == 1) != place.turned else part.a
        return mine[pin[1]]

    def pins(self) -> list[Shape]:
        """A small open circle at every pin of a contact or a load."""
        shapes: list[Shape] = []
        for i, part in enumerate(self.schematic.symbols):
            for pins, rung in zip(self._rung_pins(i), part.rungs, strict=True) if rungs_of(part) and self.m.pin else ():
                ends = rung.ends[:: -1 if self.figure.plan.places[i].turned else 1]
                shapes += [Circle(*side[0], PIN, "diagram pin", about=(("terminal", str(end)),))
                           for side, end in zip(pins, ends, strict=True)]
            if part.kind not in POINTS and self.m.pin and not rungs_of(part):
                for visual, side in enumerate(self.figure.pins[i]):
                    for n, (x, y) in enumerate(side):
                        about = (("terminal", str(outer(self._terminal(i, (visual, n))))),)
                        shapes.append(Circle(x, y, PIN, "diagram pin", about=about))
        return shapes

    # current

    def arrows(self) -> list[Shape]:
        """An arrow head on the longest level stretch of every wire that carries current."""
        shapes: list[Shape] = []
        for wire, path in zip(self.schematic.wires, self.figure.paths, strict=True):
            entered = next((self.state.flow[core] == start for core, start, _ in wire.cores
                            if core in self.state.flow), None)
            if entered is not None:
                forward = path if entered else path[::-1]
                own = self._alone(self._alone(forward)[::-1])[::-1]
                shapes += _arrow(own) or _arrow(forward)
        return shapes

    def _alone(self, path: tuple[Point, ...]) -> tuple[Point, ...]:
        """A path without what it shares with other wires of its first pin."""
        others = [way for other in self.figure.paths for way in (other, other[::-1])
                  if way[0] == path[0] and way[-1] != path[-1]]
        first = max((_parting(path, way) for way in others), default=path[0],
                    key=lambda p: abs(p[0] - path[0][0]) + abs(p[1] - path[0][1]))
        for n, (a, b) in enumerate(itertools.pairwise(path)):
            level = a[1] == b[1] == first[1] and min(a[0], b[0]) <= first[0] <= max(a[0], b[0])
            if level or (a[0] == b[0] == first[0] and min(a[1], b[1]) <= first[1] <= max(a[1], b[1])):
                return (first, *path[n + 1:])
        return path

    # texts

    def texts(self) -> list[Shape]:
        """Names, pins, codes."""
        return [
            Text(*label.at, label.text, label.role, label.anchor, (("core", label.core),) if label.core else ())
            for label in self.figure.labels
        ]


def _parting(a: tuple[Point, ...], b: tuple[Point, ...]) -> Point:
    """The last point that two paths from one pin share."""
    here = a[0]
    for p, q in zip(a[1:], b[1:], strict=False):
        if p == q:
            here = p
            continue
        if (p[0] == q[0] == here[0] and (p[1] - here[1]) * (q[1] - here[1]) > 0) or (
            p[1] == q[1] == here[1] and (p[0] - here[0]) * (q[0] - here[0]) > 0
        ):
            return min(p, q, key=lambda r: abs(r[0] - here[0]) + abs(r[1] - here[1]))
        return here
    return here


def _arrow(path: Sequence[Point]) -> list[Shape]:
    stretches = list(itertools.pairwise(path))
    (ax, ay), (bx, by) = max(stretches, key=lambda s: (abs(s[0][0] - s[1][0]) + abs(s[0][1] - s[1][1])))
    length = abs(ax - bx) + abs(ay - by)
    if length < ARROW:
        return []
    dx, dy = (bx > ax) - (bx < ax), (by > ay) - (by < ay)
    x, y = (ax + bx) // 2 + dx * ARROW // 2, (ay + by) // 2 + dy * ARROW // 2
    back = (x - dx * ARROW, y - dy * ARROW)
    points = ((x, y), (back[0] - dy * ARROW_HALF, back[1] + dx * ARROW_HALF),
              (back[0] + dy * ARROW_HALF, back[1] - dx * ARROW_HALF))
    return [Area(points, "diagram arrow")]
