"""The wiring page: each drawing on a sheet of its own, with its legend and its care."""

from __future__ import annotations

from dataclasses import replace

from pages.jobs import blocks_of, example, says

from sheetgen.job_to_pages import job_to_pages
from sheetgen.model.drawing import Drawing
from sheetgen.model.page import Picture
from sheetgen.words import MIXED_COLOURS

DRAWINGS = tuple(Drawing(10000 + i, 5000, ()) for i in range(3))
LEGEND = Drawing(9000, 1000, ())


def pages(name: str, drawings=DRAWINGS, **changes):
    """The wiring pages of an example."""
    return job_to_pages(replace(example(name), drawings=drawings, legend=LEGEND, **changes), ("wiring",))


def test_each_drawing_has_a_sheet_with_the_legend_beside_it():
    found = pages("bungalow")
    assert [page.title for page in found] == ["Wiring 1 of 3", "Wiring 2 of 3", "Wiring 3 of 3"]
    for page, drawing in zip(found, DRAWINGS, strict=True):
        pictures = [b for b in blocks_of(page.blocks) if isinstance(b, Picture)]
        assert [p.drawing for p in pictures] == [drawing, LEGEND]
        assert all(p.scale == 1.0 for p in pictures)
    assert [page.title for page in pages("bungalow", DRAWINGS[:1])] == ["Wiring"]


def test_the_sheet_says_the_method_the_sleeves_and_the_mixture_of_colours():
    (page,) = pages("old-meets-new", DRAWINGS[:1])
    text = says(page)
    assert MIXED_COLOURS in text
    assert "4 sleeves to fit" in text
    assert MIXED_COLOURS not in says(*pages("bungalow"))
    assert all(c.method in says(*pages("two-way-conversion")) for c in example("two-way-conversion").reading.circuits)


def test_notes_stand_once_on_the_last_sheet():
    job = example("bungalow")
    wiring = replace(job.wiring, notes=("The loft hatch is painted shut.",))
    found = job_to_pages(replace(job, wiring=wiring, drawings=DRAWINGS, legend=LEGEND), ("wiring",))
    assert ["painted shut" in says(page) for page in found] == [False, False, True]
