"""A drawing larger than a sheet is cut where nothing lies across, and each part says what its rails are."""

from __future__ import annotations

import pypdfium2
from houses import house_without
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.draw.extents import clear_height, extents_of, shown_in
from sheetgen.model.drawing import Circle, Drawing, Line, Text
from sheetgen.pipeline import Look, job_sheet, style_of

STYLE = style_of(Look())
RAIL = Line(((0, 500), (0, 10_000)), "diagram rail")


def test_it_is_cut_in_the_widest_strip_and_a_rail_does_not_count():
    lamps = [Circle(500, y, 200, "diagram body") for y in (1000, 2000, 2500, 4000)]
    extents = extents_of(Drawing(1000, 10_000, (RAIL, *lamps)), STYLE)
    assert clear_height(extents, 10_000, 800, 4500) == 3250  # between 2700 and 3800
    assert clear_height(extents, 10_000, 800, 2600) == 1500  # of what there is: between 1200 and 1800
    assert clear_height(extents, 10_000, 900, 1100) is None


spans = st.lists(st.tuples(st.integers(0, 900), st.integers(1, 200)), max_size=12)


@settings(max_examples=200, deadline=None)
@given(spans, st.integers(0, 500), st.integers(0, 600))
def test_nothing_lies_across_where_it_is_cut(shapes, least, more):
    extents = [(0, top, 100, top + high) for top, high in shapes]
    at = clear_height(extents, 1000, least, least + more)
    free = [y for y in range(least, least + more) if not any(top <= y and y + 1 <= end for _, top, _, end in extents)]
    assert (at is not None) == bool(free), "half a hundredth of a millimetre is free somewhere, or nothing is"
    if at is not None:
        assert least <= at <= least + more
        assert not any(top < at < end for _, top, _, end in extents)


def test_a_part_has_the_texts_that_are_whole_in_it_and_straight_lines_as_far_as_it_reaches():
    name = Text(500, 1000, "Hall", "diagram name")
    wire = Line(((0, 1200), (900, 1200)), "diagram wire")
    drawing = Drawing(1000, 10_000, (RAIL, name, wire))
    extents = extents_of(drawing, STYLE)
    above = shown_in(drawing, extents, (0, 0, 1000, 1000))
    assert above == (Line(((0, 500), (0, 1000)), "diagram rail"),)  # the name's letters reach below its baseline
    assert set(shown_in(drawing, extents, (0, 700, 600, 1500))) == {
        Line(((0, 700), (0, 1500)), "diagram rail"), name, Line(((0, 1200), (600, 1200)), "diagram wire")}


def test_a_diagram_over_two_sheets_has_every_switch_once_its_rails_named_on_both_and_nothing_off_the_sheet():
    document = pypdfium2.PdfDocument(job_sheet(house_without("BU", 20, 1), Look(), kinds=("operation",)))
    texts = [page.get_textpage() for page in document]
    sheets = [text.get_text_range() for text in texts]
    drawn = [sheet for sheet in sheets if "D7 BN" in sheet or "D19 BN" in sheet]
    assert len(drawn) == 2 and all("cut off" in sheet for sheet in drawn)
    lines = [line.strip() for sheet in drawn for line in sheet.splitlines()]
    assert [lines.count(f"Switch {i}") for i in range(1, 21)] == [1] * 20
    for page, text in zip(document, texts, strict=True):
        width, height = page.get_size()
        for left, bottom, right, top in (text.get_charbox(i) for i in range(text.count_chars())):
            assert left > -1 and right < width + 1 and bottom > -1 and top < height + 1
