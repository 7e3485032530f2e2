"""Paragraph styles of the page from the style's letterings, rules from its roles, and the spaces between things."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache, cached_property

from reportlab.lib.colors import Color, toColor
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm

from sheetgen.draw.typeface import font_name
from sheetgen.model.geometry import PT
from sheetgen.model.style import Lettering, Style
from sheetgen.print.pdf.faces import fitted, markup, register, settable, width

GAP = 1.7 * mm  # between blocks
FOLLOWING_GAP = 4 * mm  # above a page that begins below another
GUTTER = 6 * mm  # between columns
CELL_X, CELL_Y = 1.3 * mm, 0.42 * mm  # padding of a table cell
BOX_HEIGHT = 5.1 * mm  # of a blank box to write in
LEADING = 1.2  # from baseline to baseline, in sizes of the text
INDENT = 5.2 * mm  # of a list


BETWEEN = ("heading 2", "heading 3", "body", "small", "notice", "cell", "cell quiet", "head")  # text around drawings
LEAST = 7.0  # points


def with_smaller_text(style: Style, share: float) -> Style:
    """The style with the text between the drawings at a share of its size."""
    smaller = {role: replace(style.letterings[role], size=max(LEAST, style.letterings[role].size * share))
               for role in BETWEEN}
    return replace(style, letterings={**style.letterings, **smaller})


@cache
def colour(paint: str) -> Color:
    """A colour of the style, '#rrggbb', as ReportLab has it."""
    return toColor(paint)


@dataclass(frozen=True, eq=False)
class Look:
    """A style as ReportLab needs it. Text roles are the style's letterings."""

    style: Style

    def lettering(self, role: str) -> Lettering:
        """The lettering of a text role."""
        return self.style.letterings[role]

    def font(self, role: str) -> tuple[str, float, float]:
        """Name, size and leading of a text role, in points."""
        lettering = self.lettering(role)
        return font_name(lettering.face), lettering.size, lettering.size * LEADING

    def ink(self, role: str) -> Color:
        """Colour of a text role."""
        return colour(self.lettering(role).paint)

    def rule(self, role: str) -> tuple[float, Color]:
        """Width in points and colour of a rule."""
        paint = self.style.roles[role]
        return paint.width / PT, colour(paint.stroke)

    def fill(self, role: str) -> Color | None:
        """What a role is filled with."""
        paint = self.style.roles[role]
        return colour(paint.fill) if paint.fill else None

    def width(self, text: str, role: str) -> float:
        """Width in points of a line of text in a role."""
        lettering = self.lettering(role)
        return width(settable(text, lettering.face), lettering.face, lettering.size)

    def draw(self, canvas, x: float, y: float, text: str, role: str, anchor: str = "start") -> None:
        """Write a line of text on the canvas."""
        name, size, _ = self.font(role)
        self.write(canvas, x, y, settable(text, self.lettering(role).face), name, size, anchor, role)

    def draw_fitted(self, canvas, x: float, y: float, text: str, role: str, room: float) -> float:
        """Write a line of text no wider than the room, smaller or cut short if need be; its width."""
        lettering = self.lettering(role)
        sizes = tuple(max(7.0, lettering.size * part) for part in (1, 0.88, 0.76))
        shown, size = fitted(text, lettering.face, sizes, room)
        self.write(canvas, x, y, shown, font_name(lettering.face), size, "start", role)
        return width(shown, lettering.face, size)

    def write(self, canvas, x: float, y: float, text: str, font: str, size: float, anchor: str, role: str) -> None:
        """Write text that is known to be settable."""
        canvas.setFillColor(self.ink(role))
        canvas.setFont(font, size)
        write = {"start": canvas.drawString, "end": canvas.drawRightString, "middle": canvas.drawCentredString}[anchor]
        write(x, y, text)

    def draw_rule(self, canvas, left: float, right: float, y: float, role: str) -> None:
        """A horizontal rule."""
        weight, colour = self.rule(role)
        canvas.setStrokeColor(colour)
        canvas.setLineWidth(weight)
        canvas.line(left, y, right, y)

    def markup(self, text: str, role: str) -> str:
        """Text for a paragraph of a role."""
        return markup(text, self.lettering(role).face)

    def bold(self, text: str) -> str:
        """Text for a paragraph, in bold, with a space after it; nothing for nothing."""
        return f"<b>{markup(text, 'bold')}</b> " if text else ""

    @cached_property
    def paragraphs(self) -> dict[str, ParagraphStyle]:
        """A paragraph style for each text role."""
        register()
        styles = {role: self._paragraph(role) for role in self.style.letterings}
        styles["notice"].alignment = 1
        styles["item"] = ParagraphStyle("item", styles["body"], leftIndent=INDENT, spaceAfter=0.9 * mm,
                                        bulletFontName=styles["body"].fontName, bulletFontSize=styles["body"].fontSize)
        return styles

    def _paragraph(self, role: str) -> ParagraphStyle:
        name, size, leading = self.font(role)
        return ParagraphStyle(role, fontName=name, fontSize=size, leading=leading, textColor=self.ink(role))
