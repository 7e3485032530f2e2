"""The pages of a job: which there are, in which order, and the care that each sheet takes."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from circuits import wirings
from hypothesis import given, settings
from pages.jobs import NAMES, example, job_of, says

import sheetgen.pages
from sheetgen.model.drawing import Drawing
from sheetgen.model.words import CAUTION, CAUTION_SHORT
from sheetgen.pages import PAGES
from sheetgen.pages.job_to_pages import job_to_pages

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
    assert set(found) == {kind.name for kind in PAGES if not kind.asked}
    assert found.count("wiring") == 2


def test_pages_can_be_chosen():
    pages = job_to_pages(example("two-way-conversion"), ("findings", "card"))
    assert [page.kind for page in pages] == ["card", "findings"]


@pytest.mark.parametrize("name", NAMES)
def test_every_sheet_with_a_wiring_carries_its_caution(name):
    pages = job_to_pages(replace(example(name), drawings=(DRAWING,)))
    for page in pages:
        if page.kind == "card":
            assert CAUTION in says(page)
        if page.kind in ("wiring", "connections"):
            assert CAUTION_SHORT in says(page)
    assert CAUTION in says(*(p for p in pages if p.kind == "tests"))


def test_a_recoloured_job_says_so_wherever_colours_are_seen():
    job = replace(example("two-way-conversion", "legacy"), drawings=(DRAWING,))
    as_found = replace(example("two-way-conversion"), drawings=(DRAWING,))
    for kind in ("card", "wiring", "connections"):
        assert "Colours are not as found" in says(*job_to_pages(job, (kind,)))
        assert "Colours are not as found" not in says(*job_to_pages(as_found, (kind,)))


@settings(max_examples=30, deadline=None, derandomize=True)
@given(wirings())
def test_every_danger_stands_on_the_card_and_at_its_accessory(wiring):
    job = job_of(wiring)
    dangers = [f for f in job.reading.findings if f.gravity == "danger"]
    card, connections = says(*job_to_pages(job, ("card",))), says(*job_to_pages(job, ("connections",)))
    for finding in dangers:
        assert finding.says in card
        assert not finding.accessory or finding.says in connections


@settings(max_examples=30, deadline=None, derandomize=True)
@given(wirings())
def test_any_wiring_gives_every_page(wiring):
    pages = job_to_pages(job_of(wiring))
    assert {page.kind for page in pages} == {kind.name for kind in PAGES if not kind.asked} - {"wiring"}
