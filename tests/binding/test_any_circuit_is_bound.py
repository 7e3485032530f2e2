"""Whatever is wired, it comes on paper: no piece is larger than what is left of its sheet, and the file is whole."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pypdfium2
import pytest
from binding.big import LOOKS, any_wirings, job_of, many_lights
from circuits import Circuit, conversion, strappers
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sheetgen.circuit import circuit_of
from sheetgen.draw.diagram import diagrams_of
from sheetgen.model.drawing import Drawing, Line
from sheetgen.model.page import (
    Columns,
    Form,
    Heading,
    Info,
    Items,
    Page,
    Picture,
    SideBySide,
    Spare,
    Swatch,
    Table,
    Turn,
    Words,
)
from sheetgen.model.problems import Refused
from sheetgen.pages.job_to_pages import job_to_pages
from sheetgen.pipeline import Look, style_of
from sheetgen.print.pdf import info_of, pages_to_pdf
from sheetgen.print.pdf.frames import paper_of
from sheetgen.print.pdf.placing import place_pages
from sheetgen.print.pdf.typesetting import Typesetting

INFO = Info("Any job")
SLOW = settings(max_examples=6, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))


def bound(pages: tuple[Page, ...], look: Look, info: Info = INFO) -> int:
    """Bind pages, and check that every piece lies within its frame; how many sheets the file has."""
    style = style_of(look)
    paper = paper_of(style)
    sheets = place_pages(pages, Typesetting(style), paper)
    for sheet in sheets:
        frames = paper.frames(sheet.kind)
        for x, top, piece in sheet.placed:
            (frame,) = [f for f in frames if f.x == x]
            assert top <= frame.top + 0.1 and top - piece.height >= frame.top - frame.height - 0.1, piece
    count = len(pypdfium2.PdfDocument(pages_to_pdf(pages, style, info)))
    assert 0 < count <= len(sheets)
    return count


@SLOW
@given(any_wirings(), st.sampled_from(LOOKS))
def test_any_circuit_is_bound_in_every_look_and_paper(wiring, look):
    try:
        job = job_of(wiring, look)
    except Refused as refused:  # a box that no sheet holds is refused by the layout, by name
        assert all(problem.code == "E501" for problem in refused.problems)
        return
    bound(job_to_pages(job), look, info_of(job))


@pytest.mark.parametrize("lights", [8, 20])
@pytest.mark.parametrize("look", LOOKS[:2])
def test_many_lights_on_one_switch(lights, look):
    c = Circuit()
    many_lights(c, c.way(), "Hall", lights, lost=False)
    job = job_of(c.wiring(), look)
    assert bound(job_to_pages(job), look, info_of(job)) < 40


@pytest.mark.parametrize("method, switches", [(strappers, 11), (conversion, 16), (strappers, 20)])
def test_many_switches_on_one_light(method, switches):
    c = Circuit()
    method(c, c.way(), "Stairs", switches)
    job = job_of(c.wiring(), Look())
    bound(job_to_pages(job), Look(), info_of(job))


def test_a_plot_of_many_lamps():
    c = Circuit(ze=Fraction(3, 10))
    many_lights(c, c.way(), "Hall", 23, lost=False)
    wiring = c.wiring()
    cables = tuple(replace_length(cable) for cable in wiring.cables)
    job = job_of(replace(wiring, cables=cables), Look())
    assert len(job.plots) == 2
    bound(job_to_pages(job), Look(), info_of(job))


def replace_length(cable):
    """A cable of 40 m."""
    return replace(cable, length=Fraction(40))


# pages without sense: words of any length, tables of any shape, drawings of any size, one within another

said = st.text(max_size=40) | st.sampled_from(["x" * 3000, "word " * 900, "", "Hall"])
short = st.text(max_size=12) | st.sampled_from(["y" * 400, "N"])


@st.composite
def tables(draw) -> Table:
    """A table of up to 40 columns and 60 rows."""
    columns = draw(st.sampled_from([1, 2, 3, 8, 40]))
    cell = short | st.builds(Swatch, st.sampled_from(["", "RD", "GNYE"]), short) | st.builds(Words, said)
    row = draw(st.lists(cell, min_size=columns, max_size=columns))
    rows = tuple(tuple(row[i:] + row[:i]) for i in range(min(columns, draw(st.integers(0, 6)))))
    head = tuple(draw(st.lists(short, min_size=columns, max_size=columns)))
    boxes = draw(st.sampled_from([(), (0,), (columns - 1,)]))
    return Table(head, rows * draw(st.sampled_from([1, 10])), boxes=boxes, joined=draw(st.integers(0, columns - 1)),
                 plain=draw(st.booleans()))


def drawings() -> st.SearchStrategy[Drawing]:
    """Drawings from a stamp to three sheets wide and high."""
    size = st.sampled_from([100, 4000, 20000, 90000])
    return st.builds(lambda w, h: Drawing(w, h, (Line(((0, 0), (w, h)), "conductor", "RD"),)), size, size)


plain = (
    st.builds(Heading, said, st.sampled_from([2, 3]), short)
    | st.builds(Words, said, st.sampled_from(["plain", "strong", "quiet", "caution", "danger", "notice"]), short)
    | st.builds(Items, st.lists(said, max_size=4).map(tuple), st.booleans())
    | tables()
    | st.builds(Form, st.lists(short, min_size=1, max_size=5).map(tuple))
    | st.builds(Picture, drawings(), st.just(1.0), short, st.booleans())
)
groups = st.lists(st.lists(plain, max_size=3).map(tuple), min_size=1, max_size=4).map(tuple)
blocks = (
    plain | st.builds(SideBySide, groups) | st.builds(Columns, groups, st.integers(1, 3), st.booleans())
    | st.builds(Spare, st.lists(plain, max_size=2).map(tuple)) | st.just(Turn())
)
anything = st.builds(Page, st.just("tests"), said, st.lists(blocks, max_size=5).map(tuple),
                     st.sampled_from(["full", "card"]), st.booleans())


@settings(max_examples=15, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
@given(st.lists(anything, min_size=1, max_size=3).map(tuple), st.sampled_from(LOOKS))
def test_pages_without_sense_are_bound(pages, look):
    bound(pages, look)


def test_a_drawing_that_no_sheet_holds_is_shown_in_parts_that_overlap():
    drawing = Drawing(60000, 50000, (Line(((0, 0), (60000, 50000)), "conductor", "RD"),))
    assert bound((Page("wiring", "Wiring", (Picture(drawing),)),), Look()) >= 6


def test_diagrams_of_many_switches_are_whole():
    c = Circuit()
    conversion(c, c.way(), "Stairs", 20)
    wiring = c.wiring()
    assert diagrams_of(circuit_of(wiring), style_of(Look()))
