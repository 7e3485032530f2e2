"""The wiring page: each drawing on a sheet of its own, with its legend and its care."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO

import pytest
from pages.jobs import EXAMPLES, NAMES, blocks_of, example, says
from pdfminer.pdfpage import PDFPage

from sheetgen.draw.layout import drawing_space
from sheetgen.draw.wiring import legend
from sheetgen.model.drawing import Drawing
from sheetgen.model.page import Picture
from sheetgen.model.words import MIXED_COLOURS_SHORT
from sheetgen.pages.job_to_pages import job_to_pages
from sheetgen.pipeline import Look
from sheetgen.pipeline import job_of as drawn
from sheetgen.print.pdf import info_of, pages_to_pdf
from sheetgen.read.style_from_yaml import load_style

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
    assert MIXED_COLOURS_SHORT in text
    assert "4 to fit: 2 green-and-yellow and 2 red. 2 fitted, 6 assumed fitted." in text
    assert MIXED_COLOURS_SHORT not in says(*pages("bungalow"))
    assert all(c.method in says(*pages("two-way-conversion")) for c in example("two-way-conversion").reading.circuits)


def test_the_method_stands_behind_the_lamps_that_it_is_of():
    said = says(*pages("joint-boxes", DRAWINGS[:1])).splitlines()
    assert "Kitchen lamp and Pantry. Line and neutral looped at a joint box; one-way switching." in said


def test_notes_stand_once_on_the_last_sheet():
    job = example("bungalow")
    wiring = replace(job.wiring, notes=("The loft hatch is painted shut.",))
    found = job_to_pages(replace(job, wiring=wiring, drawings=DRAWINGS, legend=LEGEND), ("wiring",))
    assert ["painted shut" in says(page) for page in found] == [False, False, True]


@pytest.mark.parametrize("colours", ["", "current"])
@pytest.mark.parametrize("paper", ["a4", "a3"])
@pytest.mark.parametrize("name", NAMES)
def test_the_largest_drawing_leaves_its_foot_on_the_same_sheet(name, paper, colours):
    style = load_style("colour", paper)
    around = 2 * style.measures["drawing margin"]
    width, height = (length + around for length in drawing_space(style))
    job = example(name, colours)
    job = replace(job, drawings=(Drawing(width, height, ()),), legend=legend(job.wiring, job.reading, style))
    data = pages_to_pdf(job_to_pages(job, ("wiring",)), style, info_of(job))
    assert len(list(PDFPage.get_pages(BytesIO(data)))) == 1


def test_a_method_stands_on_the_sheet_of_its_accessories_alone():
    job = drawn((EXAMPLES / "outbuildings.yaml").read_bytes(), Look(), "outbuildings")
    first, second = (says(page) for page in job_to_pages(job, ("wiring",)) if page.title.startswith("Wiring"))
    floods, bath = "Flood 1 and Flood 2. Line and neutral looped at the switches", "Bathroom. Line and neutral looped"
    assert floods in first and floods not in second
    assert bath in second and bath not in first


def test_what_is_said_of_a_switch_with_no_cable_stands_where_it_is_drawn():
    job = drawn((EXAMPLES / "finding-out" / "half-known.yaml").read_bytes(), Look(), "half-known")
    first, second = (says(page) for page in job_to_pages(job, ("wiring",)) if page.title.startswith("Wiring"))
    assert "What Bedroom does is not known" in second and "What Bedroom" not in first
