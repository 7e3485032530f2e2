"""The gallery as a PDF to print: every arrangement, found by contents and bookmarks; no sheet left half empty."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from commands.runs import files_in, run
from methods.test_gallery import SHOWN
from pypdfium2 import PdfDocument

NUMBERS = {1: "one switch", 2: "two switches", 3: "three switches"}
CHAPTERS = ["At the rose", "At the switch", "At a joint box", "Line at the switches", "Three switches"]
HEAD, FOOT = 0.09, 0.93  # shares of the height of a sheet: between them stands what is not its edge


def name_of(c) -> str:
    place = f", looped {c.loop}" if c.switches == 3 else ""
    return f"{c.join.capitalize()}{place}, {NUMBERS[c.switches]}, {c.wired}"


def chapter_of(c) -> str:
    return "Three switches" if c.switches == 3 else c.loop.capitalize()


@pytest.fixture(scope="module")
def gallery(tmp_path_factory: pytest.TempPathFactory) -> PdfDocument:
    folder = tmp_path_factory.mktemp("gallery")
    assert run("gallery", "-o", folder).exit_code == 0 and files_in(folder) == ["wiring-methods.pdf"]
    return PdfDocument((folder / "wiring-methods.pdf").read_bytes())


def words_of(gallery: PdfDocument) -> list[str]:
    return [" ".join(page.get_textpage().get_text_bounded().split()) for page in gallery]


def bookmarks(gallery: PdfDocument) -> list[tuple[int, str, int]]:
    """Level, words and sheet of every bookmark; those of a chapter stand below it."""
    return [(b.level, b.get_title(), b.get_dest().get_index() + 1) for b in gallery.get_toc()]


def test_every_arrangement_has_a_bookmark_below_its_chapter(gallery: PdfDocument) -> None:
    marks = bookmarks(gallery)
    assert [words for level, words, _ in marks if level == 0] == ["Contents", *CHAPTERS]
    found, chapter = [], ""
    for level, words, _ in marks:
        chapter = words if level == 0 else chapter
        if level:
            found.append((chapter, words))
    assert sorted(found) == sorted((chapter_of(c), name_of(c)) for c in SHOWN)


def test_contents_and_bookmarks_lead_to_the_sheet_on_which_it_stands(gallery: PdfDocument) -> None:
    sheets = words_of(gallery)
    for level, words, sheet in bookmarks(gallery):
        if level:
            assert words in sheets[sheet - 1] and sheets[sheet - 1].endswith(f"page {sheet} of {len(sheets)}")
    listed = re.findall(r"([A-Z][a-z ,-]+ (?:cable|conduit)) (\d+)", sheets[0])
    assert sorted(listed) == sorted((words, str(sheet)) for level, words, sheet in bookmarks(gallery) if level)


def test_no_sheet_is_half_empty(gallery: PdfDocument) -> None:
    """Ink reaches down beyond the middle of what a sheet has between its head and its foot, and to both sides."""
    for page in gallery:
        picture = page.render(scale=0.4).to_pil().convert("L").point(lambda grey: 255 * (grey < 200))
        width, height = picture.size
        left, _, right, low = picture.crop((0, int(HEAD * height), width, int(FOOT * height))).getbbox()
        assert low > 0.55 * (FOOT - HEAD) * height
        assert left < 0.35 * width and right > 0.65 * width


def test_a_paragraph_says_what_it_takes_and_where_line_and_neutral_are(gallery: PdfDocument) -> None:
    """Counted on the drawings: a feed and a drop of twin and earth, one three-core; only the rose has both. Line,
    neutral, switched line and two cpcs are five singles."""
    said = " ".join(words_of(gallery))
    assert ("line and switched line are on the strappers. It takes 2 twin and earth and 1 three-core and earth. "
            "Landing has both permanent line and neutral, as a sensor or timer may need.") in said
    assert "It takes 5 singles. No accessory has both permanent line and neutral" in said


def test_it_is_printed_in_old_colours_too(tmp_path: Path) -> None:
    assert run("gallery", "--colours", "legacy", "--mono", "-o", tmp_path).exit_code == 0
    said = " ".join(words_of(PdfDocument((tmp_path / "wiring-methods.pdf").read_bytes())))
    assert "RD W1" in said and "BN W1" not in said
    assert not re.search(r"\bas found\b|drawn by|not given", said, re.IGNORECASE)
    assert "Examples of wiring methods: no record of any wiring." in said and "This is a wiring record" not in said
