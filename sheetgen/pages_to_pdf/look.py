"""Sizes, spaces and greys of the printed page, in points. Read at arm's length, on a poor black-and-white print."""

from __future__ import annotations

from functools import cache

from reportlab.lib.colors import HexColor
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm

from sheetgen.pages_to_pdf.faces import BOLD, REGULAR, register

INK = HexColor("#000000")
QUIET = HexColor("#3a3a3a")
RULE = HexColor("#8c8c8c")
STRONG_RULE = HexColor("#1a1a1a")
HEAD_FILL = HexColor("#e9e9e6")
NOTICE_FILL = HexColor("#fff6c2")

BODY, CELL, HEAD, SMALL = 9.0, 8.6, 7.8, 7.6
GAP = 2.2 * mm  # between blocks
FOLLOWING_GAP = 4 * mm  # above a page that begins below another
GUTTER = 7 * mm  # between columns
CELL_X, CELL_Y = 1.3 * mm, 0.75 * mm  # padding of a table cell
BOX_HEIGHT = 6.2 * mm  # of a blank box to write in


def _style(name: str, size: float, leading: float, font: str = REGULAR, **more) -> ParagraphStyle:
    return ParagraphStyle(name, fontName=font, fontSize=size, leading=leading, textColor=more.pop("ink", INK), **more)


@cache
def paragraphs() -> dict[str, ParagraphStyle]:
    """Every paragraph style by name."""
    register()
    return {
        "plain": _style("plain", BODY, 11.8),
        "strong": _style("strong", BODY, 11.8, BOLD),
        "quiet": _style("quiet", SMALL, 9.8, ink=QUIET),
        "caution": _style("caution", BODY, 11.6),
        "danger": _style("danger", BODY, 11.6),
        "notice": _style("notice", 9.4, 12.2, alignment=1),
        "cell": _style("cell", CELL, 10.4),
        "cell strong": _style("cell strong", CELL, 10.4, BOLD),
        "cell quiet": _style("cell quiet", CELL, 10.4, ink=QUIET),
        "cell danger": _style("cell danger", CELL, 10.4, BOLD),
        "head": _style("head", HEAD, 9.4, BOLD),
        "item": _style("item", BODY, 11.8, leftIndent=5.2 * mm, bulletIndent=0, spaceAfter=1.1 * mm),
        "heading 1": _style("heading 1", 13, 16, BOLD),
        "heading 2": _style("heading 2", 11, 14, BOLD),
        "heading 3": _style("heading 3", 9.4, 12, BOLD),
        "caption": _style("caption", SMALL, 9.6, ink=QUIET),
    }

