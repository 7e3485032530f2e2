"""The typeface of the page: registered once, embedded as subsets; characters it lacks are shown and counted."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from functools import cache
from xml.sax.saxutils import escape

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from sheetgen.style_from_yaml import font_file

FAMILY = "sheet"
FACES = {"regular": FAMILY, "bold": f"{FAMILY}-bold", "oblique": f"{FAMILY}-oblique"}
REGULAR, BOLD, OBLIQUE = FACES.values()
LOST = "\N{WHITE SQUARE}"  # printed for a character that the typeface lacks


@cache
def register() -> None:
    """Make the faces known to ReportLab; parsed once in a process."""
    for face, name in FACES.items():
        pdfmetrics.registerFont(TTFont(name, str(font_file(face))))
    pdfmetrics.registerFontFamily(FAMILY, normal=REGULAR, bold=BOLD, italic=OBLIQUE, boldItalic=BOLD)


@cache
def _known(name: str) -> frozenset[int]:
    register()
    return frozenset(pdfmetrics.getFont(name).face.charToGlyph)


def width(text: str, name: str, size: float) -> float:
    """Width of a line of text in points."""
    register()
    return pdfmetrics.stringWidth(text, name, size)


def settable(text: str, name: str = REGULAR) -> str:
    """The text as it can be set: accents composed, white space made plain, LOST for what the face lacks."""
    known = _known(name)
    composed = " ".join(unicodedata.normalize("NFC", text).split())
    return "".join(c if ord(c) in known else LOST for c in composed)


def markup(text: str, name: str = REGULAR) -> str:
    """The text for a ReportLab paragraph, with nothing of it read as markup."""
    return escape(settable(text, name))


def strings(value: object) -> Iterator[str]:
    """Every text in a value made of dataclasses and tuples."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple):
        for part in value:
            yield from strings(part)
    elif is_dataclass(value):
        for field in fields(value):
            yield from strings(getattr(value, field.name))


def any_lost(value: object) -> bool:
    """Whether any text in a value holds a character that the typeface lacks."""
    return any(LOST in settable(text) for text in set(strings(value)))


def fitted(text: str, name: str, sizes: tuple[float, ...], room: float) -> tuple[str, float]:
    """The text and the largest of the sizes at which it fits the room; cut short with dots where none is enough."""
    shown = settable(text, name)
    for size in sizes:
        if width(shown, name, size) <= room:
            return shown, size
    size = sizes[-1]
    while shown and width(shown + "\N{HORIZONTAL ELLIPSIS}", name, size) > room:
        shown = shown[:-1]
    return shown.rstrip() + "\N{HORIZONTAL ELLIPSIS}", size
