"""The way through to the gallery: every arrangement laid, solved, drawn and bound into one PDF."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sheetgen.draw.layout import DoesNotFit, drawing_space, wiring_to_layout
from sheetgen.draw.wiring import layout_to_drawing, legend
from sheetgen.model.drawing import Drawing
from sheetgen.model.gallery import GalleryPiece
from sheetgen.model.geometry import MM
from sheetgen.model.page import Info
from sheetgen.model.reading import Reading
from sheetgen.model.style import Style
from sheetgen.model.wiring import Cable, Wiring
from sheetgen.pages.gallery import TITLE, compose
from sheetgen.pipeline import Look, drawings_of, style_of, understood
from sheetgen.print.pdf import pages_to_pdf
from sheetgen.teach.gallery import MethodShown, arrangements, told

BETWEEN = 8 * MM  # kept free of each half of a sheet, for the gap between the two and the margins of the drawings
PARAGRAPH = 16 * MM  # likewise of its height, more than a drawing by itself leaves for what stands above it
STANDING = "Examples of wiring methods: no record of any wiring."


def gallery_sheet(look: Look) -> bytes:
    """The whole gallery, as PDF."""
    style = style_of(look)
    found = [(a, *_laid(a, look)) for a in arrangements()]
    shown = [_shown(a, wiring, reading, style) for a, wiring, reading in found]
    room = drawing_space(style)[0] - BETWEEN + 2 * style.measures["drawing margin"]
    pages = compose(shown, legend(_all_of([wiring for _, wiring, _ in found]), None, style), room)
    return pages_to_pdf(pages, style, Info(TITLE, laid=True, standing=STANDING))


def _all_of(wirings: Sequence[Wiring]) -> Wiring:
    """Everything that is drawn anywhere in one wiring, for a legend of it; cables of one name are told apart."""
    def renamed(cable: Cable, number: int) -> Cable:
        name = f"{number} {cable.name}"
        return replace(cable, name=name, cores=tuple(replace(core, cable=name) for core in cable.cores))

    return replace(wirings[0], accessories=tuple(a for wiring in wirings for a in wiring.accessories),
                   cables=tuple(renamed(c, i) for i, wiring in enumerate(wirings) for c in wiring.cables))


def _laid(arrangement: MethodShown, look: Look) -> tuple[Wiring, Reading]:
    wiring, _, reading = understood(arrangement.text, look.colours)
    return wiring, reading


def _shown(arrangement: MethodShown, wiring: Wiring, reading: Reading, style: Style) -> GalleryPiece:
    (drawing,) = drawings_of(wiring, reading, style)
    low = drawing.height <= drawing_space(style)[1] - PARAGRAPH + 2 * style.measures["drawing margin"]
    return GalleryPiece(arrangement.chapter, arrangement.name, told(arrangement, wiring, reading), drawing,
                        _for_half_a_sheet(wiring, reading, style), low)


def _for_half_a_sheet(wiring: Wiring, reading: Reading, style: Style) -> Drawing | None:
    width, height = drawing_space(style)
    try:
        layout = wiring_to_layout(wiring, style, (width // 2 - BETWEEN, height - PARAGRAPH))
    except DoesNotFit:
        return None
    drawings = layout_to_drawing(layout, wiring, reading, style)
    return drawings[0] if len(drawings) == 1 else None
