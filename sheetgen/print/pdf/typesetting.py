"""The style as the page needs it: fonts of the letterings in points, rules from the roles, spaces between things."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, NamedTuple

from reportlab.pdfgen.canvas import Canvas

from sheetgen.draw.typeface import font_name
from sheetgen.model.geometry import MM, PT
from sheetgen.model.style import Lettering, Style
from sheetgen.print.canvas import colour
from sheetgen.print.pdf.lettering import SetLine, TextRun, fitted, settable, width

if TYPE_CHECKING:
    from sheetgen.model.page import Block
    from sheetgen.print.pdf.pieces import Piece

mm = MM / PT  # a millimetre in points
GAP = 1.7 * mm  # between blocks
FOLLOWING_GAP = 3 * mm  # above a page that begins below another
GUTTER = 6 * mm  # between columns
CELL_X, CELL_Y = 1.05 * mm, 0.3 * mm  # padding of a table cell
BOX_HEIGHT = 5.1 * mm  # of a blank box to write in
LEADING = 1.2  # from baseline to baseline, in sizes of the text
INDENT = 5.2 * mm  # of a list

BETWEEN = ("heading 2", "heading 3", "body", "small", "notice", "cell", "cell quiet", "head")  # text around drawings
LEAST = 7.0  # points
BAND_TEXT = 9.5  # likewise, where there is room
CAPITAL = 0.73  # height of a capital, in sizes of the text
BLACK, WHITE = "#000000", "#ffffff"


def with_text_at(style: Style, share: float) -> Style:
    """The style with the text between the drawings at a share of its size, but never below the least."""
    resized = {role: replace(style.letterings[role], size=max(LEAST, style.letterings[role].size * share))
               for role in BETWEEN}
    return replace(style, letterings={**style.letterings, **resized})


class RuledLine(NamedTuple):
    """A line between things: points, '#rrggbb'."""

    weight: float
    paint: str


@dataclass(frozen=True, eq=False)
class Typesetting:
    """A style in points. Text roles are the style's letterings.

    What was set of a block is kept, for a job is placed again and again until it takes the fewest sheets.
    """

    style: Style
    _shares: dict[float, Typesetting] = field(default_factory=dict)
    _pieces: dict[tuple[int, float], tuple[Block, list[Piece]]] = field(default_factory=dict)

    def at(self, share: float) -> Typesetting:
        """With the text between the drawings at a share of its size, the same one every time."""
        if share not in self._shares:
            self._shares[share] = Typesetting(with_text_at(self.style, share))
        return self._shares[share]

    def kept(self, block: Block, room: float,
             set_block: Callable[[Block, Typesetting, float], list[Piece]]) -> list[Piece]:
        """The pieces of a block for a width, set when they are first asked for. The block is kept with them, so that
        no other takes its identity."""
        key = id(block), room
        if key not in self._pieces:
            self._pieces[key] = block, set_block(block, self, room)
        return self._pieces[key][1]

    def lettering(self, role: str) -> Lettering:
        """The lettering of a text role."""
        return self.style.letterings[role]

    def leading(self, role: str) -> float:
        """From baseline to baseline."""
        return self.lettering(role).size * LEADING

    def run(self, text: str, role: str, weight: str = "") -> TextRun:
        """Text of a role, in its own weight unless said otherwise."""
        lettering = self.lettering(role)
        return TextRun(text, weight or lettering.weight, lettering.size, lettering.paint)

    def rule(self, role: str) -> RuledLine:
        """Weight and paint of a rule."""
        paint = self.style.roles[role]
        return RuledLine(paint.width / PT, paint.stroke)

    def fill(self, role: str) -> str:
        """What a role is filled with; "" for nothing."""
        return self.style.roles[role].fill

    def width(self, text: str, role: str) -> float:
        """Width in points of a line of text in a role."""
        lettering = self.lettering(role)
        return width(settable(text, lettering.weight), lettering.weight, lettering.size)

    def draw(self, canvas: Canvas, x: float, y: float, text: str, role: str, at_right: bool = False) -> None:
        """Write a line of text on the canvas, from x or up to it."""
        run = self.run(text, role)
        draw_line(canvas, x - (self.width(text, role) if at_right else 0), y, _one(settable(text, run.weight), run))

    def draw_fitted(self, canvas: Canvas, x: float, y: float, text: str, role: str, room: float) -> float:
        """Write a line of text no wider than the room, smaller or cut short if need be; its width."""
        lettering = self.lettering(role)
        sizes = tuple(max(LEAST, lettering.size * part) for part in (1, 0.88, 0.76))
        shown, size = fitted(text, lettering.weight, sizes, room)
        draw_line(canvas, x, y, _one(shown, TextRun(shown, lettering.weight, size, lettering.paint)))
        return width(shown, lettering.weight, size)

    def draw_rule(self, canvas: Canvas, left: float, right: float, y: float, role: str) -> None:
        """A horizontal rule."""
        use_rule(canvas, self.rule(role))
        canvas.line(left, y, right, y)

    def draw_band(self, canvas: Canvas, x: float, y: float, room: float, height: float, text: str) -> None:
        """A line of heavy white text in the middle of a black band."""
        canvas.setFillColor(colour(BLACK))
        canvas.rect(x, y, room, height, stroke=0, fill=1)
        shown, size = fitted(text, "bold", (BAND_TEXT, LEAST), room - 2 * CELL_X)
        run = TextRun(shown, "bold", size, WHITE)
        left = x + (room - width(shown, "bold", size)) / 2
        draw_line(canvas, left, y + (height - size * CAPITAL) / 2, _one(shown, run))


def _one(text: str, run: TextRun) -> tuple[tuple[float, str, TextRun], ...]:
    return ((0.0, text, run),)


def draw_line(canvas: Canvas, x: float, y: float, line: SetLine | tuple[tuple[float, str, TextRun], ...]) -> None:
    """Write the segments of a set line with its baseline at y."""
    for offset, text, run in line:
        if text:
            canvas.setFillColor(colour(run.paint))
            canvas.setFont(font_name(run.weight), run.size)
            canvas.drawString(x + offset, y, text)


def use_rule(canvas: Canvas, rule: RuledLine) -> None:
    """Draw lines in the manner of a rule from here on."""
    canvas.setStrokeColor(colour(rule.paint))
    canvas.setLineWidth(rule.weight)
