"""One sheet of a layout as shapes with roles."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from sheetgen.draw.wiring.crossings import bridges
from sheetgen.draw.wiring.dangers import danger_at
from sheetgen.draw.wiring.sleeves import as_found, sleeve_shapes
from sheetgen.draw.wiring.symbols import symbols_of
from sheetgen.judge.in_danger import in_danger
from sheetgen.model.drawing import About, Area, Box, Circle, Drawing, Line, Point, Shape, Text
from sheetgen.model.layout import (
    AccessoryPlace,
    ConductorPlace,
    CoreEndPlace,
    Frame,
    MarkPlace,
    PassingPlace,
    SheathPlace,
    Sheet,
    TextPlace,
)
from sheetgen.model.reading import Reading
from sheetgen.model.style import Style
from sheetgen.model.wiring import Core, Wiring

MOUTHS = {"sheath": "mouth", "flex": "flex mouth", "trunk": "trunk mouth"}
UNKNOWN, UNKNOWN_IN = 155, 95  # radius of the mark of an end not known; how far beyond the core's end its middle is
TICK = 110  # a row of a terminal is marked off so far from each side


@dataclass(frozen=True)
class Show:
    """What is to be seen. `live` draws its cores heavy and all others thin."""

    conductors: bool = True  # False: none inside accessories (a handout)
    labels: bool = True  # False: no text at all (a miniature)
    live: Mapping[str, object] | None = None  # Core.key -> anything


class SheetDrawing:
    """Draws one sheet."""

    def __init__(self, sheet: Sheet, wiring: Wiring, reading: Reading | None, style: Style, show: Show):
        self.sheet, self.wiring, self.style, self.show = sheet, wiring, style, show
        self.cores: dict[str, Core] = {core.key: core for core in wiring.cores()}
        self.sleeves = {(s.core, s.end): s for s in reading.sleeves} if reading else as_found(wiring)
        self.dangers = in_danger(reading, wiring) if show.conductors and show.labels and not show.live else ()
        self.boards = [a.frame for a in sheet.accessories if a.board]
        self.frames = [a.frame for a in sheet.accessories]

    def drawing(self) -> Drawing:
        """Enclosures, sheaths, conductors, terminals, sleeves and labels, in that order of painting."""
        sheet = self.sheet
        shapes: list[Shape] = []
        for accessory in sheet.accessories:
            shapes.append(self.enclosure(accessory))
        routes = [*self.sheath_lines(), *self.conductor_lines()]
        shapes += routes
        shapes += bridges(routes, self.gap)
        shapes += self.sheath_ends()
        for accessory in sheet.accessories:
            shapes += self.front(accessory)
        for core_end in sheet.core_ends:
            shapes += self.core_end(core_end)
        for passing in sheet.passing:
            shapes += self.passing(passing)
        for mark in sheet.marks:
            shapes += self.mark(mark)
        if self.show.labels:
            for tag in sheet.tags:
                about = (("cable", tag.cable),)
                shapes += [_box(tag.frame, "tag", 60, about), _text(tag.words, about)]
        margin = self.style.measures["drawing margin"]
        placed = tuple(moved(shape, margin, margin) for shape in shapes)
        return Drawing(sheet.width + 2 * margin, sheet.height + 2 * margin, placed, self.wiring.job)

    def enclosure(self, place: AccessoryPlace) -> Box:
        """The enclosure of an accessory."""
        return _box(place.frame, "board" if place.board else "enclosure", 150, (("accessory", place.name),))

    def sheath_lines(self) -> list[Line]:
        """Every sheath."""
        return [Line(s.points, _sheath_role(s), about=_sheath_about(s)) for s in self.sheet.sheaths]

    def conductor_lines(self) -> list[Line]:
        """Every conductor, or only what of singles is seen outside accessories."""
        if self.show.conductors:
            return [self.conductor(piece, piece.points) for piece in self.sheet.conductors]
        lines = []
        for piece in self.sheet.conductors:
            outside = _outside(piece, self.frames)
            if outside:
                lines.append(self.conductor(piece, outside))
        return lines

    def conductor(self, piece: ConductorPlace, points: Sequence[Point]) -> Line:
        """A conductor in its own colour, heavy or thin where some are picked out."""
        core = self.cores[piece.core]
        role = "conductor"
        if self.show.live is not None:
            role = "conductor heavy" if piece.core in self.show.live else "conductor thin"
        ends = " ".join(str(end) for end in piece.ends)
        about = (("core", core.key), ("cable", core.cable), ("ends", ends))
        return Line(tuple(points), role, core.colour, about)

    def gap(self, x: int, y: int) -> str:
        """The role that paints the ground at a place."""
        for frame in self.frames:
            if frame.x < x < frame.x + frame.width and frame.y < y < frame.y + frame.height:
                return "gap board" if frame in self.boards else "gap"
        return "gap outside"

    def sheath_ends(self) -> list[Shape]:
        """The flares in which sheaths open."""
        return [
            Area(sheath_end.corners, MOUTHS[_sheath_role(sheath)],
                 about=(*_sheath_about(sheath), ("end", str(sheath_end.end)), ("accessory", sheath_end.accessory)))
            for sheath in self.sheet.sheaths for sheath_end in sheath.sheath_ends
        ]

    def front(self, place: AccessoryPlace) -> list[Shape]:
        """Terminals with their names, contacts and lamps, and what is written in the enclosure."""
        shapes: list[Shape] = []
        for terminal in place.terminals:
            about = (("terminal", f"{place.name} {terminal.terminal}"),)
            frame = terminal.frame
            shapes.append(_box(frame, "connector" if terminal.connector else "terminal", 50, about))
            for y in terminal.rows:
                left, right = frame.x, frame.x + frame.width
                words = terminal.label
                tick = min(TICK, words.x - words.width // 2 - left - 50, right - words.x - words.width // 2 - 50)
                if tick > 20:
                    shapes += [Line(((x, y), (x + to, y)), "row line") for x, to in ((left, tick), (right, -tick))]
            if self.show.labels:
                shapes.append(_text(terminal.label, about))
        shapes += symbols_of(place, self.wiring.accessory(place.name), self.style.measures["lamp"])
        if self.show.labels:
            shapes += [_text(words, (("accessory", place.name),)) for words in place.titles]
        if place.name in self.dangers:
            shapes += danger_at(place, self.style, (("accessory", place.name), ("danger", "see findings")))
        return shapes

    def core_end(self, core_end: CoreEndPlace) -> list[Shape]:
        """A core's end: its port or loose end, its sleeve and its code."""
        if not self.show.conductors:
            return []
        core = self.cores[core_end.core]
        about = (("core", core.key), ("end", str(core_end.end)))
        x, y = core_end.at
        shapes: list[Shape] = []
        if core.ends[core_end.end].unknown:
            inward = 0 if core_end.side else 1  # from above: further down
            shapes += unknown_end(x - UNKNOWN_IN * core_end.side, y + UNKNOWN_IN * inward, about, self.show.labels)
        elif core_end.terminal is None:
            shapes += loose_end(x, y, about)
        else:
            node = (("terminal", f"{core_end.accessory} {core_end.terminal}"),)
            shapes.append(Circle(x, y, self.style.measures["port"], "port", about=about + node))
        shapes += self.code(core_end.code, core_end.accessory, about)
        sleeve = self.sleeves.get((core_end.core, core_end.end))
        if sleeve:
            shapes += sleeve_shapes(sleeve, core_end.sleeve, about, self.style, self.show.labels)
        return shapes

    def code(self, code: TextPlace, accessory: str, about: About) -> list[Shape]:
        """The colour code of a core, on a plate that keeps the conductor from striking it through."""
        if not self.show.labels:
            return []
        board = any(accessory == a.name and a.board for a in self.sheet.accessories)
        plate = Frame(code.x - code.width // 2 - 15, code.y - 200, code.width + 30, 235)
        return [_box(plate, "plate board" if board else "plate", 0, about), _text(code, about)]

    def passing(self, passing: PassingPlace) -> list[Shape]:
        """The code of a single that passes an accessory uncut."""
        if not self.show.conductors:
            return []
        return self.code(passing.code, passing.accessory, (("core", passing.core), ("passes", passing.accessory)))

    def mark(self, mark: MarkPlace) -> list[Shape]:
        """A continuation mark: an arrow to the sheet where its cables go on."""
        f = mark.frame
        tip = 200
        right, left = f.x + f.width, f.x
        middle = f.y + f.height // 2
        if mark.onward:
            points = ((left, f.y), (right - tip, f.y), (right, middle), (right - tip, f.y + f.height),
                      (left, f.y + f.height))
        else:
            points = ((right, f.y), (left + tip, f.y), (left, middle), (left + tip, f.y + f.height),
                      (right, f.y + f.height))
        about = (("mark", str(mark.number)), ("sheet", str(mark.sheet)), ("cables", ", ".join(mark.cables)))
        words = [_text(w, about) for w in mark.words] if self.show.labels else []
        return [Area(points, "mark", about=about), *words]


def loose_end(x: int, y: int, about: About) -> list[Shape]:
    """The mark of a core that ends in nothing."""
    crossed = [Line(((x - 45, y + d), (x + 45, y - d)), "loose cross", about=about) for d in (45, -45)]
    return [Circle(x, y, 75, "loose end", about=about), *crossed]


def unknown_end(x: int, y: int, about: About, labels: bool = True) -> list[Shape]:
    """The mark of an end whose terminal nobody knows: full and with a query, so that it is never read as loose."""
    about = (*about, ("unknown", "not known: treat as live"))
    disc = Circle(x, y, UNKNOWN, "unknown end", about=about)
    return [disc, Text(x, y + 90, "?", "unknown", "middle", about)] if labels else [disc]


def _sheath_role(sheath: SheathPlace) -> str:
    return "trunk" if sheath.trunk else "flex" if sheath.flex else "sheath"


def _sheath_about(sheath: SheathPlace) -> About:
    return (("cables", ", ".join(sheath.trunk)),) if sheath.trunk else (("cable", sheath.cable),)


def _box(frame: Frame, role: str, radius: int, about: About, colour: str = "") -> Box:
    return Box(frame.x, frame.y, frame.width, frame.height, role, radius, colour, about)


def _text(words: TextPlace, about: About) -> Text:
    return Text(words.x, words.y, words.text, words.role, "middle", about)


def _outside(piece: ConductorPlace, frames: list[Frame]) -> tuple[Point, ...]:
    """The stretch of a single between the enclosures; () for the cores of a cable."""
    points, (start, end) = piece.points, piece.inside
    if start == len(points):
        return ()
    stop = len(points) - end
    last = [_edge(points[stop], points[stop - 1], frames)] if end else []
    return (_edge(points[start - 1], points[start], frames), *points[start:stop], *last)


def _edge(inner: Point, outer: Point, frames: list[Frame]) -> Point:
    """Where an upright stretch leaves the enclosure."""
    for f in frames:
        if f.x <= inner[0] <= f.x + f.width and f.y <= inner[1] <= f.y + f.height:
            return inner[0], (f.y if outer[1] < inner[1] else f.y + f.height)
    return inner


def moved(shape: Shape, dx: int, dy: int) -> Shape:
    """The same shape elsewhere."""
    if isinstance(shape, Line | Area):
        return replace(shape, points=tuple((x + dx, y + dy) for x, y in shape.points))
    return replace(shape, x=shape.x + dx, y=shape.y + dy)
