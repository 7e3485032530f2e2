"""The gallery on paper: which arrangements share a sheet."""

from __future__ import annotations

from sheetgen.model.drawing import Drawing
from sheetgen.model.gallery import GalleryPiece
from sheetgen.model.geometry import MM
from sheetgen.model.page import Picture, SideBySide
from sheetgen.pages.gallery import compose

LEGEND = Drawing(100 * MM, 10 * MM, ())
ROOM = 270 * MM


def sheets(*widths: int, low: bool = True):
    shown = [GalleryPiece("Loop", str(w), "Says.", Drawing(w * MM, 90 * MM, ()), None, low) for w in widths]
    return compose(shown, LEGEND, ROOM)[1:]


def test_two_share_a_sheet_where_one_leaves_the_other_the_room_that_it_takes():
    """Each had half a sheet or the whole of one: of 136 and 132 mm each had a sheet to itself."""
    (sheet,) = sheets(136, 132)
    (block,) = sheet.blocks
    assert isinstance(block, SideBySide) and block.shares == (13600.0, 13200.0)
    drawn = [b.drawing.width for blocks in block.blocks for b in blocks if isinstance(b, Picture)]
    assert drawn == [13600, 13200]
    assert len(sheets(136, 135)) == 2
    assert len(sheets(136, 132, low=False)) == 2, "no room for the paragraphs above them"
    assert len(sheets(200, 100, 120)) == 2, "in their order"
