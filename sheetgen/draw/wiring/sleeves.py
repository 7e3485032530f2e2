"""A sleeve at the end of a core: how it stands, and its colour code where that can be read in it."""

from __future__ import annotations

from sheetgen.draw.inking import brightness
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
MIDTONE = 0.5  # on what is darker than this the code is written in light letters


def as_found(wiring: Wiring) -> dict[tuple[str, int], Sleeve]:
    """The sleeves that are there, whether needed or not."""
    return {
        (core.key, end): Sleeve(core.key, end, at.sleeve, Standing.FITTED)
        for core in wiring.cores() for end, at in enumerate(core.ends) if at.sleeve
    }


def sleeve_shapes(sleeve: Sleeve, frame: Frame, about: About, style: Style, labels: bool = True) -> list[Shape]:
    """A sleeve: full with its code, hollow if to be fitted, struck if needless, crossed if of the wrong colour.

    What is struck or crossed has no code, for nothing that is written is ever struck through.
    """
    about = (*about, ("sleeve", sleeve.standing.value))
    colour = sleeve.has if sleeve.standing is Standing.WRONG else sleeve.colour
    box = Box(frame.x, frame.y, frame.width, frame.height, ROLES[sleeve.standing], 20, colour, about)
    if sleeve.standing in (Standing.WRONG, Standing.NEEDLESS):
        return [box, *_strokes(frame, about, both=sleeve.standing is Standing.WRONG)]
    if labels and fits(colour, frame, style):
        return [box, *_code(colour, frame, about, style, sleeve.standing)]
    return [box]


def fits(colour: str, frame: Frame, style: Style) -> bool:
    """Whether the code can be written in the sleeve. GNYE cannot; its bands are like no other sleeve's."""
    return text_width(colour, style.letterings["sleeve code"]) <= frame.width - 30


def _code(colour: str, frame: Frame, about: About, style: Style, standing: Standing) -> tuple[Shape, ...]:
    lettering = style.letterings["sleeve code"]
    width, height = text_width(colour, lettering), cap_height(lettering)
    x, middle = frame.x + frame.width // 2, frame.y + frame.height // 2
    dark = standing is Standing.FITTED and brightness(style.colours[colour].stroke) < MIDTONE
    text = Text(x, middle + height // 2, colour, "sleeve code light" if dark else "sleeve code", "middle", about)
    plate = Box(x - width // 2 - 10, frame.y + 10, width + 20, frame.height - 20, "code plate", 0, "", about)
    return (plate, text) if style.roles["code plate"].fill else (text,)


def _strokes(frame: Frame, about: About, both: bool) -> list[Line]:
    x, y, right, low = frame.x, frame.y, frame.x + frame.width, frame.y + frame.height
    lines = [Line(((x, low), (right, y)), "sleeve cross", about=about)]
    if both:
        lines.append(Line(((x, y), (right, low)), "sleeve cross", about=about))
    return lines
