"""Text as the page can set it: accents composed, what the typeface lacks shown and counted, lines made to fit."""

from __future__ import annotations

import unicodedata
from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from functools import cache, lru_cache
from html import escape

from reportlab.pdfbase import pdfmetrics

from sheetgen.draw.typeface import font, font_name, has_glyph
from sheetgen.model.drawing import Drawing, Text

LOST = "\N{WHITE SQUARE}"  # printed for a character that the typeface lacks
DOTS = "\N{HORIZONTAL ELLIPSIS}"


@cache
def register() -> None:
    """Let ReportLab's paragraphs find the bold and oblique faces of the typeface."""
    regular, bold, oblique = (font_name(face) for face in ("regular", "bold", "oblique"))
    pdfmetrics.registerFontFamily(regular, normal=regular, bold=bold, italic=oblique, boldItalic=bold)


@lru_cache(maxsize=20000)
def width(text: str, face: str, size: float) -> float:
    """Width of a line of text in points."""
    return font(face).stringWidth(text, size)


@lru_cache(maxsize=20000)
def settable(text: str, face: str = "regular") -> str:
    """The text as it can be set: accents composed, white space made plain, LOST for what the face lacks."""
    composed = " ".join(unicodedata.normalize("NFC", text).split())
    return "".join(c if has_glyph(c, face) else LOST for c in composed)


def markup(text: str, face: str = "regular") -> str:
    """The text for a ReportLab paragraph, with nothing of it read as markup."""
    return escape(settable(text, face), quote=False)


def strings(value: object) -> Iterator[str]:
    """Every text that a value made of dataclasses and tuples would print."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, Drawing):
        yield from (shape.text for shape in value.shapes if isinstance(shape, Text))
    elif isinstance(value, tuple):
        for part in value:
            yield from strings(part)
    elif is_dataclass(value):
        for field in fields(value):
            yield from strings(getattr(value, field.name))


def any_lost(value: object) -> bool:
    """Whether any text in a value holds a character that the typeface lacks."""
    return any(LOST in settable(text) for text in set(strings(value)))


def fitted(text: str, face: str, sizes: tuple[float, ...], room: float) -> tuple[str, float]:
    """The text and the largest of the sizes at which it fits the room; cut short with dots where none is enough."""
    shown = settable(text, face)
    for size in sizes:
        if width(shown, face, size) <= room:
            return shown, size
    size = sizes[-1]
    fits = bisect_right(range(len(shown)), room, key=lambda n: width(shown[:n] + DOTS, face, size))
    return shown[: max(0, fits - 1)].rstrip() + DOTS, size
