"""Widths of text in the typeface that is shipped with the program, and its registration with the PDF writer."""

from __future__ import annotations

from functools import cache, lru_cache

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from sheetgen.model.geometry import PT
from sheetgen.model.style import Lettering
from sheetgen.read.style_from_yaml import styles_folder

FAMILY = "DejaVu Sans Condensed"
_FILES = {
    "regular": ("Sheetgen", "DejaVuSansCondensed.ttf"),
    "bold": ("Sheetgen-Bold", "DejaVuSansCondensed-Bold.ttf"),
}


@cache
def font(weight: str) -> TTFont:
    """The font of a weight ("regular", "bold"), registered with ReportLab under `font_name(weight)`."""
    name, file = _FILES[weight]
    loaded = TTFont(name, str(styles_folder() / "fonts" / file))
    pdfmetrics.registerFont(loaded)
    return loaded


def font_name(weight: str) -> str:
    """The name under which ReportLab knows the weight; registers it on first use."""
    return font(weight).fontName


@lru_cache(maxsize=20000)
def text_width(text: str, lettering: Lettering) -> int:
    """How wide a text is set, in whole hundredths of a millimetre, rounded up."""
    points = font(lettering.weight).stringWidth(text, lettering.size)
    return -int(-points * PT // 1)


@cache
def has_glyph(character: str, weight: str = "regular") -> bool:
    """Whether the typeface can print the character."""
    return ord(character) in font(weight).face.charToGlyph


def cap_height(lettering: Lettering) -> int:
    """Height of a capital letter, hundredths of a millimetre."""
    return round(lettering.size * PT * 0.729)  # DejaVu Sans: capitals are 1493 of 2048 units
