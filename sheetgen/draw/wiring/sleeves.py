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
ARM_IN, ARM_ACROSS, ARM_DOWN = 15, 38, 55  # how far an arm reaches into its corner, and out of it
MIDTONE = 0.5  # on what is darker than this the code is written in light letters


def as_found(wiring: Wiring) -> dict[tuple[str, int], Sleeve]:
    """The sleeves that are there, whether needed or not."""
    return {
        (core.key, end): Sleeve(core.key, end, at.sleeve, Standing.FITTED)
        for core in wiring.cores() for end, at in enumerate(core.ends) if at.sleeve
    }


def sleeve_shapes(sleeve: Sleeve, frame: Frame, about: About, style: Style, labels: bool = True) -> list[Shape]:
    """A sleeve with its code: heavy and in the loudest paint if to be fitted, struck or crossed if it is to go.

    Nothing that is written is ever struck through: of the stroke or the cross only the arms beside the code are drawn.
    """
    about = (*about, ("sleeve", sleeve.standing.value))
    colour = shown_colour(sleeve)
    if sleeve.standing is Standing.MISSING:
        frame = Frame(frame.x - LARGER, frame.y - LARGER, frame.width + 2 * LARGER, frame.height + 2 * LARGER)
    box = Box(frame.x, frame.y, frame.width, frame.height, ROLES[sleeve.standing], 20, colour, about)
    shapes: list[Shape] = [box]
    if sleeve.standing in (Standing.WRONG, Standing.NEEDLESS):
        shapes += _strokes(frame, about, both=sleeve.standing is Standing.WRONG)
    code = code_in(sleeve, frame, style) if labels else ""
    return [*shapes, _code(code, box, about, style)] if code else shapes


def shown_colour(sleeve: Sleeve) -> str:
    """The colour that a sleeve has, or that it is to have."""
    return sleeve.has if sleeve.standing is Standing.WRONG and sleeve.has else sleeve.colour


def code_in(sleeve: Sleeve, frame: Frame, style: Style) -> str:
    """The code written in a sleeve; "" where its bands say it, or there is no room."""
    colour = shown_colour(sleeve)
    code = SHORT.get(colour, colour)
    if sleeve.standing is not Standing.MISSING and banded(colour, style):
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
    """The arms of a stroke through a sleeve, or of a cross, that stand out at its corners: between them is its code."""
    (left, top), (right, low) = (frame.x, frame.y), (frame.x + frame.width, frame.y + frame.height)
    corners = [(left, low, -1, 1), (right, top, 1, -1)] + ([(left, top, -1, -1), (right, low, 1, 1)] if both else [])
    return [
        Line(((x - ARM_IN * across, y - ARM_IN * down), (x + ARM_ACROSS * across, y + ARM_DOWN * down)), "sleeve cross",
             about=about)
        for x, y, across, down in corners
    ]
