"""Turns a layout into shapes with roles, one drawing for each sheet, and makes its legend. Decides no place."""

from __future__ import annotations

from sheetgen.draw.wiring.legend import legend
from sheetgen.draw.wiring.sheet import SheetDrawing, Show
from sheetgen.model.drawing import Drawing
from sheetgen.model.layout import Layout
from sheetgen.model.reading import Reading
from sheetgen.model.style import Style
from sheetgen.model.wiring import Wiring

EVERYTHING = Show()


def layout_to_drawing(
    layout: Layout, wiring: Wiring, reading: Reading | None, style: Style, show: Show = EVERYTHING
) -> tuple[Drawing, ...]:
    """One drawing for each sheet. Without a reading sleeves are drawn as they are in the wiring."""
    return tuple(SheetDrawing(sheet, wiring, reading, style, show).drawing() for sheet in layout.sheets)


__all__ = ["Show", "layout_to_drawing", "legend"]
