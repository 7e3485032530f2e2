"""Drawings on the page: a drawing at its size, and the short piece of conductor that stands in a table cell."""

from __future__ import annotations

from copy import copy
from dataclasses import replace
from functools import lru_cache

from reportlab.pdfgen.canvas import Canvas

from sheetgen.draw.extents import Extent, clear_height, extents_of, height_of_heads, shown_in
from sheetgen.model.drawing import Box, Drawing, Line
from sheetgen.model.geometry import MM, PT
from sheetgen.model.page import Swatch
from sheetgen.print.canvas import paint_drawing
from sheetgen.print.pdf.lettering import lines_of
from sheetgen.print.pdf.pieces import Paragraph, Piece
from sheetgen.print.pdf.typesetting import Typesetting, mm

CONDUCTOR, CONDUCTOR_HEIGHT = 7 * MM, 3 * MM  # the piece of conductor in a cell
SLEEVE, SLEEVE_HEIGHT = 3 * MM, 170
BESIDE = 0.9 * mm  # between the conductor and its words
LEAST_WORDS = 5 * mm  # the words have so much at least
OVERLAP = 14 * mm  # of two parts of a picture that no sheet can hold: what is cut in one is whole in the other
LEAST_PART = 0.6  # of a sheet that a part takes at least that ends where nothing is cut


class PlacedPicture(Piece):
    """A drawing at its own size, or smaller by `scale`, in the middle of the width it is given.

    What no sheet could hold is shown in parts: `shown` is the part's top left corner and size, in points; `extents` are
    those of the shapes, once they were asked for; so much as `head` is repeated above, which says what the rails are.
    """

    def __init__(self, drawing: Drawing, setting: Typesetting, width: float, scale: float = 1.0,
                 shown: tuple[float, float, float, float] | None = None, extents: tuple[Extent, ...] = (),
                 head: float = 0.0):
        self.drawing, self.setting, self.width, self.scale = drawing, setting, width, scale
        self.extents, self.head = extents, head
        self.whole = drawing.width / PT * scale, drawing.height / PT * scale
        self.shown = shown or (0.0, 0.0, min(self.whole[0], width), self.whole[1])

    @property
    def height(self) -> float:
        """Of the part that is shown, with what is repeated above it."""
        return self.shown[3] + self.head

    def split(self, room: float, forced: bool) -> tuple[Piece, Piece] | None:
        """Only where no sheet could hold it; where nothing is cut, if that can be."""
        x, y, wide, high = self.shown
        room -= self.head
        if not forced or room <= 2 * OVERLAP or high <= room:
            return None
        unit = PT / self.scale
        self.extents = self.extents or extents_of(self.drawing, self.setting.style)
        clear = clear_height(self.extents, self.drawing.height, round((y + room * LEAST_PART) * unit),
                             int((y + room) * unit))
        down, again = (room, OVERLAP) if clear is None else (clear / unit - y, 0.0)
        head = height_of_heads(self.extents, self.drawing.height) / unit
        first = self._part(x, y, wide, down, self.head)
        rest = self._part(x, y + down - again, wide, high - down + again, head)
        first.above, rest.below = self.above, self.below
        return first, rest

    def _part(self, x: float, y: float, wide: float, high: float, head: float) -> PlacedPicture:
        return PlacedPicture(self.drawing, self.setting, self.width, self.scale, (x, y, wide, high), self.extents, head)

    def draw(self, canvas: Canvas, x: float, top: float) -> None:
        """Paint the drawing, or the part of it that is shown."""
        from_left, _, wide, high = self.shown
        left = x + max(0.0, (self.width - wide) / 2)
        if (wide, high) == self.whole:
            paint_drawing(canvas, self.drawing, self.setting.style, left, top, self.scale)
            return
        self.extents = self.extents or extents_of(self.drawing, self.setting.style)
        if self.head:
            self._draw_part(canvas, left, top, (from_left, 0.0, wide, self.head))
        self._draw_part(canvas, left, top - self.head, self.shown)

    def _draw_part(self, canvas: Canvas, left: float, top: float, shown: tuple[float, float, float, float]) -> None:
        from_left, from_top, wide, high = shown
        canvas.saveState()
        frame = canvas.beginPath()
        frame.rect(left, top - high, wide, high)
        canvas.clipPath(frame, stroke=0, fill=0)
        unit = PT / self.scale
        part = (round(from_left * unit), round(from_top * unit),
                round((from_left + wide) * unit), round((from_top + high) * unit))
        here = replace(self.drawing, shapes=shown_in(self.drawing, self.extents, part))
        paint_drawing(canvas, here, self.setting.style, left - from_left, top + from_top, self.scale)
        canvas.restoreState()


def pictures_of(drawing: Drawing, setting: Typesetting, width: float, scale: float = 1.0) -> list[Piece]:
    """A drawing in the width it is given; one that is wider, in parts that lie beside one another."""
    wide, high = drawing.width / PT * scale, drawing.height / PT * scale
    if wide <= width + 0.01 or width <= 2 * OVERLAP:
        return [PlacedPicture(drawing, setting, width, scale)]
    parts: list[Piece] = []
    left = 0.0
    while left + OVERLAP < wide:
        shown = (left, 0.0, min(width, wide - left), high)
        parts.append(PlacedPicture(drawing, setting, width, scale, shown))
        left += width - OVERLAP
    return parts


@lru_cache(maxsize=256)
def swatch_drawing(colour: str, sleeve: str, missing: bool, patterned: bool) -> Drawing:
    """The piece of conductor of a swatch, with its sleeve at the right end.

    `patterned`: a sleeve that is there bears the pattern of a core of its colour.
    """
    middle = CONDUCTOR_HEIGHT // 2
    patterned = patterned and not missing and bool(sleeve)
    seen = CONDUCTOR - SLEEVE if patterned else CONDUCTOR
    shapes: list[Line | Box] = [Line(((0, middle), (seen, middle)), "conductor", colour)]
    if sleeve:
        role = "sleeve to fit" if missing else "sleeve"
        shapes.append(Box(CONDUCTOR - SLEEVE, middle - SLEEVE_HEIGHT // 2, SLEEVE, SLEEVE_HEIGHT, role, 0, sleeve))
        if patterned:
            shapes.append(Line(((CONDUCTOR - SLEEVE, middle), (CONDUCTOR, middle)), "sleeve pattern", sleeve))
    return Drawing(CONDUCTOR, CONDUCTOR_HEIGHT, tuple(shapes))


class PlacedSwatch(Paragraph):
    """A swatch: the piece of conductor, and the words beside it."""

    def __init__(self, swatch: Swatch, setting: Typesetting, room: float):
        beside = CONDUCTOR / PT + BESIDE
        run = setting.run(swatch.text, "cell", "bold" if swatch.strong else "")
        lines = lines_of((run,), max(room - beside, LEAST_WORDS))
        super().__init__(lines, run.size, setting.leading("cell"), beside)
        self.style = setting.style
        uncoloured = bool(setting.style.roles["sleeve"].fill)  # sleeves are not painted in their colours
        self.conductor = swatch_drawing(swatch.colour, swatch.sleeve, swatch.missing, uncoloured)

    def draw(self, canvas: Canvas, x: float, top: float) -> None:
        """Paint the piece and write the words."""
        middle = top - self.size * 0.64
        paint_drawing(canvas, self.conductor, self.style, x, middle + CONDUCTOR_HEIGHT / PT / 2)
        super().draw(canvas, x, top)

    def split(self, room: float, forced: bool) -> tuple[Paragraph, Paragraph] | None:
        """The conductor stays with the first words."""
        parts = super().split(room, forced)
        if parts is None:
            return None
        first = copy(self)
        first.lines = parts[0].lines
        return first, parts[1]


def swatch_fixed() -> float:
    """What a swatch takes beside its words."""
    return CONDUCTOR / PT + BESIDE


def swatch_width(swatch: Swatch, setting: Typesetting) -> float:
    """Of a swatch on one line."""
    return CONDUCTOR / PT + (BESIDE + setting.width(swatch.text, "cell") if swatch.text else 0)


def swatch_least(swatch: Swatch, setting: Typesetting) -> float:
    """Of a swatch whose words are broken between words."""
    longest = max((setting.width(word, "cell") for word in swatch.text.split()), default=0.0)
    return CONDUCTOR / PT + BESIDE + longest
