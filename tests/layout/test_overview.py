"""The overview of a house on several sheets: every accessory once, with its sheet, and every cable from box to box."""

from __future__ import annotations

from collections import Counter
from io import BytesIO
from itertools import pairwise
from pathlib import Path

import pytest
from circuits import wirings
from houses import house
from hypothesis import Phase, given, settings
from layout.checker import SortedShapes, broken_rules, cables_of, rect, within
from layout.test_layout import TRIES, endangered
from pdfminer.high_level import extract_text

from sheetgen.draw.layout import wiring_to_layout, wiring_to_overview
from sheetgen.draw.wiring import layout_to_drawing
from sheetgen.model.drawing import Text
from sheetgen.model.layout import Layout
from sheetgen.model.wiring import Wiring
from sheetgen.pipeline import Look, job_sheet, wiring_of
from sheetgen.read.style_from_yaml import load_style

STYLE = load_style()
LARGE = (Path(__file__).parents[2] / "examples" / "large-house.yaml").read_text(encoding="utf-8")
SMALL_SPACE = 16000, 15000


def ends_of(drawings) -> dict[str, set[str]]:
    """Cable or single -> the boxes at its two ends, followed over marks and through the boxes that it passes."""
    met: dict[str, Counter[str]] = {}
    for drawing in drawings:
        look = SortedShapes(drawing, STYLE)
        for line in look.sheaths:
            for x, y in (line.points[0], line.points[-1]):
                point = (x, y, x, y)
                boxes = [name for name, box in look.enclosures if within(point, rect(box))]
                marks = [mark for mark in look.marks if within(point, rect(mark))]
                assert len(boxes) + len(marks) == 1, f"a cable ends at {boxes} {marks}"
                for cable in cables_of(line):
                    met.setdefault(cable, Counter()).update(boxes)
    assert all(times <= 2 for boxes in met.values() for times in boxes.values())
    return {cable: {box for box, times in boxes.items() if times == 1} for cable, boxes in met.items()}




def assert_complete(wiring: Wiring, layout: Layout, overview: Layout) -> None:
    """Every accessory has one box that names its sheets; every cable joins the boxes of its two accessories."""
    drawings = layout_to_drawing(overview, wiring, endangered(wiring), STYLE)
    assert [rule for drawing in drawings for rule in broken_rules(drawing, STYLE)] == []
    boxes = [name for drawing in drawings for name, _ in SortedShapes(drawing, STYLE).enclosures]
    assert len(boxes) == len(set(boxes))
    missing = {a.name for a in wiring.accessories} - set(boxes)
    assert all(wiring.accessory(name).hangs_from for name in missing)
    on = {place.name: sheet.number for sheet in layout.sheets for place in sheet.accessories}
    for drawing in drawings:
        for text in drawing.shapes:
            if isinstance(text, Text) and text.text.startswith("sheet "):
                assert text.text == f"sheet {on[dict(text.about)['accessory']]}"
    ends = ends_of(drawings)
    for cable in wiring.cables:
        if not cable.link and not missing & set(cable.ends):
            assert ends[cable.name] == set(cable.ends)
    told = {name for drawing in drawings for line in SortedShapes(drawing, STYLE).sheaths for name in cables_of(line)}
    assert told == {c.name for c in wiring.cables if not c.link and not missing & set(c.ends)}


@pytest.mark.parametrize("text", [LARGE, house(20)], ids=["large house", "twenty rooms"])
def test_a_house_on_several_sheets_has_an_overview(text):
    wiring = wiring_of(text)
    layout = wiring_to_layout(wiring, STYLE)
    assert_complete(wiring, layout, wiring_to_overview(wiring, layout, STYLE))


def test_boxes_stand_no_nearer_than_usual_on_a_sheet_that_has_room_for_them_beside_its_gutter():
    wiring = wiring_of(house(60))
    overview = wiring_to_overview(wiring, wiring_to_layout(wiring, STYLE), STYLE)
    for sheet in overview.sheets:
        for y in {box.frame.y for box in sheet.accessories}:
            row = sorted((box.frame.x, box.frame.x + box.frame.width) for box in sheet.accessories if box.frame.y == y)
            gaps = [right[0] - left[1] for left, right in pairwise(row)]
            assert len(gaps) > 5 and min(gaps) >= STYLE.measures["between"]


@given(wirings(max_rooms=4))
@settings(max_examples=8, phases=[Phase.generate], **TRIES)
def test_any_circuit_on_several_sheets_has_an_overview(wiring):
    layout = wiring_to_layout(wiring, STYLE, SMALL_SPACE)
    overview = wiring_to_overview(wiring, layout, STYLE, SMALL_SPACE)
    if len(layout.sheets) == 1:
        assert overview.sheets == ()
    else:
        assert_complete(wiring, layout, overview)


def test_the_job_sheet_of_a_house_opens_its_wiring_with_the_overview():
    words = extract_text(BytesIO(job_sheet(LARGE, Look(), kinds=("wiring",))), page_numbers=[0])
    assert "Overview" in words and "sheet 4" in words and "prove dead" in words
    one = (Path(__file__).parents[2] / "examples" / "one-way-loop-in.yaml").read_text(encoding="utf-8")
    assert "Overview" not in extract_text(BytesIO(job_sheet(one, Look(), kinds=("wiring",))))
