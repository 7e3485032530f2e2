"""Drawings on the page: a wiring drawing at its size, and the short piece of conductor that stands in a table cell."""

from __future__ import annotations

from reportlab.lib.units import mm
from reportlab.platypus import Flowable

from sheetgen.drawing_to_canvas import paint_drawing
from sheetgen.geometry import MM, PT
from sheetgen.model.drawing import Box, Drawing, Line
from sheetgen.model.page import Swatch
from sheetgen.model.style import Style
from sheetgen.pages_to_pdf.faces import REGULAR, settable, width
from sheetgen.pages_to_pdf.look import CELL, INK

PIECE, PIECE_HEIGHT = 9 * MM, 3 * MM  # the piece of conductor in a cell
SLEEVE = 3 * MM
BARE = "bare"  # paint of a conductor without insulation


class Inked(Flowable):
    """A drawing at its own size, or smaller by `scale`, in the middle of the width it is given."""

    def __init__(self, drawing: Drawing, style: Style, scale: float = 1.0):
        super().__init__()
        self.drawing, self.style, self.scale = drawing, style, scale
        self.drawn = drawing.width / PT * scale, drawing.height / PT * scale

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        self.width, self.height = width, self.drawn[1]
        return self.width, self.height

    def draw(self) -> None:
        x = max(0.0, (self.width - self.drawn[0]) / 2)
        paint_drawing(self.canv, self.drawing, self.style, x, self.drawn[1], self.scale)


def piece(swatch: Swatch) -> Drawing:
    """The piece of conductor of a swatch, with its sleeve at the right end."""
    middle = PIECE_HEIGHT // 2
    shapes = [Line(((0, middle), (PIECE, middle)), "conductor", swatch.colour)]
    if swatch.sleeve:
        shapes.append(Box(PIECE - SLEEVE, middle - MM, SLEEVE, 2 * MM,
                          "sleeve to fit" if swatch.missing else "sleeve", 30, swatch.sleeve))
    return Drawing(PIECE, PIECE_HEIGHT, tuple(shapes))


class Piece(Flowable):
    """A swatch: the piece of conductor and the words beside it, on one line."""

    def __init__(self, swatch: Swatch, style: Style, size: float = CELL):
        super().__init__()
        self.swatch, self.style, self.size = swatch, style, size
        self.text = settable(swatch.text)
        self.natural = 9 * mm + (1.2 * mm + width(self.text, REGULAR, size) if self.text else 0)

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        self.width, self.height = self.natural, 10.4
        return self.width, self.height

    def draw(self) -> None:
        paint_drawing(self.canv, piece(self.swatch), self.style, 0, 3.4 + PIECE_HEIGHT / PT / 2, 1.0)
        self.canv.setFillColor(INK)
        self.canv.setFont(REGULAR, self.size)
        self.canv.drawString(10.2 * mm, 2.2, self.text)
