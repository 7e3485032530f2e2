"""The pages of a job: which there are, in which order, and the care that each sheet takes."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from kept_houses import houses, one_process
from pages.jobs import EXAMPLES, NAMES, blocks_of, example, job_of, says

import sheetgen.pages
from sheetgen.model.drawing import Drawing, Text
from sheetgen.model.job import Job
from sheetgen.model.page import Picture
from sheetgen.model.words import CAUTION, CAUTION_SHORT
from sheetgen.pages import PAGES
from sheetgen.pages.job_to_pages import job_to_pages
from sheetgen.pipeline import Look, style_of, understood
from sheetgen.pipeline import job_of as drawn_job

KINDS = tuple(kind.name for kind in PAGES)
DRAWING = Drawing(10000, 5000, ())


def test_every_page_file_is_in_the_index():
    folder = Path(sheetgen.pages.__file__).parent
    files = {p.stem for p in folder.glob("*.py") if "ENTRY = PageKind(" in p.read_text(encoding="utf-8")}
    assert files == set(KINDS)


@pytest.mark.parametrize("name", NAMES)
def test_all_pages_come_in_the_order_of_the_catalogue(name):
    pages = job_to_pages(replace(example(name), drawings=(DRAWING, DRAWING)))
    found = [page.kind for page in pages]
    assert sorted(found, key=KINDS.index) == found
    left_out = set() if example(name).reading.findings else {"findings"}  # the card says that nothing was found
    left_out.add("seen")  # nobody has seen or measured anything in these
    assert set(found) == {kind.name for kind in PAGES if not kind.asked} - left_out
    assert "Nothing was found" not in says(*pages) or "findings" in left_out
    assert found.count("wiring") == 2


def test_pages_can_be_chosen():
    pages = job_to_pages(example("joint-boxes"), ("findings", "card"))
    assert [page.kind for page in pages] == ["card", "findings"]


def test_where_nothing_was_found_the_card_says_so_and_the_findings_are_no_sheet():
    job = example("two-way-conversion")
    assert [page.kind for page in job_to_pages(job, ("findings", "card"))] == ["card"]
    assert "Nothing was found: " in says(*job_to_pages(job, ("card",)))
    assert [page.kind for page in job_to_pages(job, ("findings",))] == ["findings"]


def test_the_steps_of_isolation_are_said_once():
    job, step = example("two-way-conversion"), "Prove the indicator again."
    assert says(*job_to_pages(job)).count(step) == 1
    assert says(*job_to_pages(job, ("tests",))).count(step) == 1


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*/**/*.yaml")), ids=lambda path: path.stem)
def test_a_way_is_a_circuit_on_every_page(path):
    """Those that are not here are kept whole as text: `test_as_text` looks at them."""
    wiring, solution, reading = understood(path.read_bytes())
    job = Job(wiring, solution, reading, sets=style_of().sets)
    text = says(*job_to_pages(job), *job_to_pages(job, ("method", "symptoms", "tags", "tests")))
    assert "circuit" in text.lower() and not re.search(r"\b[Ww]ays? \d", text)


@pytest.mark.parametrize(("name", "number", "on_rail"), [
    ("large-house", "3", "Hall loop"), ("landing-borrowed-neutral", "6", "Hall light COM")])
def test_a_way_is_a_circuit_in_every_drawing_and_rails_name_terminals_as_the_pages_do(name, number, on_rail):
    job = drawn_job((EXAMPLES / f"{name}.yaml").read_bytes(), Look())
    drawings = (*job.drawings, *job.overview, *(d.drawing for d in job.diagrams))
    texts = {shape.text for drawing in drawings for shape in drawing.shapes if isinstance(shape, Text)}
    assert {f"Circuit {number}", f"circuit {number}", on_rail} <= texts
    assert not [text for text in texts if re.search(r"\b[Ww]ay \d", text)]


def test_the_card_has_every_circuit_in_small_with_its_current_in_text_that_can_be_read():
    job = drawn_job((EXAMPLES / "two-way-line-at-switch.yaml").read_bytes(), Look())
    (_, small) = job_to_pages(job, ("card",))
    assert small.card_only
    assert "Landing lamp\nwith Hall at L1, Top at L2" in says(small)
    assert "Bedroom lamp\nwith Bed switch on" in says(small)
    pictures = [block for block in blocks_of(small.blocks) if isinstance(block, Picture)]
    style = style_of(Look())
    assert [sum("arrow" in shape.role for shape in p.drawing.shapes) > 0 for p in pictures] == [True, True]
    for picture in pictures:
        assert picture.scale == 1 and picture.drawing.width <= 131 * 100
        assert all(style.letterings[s.role].size >= 6 for s in picture.drawing.shapes if isinstance(s, Text))


def test_nothing_is_said_to_be_not_given():
    job = example("two-way-line-at-switch")
    board = replace(job.wiring.board, earthing="", ze=None, where="",
                    ways=tuple(replace(way, device=None, rcd=None) for way in job.wiring.board.ways))
    cables = tuple(replace(c, length=None, size=None, cpc_size=None, method="") for c in job.wiring.cables)
    bare = job_of(replace(job.wiring, board=board, cables=cables, drawn_by="", drawn_on=""))
    assert "not given" not in says(*job_to_pages(bare))


@pytest.mark.parametrize("name", NAMES)
def test_every_sheet_with_a_wiring_carries_its_caution(name):
    pages = job_to_pages(replace(example(name), drawings=(DRAWING,)))
    for page in pages:
        if page.kind == "card":
            assert CAUTION in says(page)
        if page.kind in ("wiring", "connections"):
            assert CAUTION_SHORT in says(page)
    assert CAUTION_SHORT in says(*(p for p in pages if p.kind == "tests"))
    assert CAUTION in says(*job_to_pages(example(name), ("tests",)))


def test_a_recoloured_job_says_so_wherever_colours_are_seen():
    job = replace(example("two-way-conversion", "legacy"), drawings=(DRAWING,))
    as_found = replace(example("two-way-conversion"), drawings=(DRAWING,))
    for kind in ("card", "wiring", "connections"):
        assert "Colours are not as found" in says(*job_to_pages(job, (kind,)))
        assert "Colours are not as found" not in says(*job_to_pages(as_found, (kind,)))


@one_process
@settings(max_examples=30, deadline=None, derandomize=True)
@given(houses())
def test_every_danger_stands_on_the_card_and_at_its_accessory(wiring):
    job = job_of(wiring)
    dangers = [f for f in job.reading.findings if f.gravity == "danger"]
    card, connections = says(*job_to_pages(job, ("card",))), says(*job_to_pages(job, ("connections",)))
    for finding in dangers:
        says_it = re.sub(r"\b([Ww])ay(s?) (?=\d)", lambda m: f"{'Cc'[m[1] == 'w']}ircuit{m[2]} ", finding.says)
        assert says_it in card
        assert not finding.accessory or says_it in connections


@one_process
@settings(max_examples=30, deadline=None, derandomize=True)
@given(houses())
def test_any_wiring_gives_every_page(wiring):
    pages = job_to_pages(job_of(wiring))
    assert {page.kind for page in pages} == {kind.name for kind in PAGES if not kind.asked} - {
        "wiring", "seen", *(() if any(page.kind == "findings" for page in pages) else ("findings",))}


def test_the_tests_say_which_settings_they_show():
    some = "4 of 8 settings: between them everything that can be at line is at line"
    assert some in says(*job_to_pages(example("three-switches"), ("tests",)))
    assert "settings: between" not in says(*job_to_pages(example("two-way-conversion"), ("tests",)))


def test_what_the_user_wrote_of_a_way_stays_as_it_was_written():
    job = example("two-way-conversion")
    noted = replace(job, wiring=replace(job.wiring, notes=("Not way 2 of the garage: that is way 2 metres behind.",)))
    said = says(*job_to_pages(noted))
    assert "Not way 2 of the garage: that is way 2 metres behind." in said and "Switch off circuit 2." in said
