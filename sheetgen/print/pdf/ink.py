"""Drawings on the page: a wiring drawing at its size, and the short piece of conductor that stands in a table cell."""

from __future__ import annotations

from reportlab.lib.units import mm
from reportlab.platypus import Flowable

from sheetgen.model.drawing import Box, Drawing, Line
from sheetgen.model.geometry import MM, PT
from sheetgen.model.page import Swatch
from sheetgen.print.canvas import paint_drawing
from sheetgen.print.pdf.look import Look

PIECE, PIECE_HEIGHT = 9 * MM, 3 * MM  # the piece of conductor in a cell
SLEEVE, SLEEVE_HEIGHT = 3 * MM, 170
BESIDE = 1.2 * mm  # between the piece and its words


class Inked(Flowable):
    """A drawing at its own size, or smaller by `scale`, in the middle of the width it is given."""

    def __init__(self, drawing: Drawing, look: Look, scale: float = 1.0):
        super().__init__()
        self.drawing, self.look, self.scale = drawing, look, scale
        self.drawn = drawing.width / PT * scale, drawing.height / PT * scale

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """As wide as it may be, as high as the drawing."""
        self.width, self.height = width, self.drawn[1]
        return self.width, self.height

    def draw(self) -> None:
        """Paint the drawing."""
        x = max(0.0, (self.width - self.drawn[0]) / 2)
        paint_drawing(self.canv, self.drawing, self.look.style, x, self.drawn[1], self.scale)


def piece(swatch: Swatch) -> Drawing:
    """The piece of conductor of a swatch, with its sleeve at the right end."""
    middle = PIECE_HEIGHT // 2
    shapes: list[Line | Box] = [Line(((0, middle), (PIECE, middle)), "conductor", swatch.colour)]
    if swatch.sleeve:
        role = "sleeve to fit" if swatch.missing else "sleeve"
        shapes.append(Box(PIECE - SLEEVE, middle - SLEEVE_HEIGHT // 2, SLEEVE, SLEEVE_HEIGHT, role, 0, swatch.sleeve))
    return Drawing(PIECE, PIECE_HEIGHT, tuple(shapes))


class Piece(Flowable):
    """A swatch: the piece of conductor and the words beside it, on one line."""

    def __init__(self, swatch: Swatch, look: Look):
        super().__init__()
        self.swatch, self.look = swatch, look
        self.natural = PIECE / PT + (BESIDE + look.width(swatch.text, "cell") if swatch.text else 0)

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """One line of a cell."""
        self.width, self.height = self.natural, self.look.font("cell")[2]
        return self.width, self.height

    def draw(self) -> None:
        """Paint the piece and write the words."""
        size = self.look.lettering("cell").size
        baseline = self.height - size
        top = baseline + size * 0.36 + PIECE_HEIGHT / PT / 2
        paint_drawing(self.canv, piece(self.swatch), self.look.style, 0, top)
        self.look.draw(self.canv, PIECE / PT + BESIDE, baseline, self.swatch.text, "cell")
