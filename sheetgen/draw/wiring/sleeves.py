"""A sleeve at the end of a core: how it stands, and its colour code where that can be read in it."""

from __future__ import annotations

from sheetgen.draw.inking import brightness, outline
from sheetgen.draw.typeface import cap_height, text_width
from sheetgen.model.drawing import About, Box, Line, Shape, Text
from sheetgen.model.layout import Frame
from sheetgen.model.reading import Sleeve, Standing
from sheetgen.model.style import Style
from sheetgen.model.wiring import Wiring

ROLES = {
    Standing.FITTED: "sleeve", Standing.MISSING: "sleeve to fit",
    Standing.NEEDLESS: "sleeve needless", Standing.WRONG: "sleeve wrong",
}
SHORT = {"GNYE": "G/Y"}  # what is too long for a sleeve (common practice); the legend says what it means
LARGER = 15  # a sleeve to be fitted is drawn so much larger on each side
MIDTONE = 0.5  # on what is darker than this the code is written in light letters


def as_found(wiring: Wiring) -> dict[tuple[str, int], Sleeve]:
    """The sleeves that are there, whether needed or not."""
    return {
        (core.key, end): Sleeve(core.key, end, at.sleeve, Standing.FITTED)
        for core in wiring.cores() for end, at in enumerate(core.ends) if at.sleeve
    }


def sleeve_shapes(sleeve: Sleeve, frame: Frame, about: About, style: Style, labels: bool = True) -> list[Shape]:
    """A sleeve: full with its code, heavy and in the loudest paint if to be fitted, struck or crossed if it is to go.

    What is struck or crossed has no code, for nothing that is written is ever struck through.
    """
    about = (*about, ("sleeve", sleeve.standing.value))
    colour = sleeve.has if sleeve.standing is Standing.WRONG else sleeve.colour
    if sleeve.standing is Standing.MISSING:
        frame = Frame(frame.x - LARGER, frame.y - LARGER, frame.width + 2 * LARGER, frame.height + 2 * LARGER)
    box = Box(frame.x, frame.y, frame.width, frame.height, ROLES[sleeve.standing], 20, colour, about)
    if sleeve.standing in (Standing.WRONG, Standing.NEEDLESS):
        return [box, *_strokes(frame, about, both=sleeve.standing is Standing.WRONG)]
    code = code_in(sleeve, frame, style) if labels else ""
    return [box, _code(code, box, about, style)] if code else [box]


def code_in(sleeve: Sleeve, frame: Frame, style: Style) -> str:
    """The code written in a sleeve that is fitted or to be fitted; "" where its bands say it, or there is no room."""
    code = SHORT.get(sleeve.colour, sleeve.colour)
    if sleeve.standing is Standing.FITTED and banded(sleeve.colour, style):
        return ""
    return code if text_width(code, style.letterings["sleeve code"]) <= frame.width - 10 else ""


def banded(colour: str, style: Style) -> bool:
    """Whether a fitted sleeve of that colour is painted in bands of two colours."""
    return not style.roles["sleeve"].fill and bool(style.colours[colour].second)


def _code(code: str, box: Box, about: About, style: Style) -> Text:
    dark = brightness(outline(box, style).fill) < MIDTONE
    role = "sleeve code light" if dark else "sleeve code"
    low = box.y + box.height // 2 + cap_height(style.letterings[role]) // 2
    return Text(box.x + box.width // 2, low, code, role, "middle", about)


def _strokes(frame: Frame, about: About, both: bool) -> list[Line]:
    x, y, right, low = frame.x, frame.y, frame.x + frame.width, frame.y + frame.height
    lines = [Line(((x, low), (right, y)), "sleeve cross", about=about)]
    if both:
        lines.append(Line(((x, y), (right, low)), "sleeve cross", about=about))
    return lines
