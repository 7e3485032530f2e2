"""From a plan to lengths on paper: columns as wide as their symbols and names, channels as their labels and uprights.

Requires: a plan. Ensures: whole hundredths of a millimetre; labels stand on stretches that no other wire crosses.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from sheetgen.draw.diagram.arrange import RUNG_APART
from sheetgen.draw.diagram.symbols import CROSS, UNKNOWN
from sheetgen.model.accessory import Terminal
from sheetgen.model.diagram import (
    POINTS,
    Bar,
    ChannelRun,
    Connection,
    DiagramPlan,
    Figure,
    Label,
    PinPoints,
    Point,
    SupplyRail,
    Symbol,
    rungs_of,
)

LEFT, RIGHT = 0, 1
RAYS = 128  # per cent of a lamp's radius that its rays reach upwards
LEAST_FOR_NOTES, NOTE_LINE = 14000, 330  # width of a diagram with notes below it, and what a line of them takes
PIN_LABEL, OPEN_CONTACT = 300, 190  # what stands above a contact's wire
WidthOf = Callable[[str, str], int]  # text, lettering role -> hundredths of a millimetre


@dataclass(frozen=True)
class Measures:
    """Lengths of a diagram, and which texts it has. Roles are letterings; "" leaves a text out."""

    row: int  # half a line of wires
    contact: int  # the moving part of a contact
    lead: int  # from a pin to what is between the pins
    lamp: int  # radius
    track: int
    apart: int  # between label or pin and upright
    bar: int  # from bar to bar
    name: str = ""
    pin: str = ""
    code: str = ""
    rail: str = ""
    tap: str = ""
    head: int = 0  # above the rails: what stands at their ends
    lift: int = 60  # of a label above its wire
    watts: bool = True  # loads and joints are named in full


RAIL_LINE = 300  # from line to line of what stands at the end of a rail
LARGE = Measures(row=185, contact=520, lead=150, lamp=280, track=240, apart=130, bar=420, name="diagram name",
                 pin="diagram pin", code="diagram code", rail="diagram rail", tap="diagram pin", head=780)
CLOSE = replace(LARGE, code="", track=200)  # where LARGE is too wide for the sheet: no codes beside the conductors
SMALL = Measures(row=112, contact=400, lead=110, lamp=190, track=150, apart=125, bar=200, name="diagram small",
                 rail="diagram small", head=330, lift=40, watts=False)


def plan_to_figure(plan: DiagramPlan, measures: Measures, width_of: WidthOf) -> Figure:
    """Put a plan on paper."""
    return _Lengths(plan, measures, width_of).figure()


class _Lengths:
    def __init__(self, plan: DiagramPlan, measures: Measures, width_of: WidthOf):
        self.plan, self.m = plan, measures
        self._width_of = width_of
        self.bodies = [self._body_width(symbol) for symbol in plan.schematic.symbols]
        self.places = plan.places
        self.said = {tap: said for rail in plan.schematic.rails
                     for tap, said in zip(rail.taps, rail.said, strict=True)}
        ways = {rail.name for rail in plan.schematic.rails if rail.name}
        self.ways = bool(measures.pin) or len(ways) > 1  # rails have the name of their way at their ends
        self._columns()

    def width_of(self, text: str, role: str) -> int:
        """How wide a text is set; nothing where it is left out."""
        return self._width_of(text, role) if role and text else 0

    # across

    def _body_width(self, symbol: Symbol) -> int:
        m = self.m
        if symbol.kind in POINTS:
            return 2 * m.lead
        sides = [[self.width_of(label, m.pin) for label in labels] for labels in (
            symbol.labels[: len(symbol.a)], symbol.labels[len(symbol.a):], *(r.labels for r in rungs_of(symbol)))]
        label = max((width for side in sides for width in side), default=0) + (3 * m.lift if m.pin else 0)
        middle = 2 * m.lamp if symbol.load else m.contact
        names = [self.width_of(rung.words, m.name) + 4 * m.lift for rung in rungs_of(symbol)]  # between the uprights
        return max(middle + 2 * max(label, m.lead), *names, 0)

    def _column_width(self, column: int) -> int:
        widest = 0
        for symbol, place, body in zip(self.plan.schematic.symbols, self.places, self.bodies, strict=True):
            if place.column == column:
                names = (self.name_of(symbol), *(rung.words for rung in rungs_of(symbol)))
                widest = max(widest, body, *(self.width_of(name, self.m.name) + self.m.lead for name in names))
        return widest

    def name_of(self, symbol: Symbol) -> str:
        """What stands above a symbol; in a miniature only switches and loads have their name, without more words."""
        if self.m.watts:
            return symbol.name
        return symbol.name.split(", ")[0] if symbol.load else symbol.name.replace(", ", " ") if symbol.switch else ""

    def _columns(self) -> None:
        """The left and right edge of every column, the tracks of every channel, the bars beside them."""
        m, count = self.m, self.plan.columns
        lefts = [r for r in self.plan.schematic.rails if r.left]
        rights = [r for r in self.plan.schematic.rails if not r.left]
        x = self._margin(LEFT)
        self.bar_x: dict[Terminal, int] = {}
        x = self._set_bars(lefts, x)
        self.left, self.right, self.first_track = [0] * count, [0] * count, [0] * (count + 1)
        self.edges = []
        for k in range(count + 1):
            start = x
            x += self._zone(k, LEFT) + m.apart
            self.first_track[k] = x
            tracks = 1 + max((run.track for run in self._runs(k)), default=-1)
            x += max(0, tracks - 1) * m.track + m.apart + self._zone(k, RIGHT)
            self.edges.append((start, x))
            if k < count:
                self.left[k] = x
                x += self._column_width(k)
                self.right[k] = x
        x = self._set_bars(rights, x)
        self.width = x + self._margin(RIGHT)

    def _set_bars(self, rails: list[SupplyRail], x: int) -> int:
        """Rails from x on, far enough apart for what stands at their ends; the x of the last."""
        before = None
        for rail in rails:
            if before is not None:
                heads = [max(self.width_of(t, self.m.rail) for t in self._rail_texts(r)) for r in (before, rail)]
                x += max(self.m.bar, sum(heads) // 2 + self.m.apart, self._link_room(rails))
            self.bar_x[rail.terminal] = x
            before = rail
        return x

    def _link_room(self, rails: list[SupplyRail]) -> int:
        """The room beside each of these rails that wires from one of them to another need for their labels."""
        own = {rail.terminal for rail in rails}
        rail_of = self.plan.schematic.rail_of
        links = [wire for wire in self.plan.schematic.wires if all(rail_of(end) in rails for end in wire.ends)]
        codes = [self.width_of(wire.label, self.m.code) for wire in links]
        taps = [self.width_of(self.said[end], self.m.tap) for wire in links for end in wire.ends if end not in own]
        return max(codes, default=0) + max(taps, default=0) + 3 * self.m.apart

    def _runs(self, channel: int) -> list[ChannelRun]:
        return [run for route in self.plan.routes for run in route if run.channel == channel]

    def _margin(self, edge: int) -> int:
        """Beside the rails: the names of the terminals at which wires leave them, and half of a rail's own name."""
        rails = [r for r in self.plan.schematic.rails if r.left == (edge == LEFT)]
        used = {end for wire in self.plan.schematic.wires for end in wire.ends}
        named = [tap for r in rails for tap in r.taps if tap in used and not r.heads(tap)]
        taps = [self.width_of(self.said[tap], self.m.tap) for tap in named]
        heads = [self.width_of(text, self.m.rail) // 2 for r in rails for text in self._rail_texts(r)]
        return max([self.m.apart, *(tap + self.m.apart for tap in taps), *heads]) + self.m.apart

    def _zone(self, channel: int, edge: int) -> int:
        """How wide the labels at one edge of a channel are."""
        found = [0]
        for wire, route in zip(self.plan.schematic.wires, self.plan.routes, strict=True):
            found += [self.width_of(wire.label, self.m.code) + self.m.lead if wire.label else 0
                      for run, end in _labelled(route) if run.channel == channel and run.sides[end] == edge]
        return max(found) if self.m.code else 0

    # on paper

    def figure(self) -> Figure:
        """Everything in its place."""
        self.top = self.m.head + (RAIL_LINE if self.ways and not self.m.pin else 0)
        rows = [row for route in self.plan.routes for run in route for row in run.rows]
        rows += [place.row + row + self._rungs_below(i)
                 for i, place in enumerate(self.places) for side in place.pins for row in side]
        self.bottom = self.y(max(rows, default=0)) + 3 * self.m.row // 2
        pins = tuple(self._pins(i) for i in range(len(self.places)))
        paths = tuple(self._path(i, pins) for i in range(len(self.plan.routes)))
        bars = self._bars(paths)
        labels = (*self._names(pins), *self._codes(), *self._rail_labels(bars))
        width, notes = self._notes()
        bottom = max([self.bottom, *(note.at[1] for note in notes)]) + self.m.row
        return Figure(self.plan, width, bottom, pins, paths, bars, (*labels, *notes))

    def _rungs_below(self, i: int) -> int:
        """How many rows the rungs of a symbol reach below its pins."""
        return max(0, len(rungs_of(self.plan.schematic.symbols[i])) - 1) * RUNG_APART

    def _notes(self) -> tuple[int, list[Label]]:
        """Below all else, which loads each symbol stands for that stands for several; and the width of the whole."""
        notes = [symbol.note for symbol in self.plan.schematic.symbols if symbol.note and self.m.pin]
        width = max(self.width, LEAST_FOR_NOTES) if notes else self.width
        lines = [line for note in notes for line in self._broken(note, width - 2 * self.m.apart)]
        first = self.bottom + NOTE_LINE
        return width, [Label((self.m.apart, first + n * NOTE_LINE), line, self.m.pin, "start")
                       for n, line in enumerate(lines)]

    def _broken(self, text: str, room: int) -> list[str]:
        lines = [""]
        for word in text.split(" "):
            longer = f"{lines[-1]} {word}".strip()
            if lines[-1] and self.width_of(longer, self.m.pin) > room:
                lines.append(word)
            else:
                lines[-1] = longer
        return lines

    def y(self, row: int) -> int:
        """The height of a row."""
        return self.top + row * self.m.row

    def _pins(self, i: int) -> tuple[tuple[Point, ...], tuple[Point, ...]]:
        place, body = self.places[i], self.bodies[i]
        middle = (self.left[place.column] + self.right[place.column]) // 2
        x = middle - body // 2
        left, right = place.pins
        return (tuple((x, self.y(place.row + row)) for row in left),
                tuple((x + body, self.y(place.row + row)) for row in right))

    def _path(self, i: int, pins: tuple[PinPoints, ...]) -> tuple[Point, ...]:
        """A wire from pin to pin: along its rows, up and down on its tracks."""
        wire, route = self.plan.schematic.wires[i], self.plan.routes[i]
        start = self._end(wire.ends[0], route[0].sides[0], route[0].rows[0], pins)
        end = self._end(wire.ends[1], route[-1].sides[1], route[-1].rows[1], pins)
        if len(route) == 1 and self._is_link(wire):
            return _tidy([start, end])
        points = [start, (self.edges[route[0].channel][route[0].sides[0]], start[1])]
        for run in route:
            points.append((self.edges[run.channel][run.sides[0]], self.y(run.rows[0])))
            if run.track >= 0:
                x = self.first_track[run.channel] + run.track * self.m.track
                points += [(x, self.y(run.rows[0])), (x, self.y(run.rows[1]))]
            points.append((self.edges[run.channel][run.sides[1]], self.y(run.rows[1])))
        return _tidy([*points, (points[-1][0], end[1]), end])

    def _end(self, terminal: Terminal, side: int, row: int, pins: tuple[PinPoints, ...]) -> Point:
        """Where an end of a wire meets its pin, or its rail."""
        for rail in self.plan.schematic.rails:
            if terminal in rail.taps:
                return self.bar_x[rail.terminal], self.y(row)
        for i, symbol in enumerate(self.plan.schematic.symbols):
            if terminal in symbol.pins:
                visual = RIGHT if side == LEFT else LEFT
                mine = symbol.b if (visual == RIGHT) != self.places[i].turned else symbol.a
                return pins[i][visual][mine.index(terminal)]
        raise AssertionError(f"{terminal} is no pin of the diagram")

    def _bars(self, paths: tuple[tuple[Point, ...], ...]) -> tuple[Bar, ...]:
        bars = []
        for rail in self.plan.schematic.rails:
            taps = sorted(
                (path[-n], end)
                for wire, path in zip(self.plan.schematic.wires, paths, strict=True)
                for n, end in enumerate(wire.ends)
                if end in rail.taps
            )
            bars.append(Bar(rail, self.bar_x[rail.terminal], self.top - self.m.row, self.bottom, tuple(taps)))
        return tuple(bars)

    # texts

    def _names(self, pins: tuple[PinPoints, ...]) -> list[Label]:
        """The name above each symbol, and what stands beside its pins."""
        m = self.m
        labels: list[Label] = []
        for i, (symbol, place) in enumerate(zip(self.plan.schematic.symbols, self.places, strict=True)):
            points = [at for side in pins[i] for at in side]
            top, middle = min(y for _, y in points), (pins[i][0][0][0] + pins[i][1][0][0]) // 2
            stands = self._stands(symbol)
            name = self.name_of(symbol)
            if name and m.name and not rungs_of(symbol):
                role = m.pin if symbol.kind in POINTS else m.name
                labels.append(Label((middle, top - stands - 2 * m.lift), name, role))
            for n, rung in enumerate(rungs_of(symbol)):
                at = (middle, self.y(place.row + place.pins[0][0] + n * RUNG_APART) - stands - 2 * m.lift)
                labels.append(Label(at, rung.words, m.name))
                labels += self._pin_labels(rung.labels[:1], rung.labels[1:], place.turned, self.rung_pins(pins[i], n))
            if symbol.kind == "unknown" and m.pin:
                labels.append(Label((middle, points[0][1] + 88), "?", "unknown"))
            if symbol.kind == "fan" and m.pin:  # a motor is a circle with an M in it
                labels.append(Label((middle, points[0][1] + 95), "M", m.pin))
            if symbol.labels and not rungs_of(symbol):
                labels += self._pin_labels(symbol.labels[: len(symbol.a)], symbol.labels[len(symbol.a):], place.turned,
                                           pins[i])
        return labels

    def rung_pins(self, pins: PinPoints, number: int) -> PinPoints:
        """The points of the pins of a rung."""
        left, right = ((x, y + number * RUNG_APART * self.m.row) for ((x, y),) in pins)
        return (left,), (right,)

    def _pin_labels(self, a: tuple[str, ...], b: tuple[str, ...], turned: bool, pins: PinPoints) -> list[Label]:
        """What stands beside the pins of a symbol or a rung."""
        m, labels = self.m, []
        if not m.pin:
            return []
        for visual, (texts, points) in enumerate(zip((b, a) if turned else (a, b), pins, strict=True)):
            for text, (x, y) in zip(texts, points, strict=True):
                at = (x + (2 * m.lift if visual == LEFT else -2 * m.lift), y - m.lift)
                labels.append(Label(at, text, m.pin, "start" if visual == LEFT else "end"))
        return labels

    def _stands(self, symbol: Symbol) -> int:
        """How far a symbol reaches above its first pin."""
        if symbol.load:
            return self.m.lamp if self.m.pin else self.m.lamp * RAYS // 100
        if symbol.kind in POINTS:
            return {"end": CROSS, "unknown": UNKNOWN}.get(symbol.kind, 0)
        return PIN_LABEL if self.m.pin else OPEN_CONTACT

    def _codes(self) -> list[Label]:
        """The code of each core on the stretches kept free for it."""
        if not self.m.code:
            return []
        labels = []
        for wire, route in zip(self.plan.schematic.wires, self.plan.routes, strict=True):
            if len(route) == 1 and route[0].sides[0] == route[0].sides[1] and self._is_link(wire):
                xs = [self.bar_x[rail.terminal] for end in wire.ends if (rail := self.plan.schematic.rail_of(end))]
                at = (min(xs) + self.m.apart, self.y(route[0].rows[0]) - self.m.lift)
                labels.append(Label(at, wire.label, self.m.code, "start", wire.core))
                continue
            for run, end in _labelled(route) if wire.label else ():
                edge = self.edges[run.channel][run.sides[end]]
                side = run.sides[end]
                inset = self.m.lead // 2 if side == LEFT else -self.m.lead // 2
                at = (edge + inset, self.y(run.rows[end]) - self.m.lift)
                labels.append(Label(at, wire.label, self.m.code, "start" if side == LEFT else "end", wire.core))
        return labels

    def _is_link(self, wire: Connection) -> bool:
        """Whether a wire runs from rail to rail."""
        return all(self.plan.schematic.rail_of(end) for end in wire.ends)

    def _rail_labels(self, bars: tuple[Bar, ...]) -> list[Label]:
        """The names at the upper ends of the rails, and the terminals at which wires leave them."""
        m, labels = self.m, []
        edges = {True: min((b.x for b in bars if b.rail.left), default=0),
                 False: max((b.x for b in bars if not b.rail.left), default=0)}
        for bar in bars:
            for n, text in enumerate(reversed(self._rail_texts(bar.rail))):
                labels.append(Label((bar.x, bar.top - m.lift - n * RAIL_LINE), text, m.rail))
            left = bar.rail.left
            rows = {y for other in bars if other is not bar and other.rail.left == left
                    and (other.x < bar.x) == left for (_, y), _ in other.taps}
            for (_, y), tap in bar.taps:
                if m.tap and not bar.rail.heads(tap):
                    outside = y not in rows  # a wire from rail to rail has its other end's name there
                    x = edges[left] if outside else bar.x
                    at = (x + (-m.apart if left == outside else m.apart), y + 90)
                    labels.append(Label(at, self.said[tap], m.tap, "end" if left == outside else "start"))
        return labels

    def _rail_texts(self, rail: SupplyRail) -> tuple[str, ...]:
        """What stands at the end of a rail: its letter, and its way where there is room or more ways than one."""
        letter = {"line": "L", "neutral": "N", "earth": "E"}.get(rail.kind, rail.kind)
        return (rail.name, letter) if self.ways and rail.name else (letter,)


def _labelled(route: tuple[ChannelRun, ...]) -> list[tuple[ChannelRun, int]]:
    """(run, end) where a wire carries its label: once in one channel, at both ends where it goes further."""
    if len(route) > 1:
        return [(route[0], 0), (route[-1], 1)]
    run = route[0]
    return [(run, 0 if run.sides[0] == LEFT or run.sides[0] == run.sides[1] else 1)]


def _tidy(points: list[Point]) -> tuple[Point, ...]:
    """The same path without points that stand twice or lie on a straight stretch."""
    kept: list[Point] = []
    for point in points:
        if kept and kept[-1] == point:
            continue
        if len(kept) > 1 and (kept[-2][0] == kept[-1][0] == point[0] or kept[-2][1] == kept[-1][1] == point[1]):
            kept.pop()
        kept.append(point)
    return tuple(kept)
