"""The letters of the sheet, cut down to those that occur, to be carried inside the page."""

from __future__ import annotations

import base64
from io import BytesIO

from sheetgen.read.style_from_yaml import styles_folder

FACES = {"400": "DejaVuSansCondensed.ttf", "700": "DejaVuSansCondensed-Bold.ttf"}
ALWAYS = "".join(chr(c) for c in range(32, 127)) + "\N{BULLET}\N{MULTIPLICATION SIGN}\N{RIGHTWARDS ARROW}"

UNUSED = ("GSUB", "GPOS", "GDEF", "FFTM", "kern", "fpgm", "prep", "cvt ", "gasp")  # layout features and hints


def font_faces(text: str) -> str:
    """CSS rules that carry the typeface, with the characters of the text."""
    return "\n".join(
        f"@font-face{{font-family:Sheet;font-weight:{weight};src:url(data:font/woff;base64,{_cut(file, text)}) "
        "format('woff')}" for weight, file in FACES.items()
    )


def _cut(file: str, text: str) -> str:
    from fontTools.subset import Options, Subsetter
    from fontTools.ttLib import TTFont

    font = TTFont(styles_folder() / "fonts" / file, recalcTimestamp=False)
    for table in UNUSED:  # left out before they are read: reading them takes longer than all the rest
        if table in font:
            del font[table]
    options = Options(layout_features=[], name_IDs=[1, 2], notdef_outline=True, hinting=False)
    subsetter = Subsetter(options)
    subsetter.populate(text=text + ALWAYS)
    subsetter.subset(font)
    font.flavor = "woff"
    out = BytesIO()
    font.save(out)
    return base64.b64encode(out.getvalue()).decode()
