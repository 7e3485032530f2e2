"""The connections page: every core at both its ends, with its sleeve, and nothing else."""

from __future__ import annotations

import re
from collections import Counter

import pytest
from hypothesis import given, settings
from kept_houses import houses, one_process
from pages.jobs import EXAMPLES, NAMES, blocks_of, example, job_of, says, words

from sheetgen.model.page import Columns, Heading, Page, Swatch, Table, Words
from sheetgen.model.reading import Standing
from sheetgen.pages.job_to_pages import job_to_pages
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.sleeves import sleeves_to_fit
from sheetgen.pipeline import Look, style_of, wiring_of
from sheetgen.print.pdf.columns import ColumnFlow, FilledColumns
from sheetgen.print.pdf.frames import paper_of
from sheetgen.print.pdf.pieces import Framed, Paragraph
from sheetgen.print.pdf.placing import place_pages
from sheetgen.print.pdf.typesetting import Typesetting


def landed(job) -> Counter:
    """(accessory, terminal as printed, cable, core, where it goes) of every row that has a core."""
    (page,) = job_to_pages(job, ("connections",))
    found: Counter = Counter()
    accessory = terminal = ""
    for block in blocks_of(page.blocks):
        if isinstance(block, Heading):
            accessory = block.text
        if isinstance(block, Table):
            for row in block.rows:
                terminal = words(row[0]) or terminal
                if isinstance(row[1], Swatch):
                    cables, core = cables_of(job, row[1].text)
                    for cable in cables:
                        found[accessory, terminal, cable, core, words(row[2])] += 1
    return found


def cables_of(job, said: str) -> tuple[list[str], str]:
    """The cables named at the head of a row, and what is said of their core: 'W1, W2 and W6 bare'."""
    cables = []
    names = sorted((c.name for c in job.wiring.cables), key=len, reverse=True)
    while True:
        cables.append(next(name for name in names if re.match(rf"{re.escape(name)}(,| )", said)))
        said = said.removeprefix(cables[-1])
        if not said.startswith((", ", " and ")):
            return cables, said.strip()
        said = re.sub("^(, | and )", "", said)


@one_process
@settings(max_examples=80, deadline=None, derandomize=True)
@given(houses())
def test_every_core_is_printed_at_both_its_ends_and_nowhere_else(wiring):
    expected: Counter = Counter()
    for core in wiring.cores():
        for here in core.ends:
            expected[here.accessory.replace("way ", "circuit "), core.cable] += 1
    found: Counter = Counter()
    for (accessory, terminal, cable, _, _), number in landed(job_of(wiring)).items():
        if terminal != "passes uncut":
            found[accessory, cable] += number
    assert found == expected


def swatches(page) -> list[Swatch]:
    """Every piece of conductor in the tables."""
    return [row[1] for b in blocks_of(page.blocks) if isinstance(b, Table) for row in b.rows
            if isinstance(row[1], Swatch)]


def test_a_core_stands_beside_its_terminal_and_says_where_it_goes():
    found = landed(example("two-way-line-at-switch"))
    assert found["Hall", "L2", "W3", "BU blue (RD)", "Top L2"] == 1
    assert found["Top", "L2", "W3", "BU blue (RD)", "Hall L2"] == 1
    assert found["Top", "L2", "W4", "RD red", "Landing SL"] == 1


def test_cpcs_that_look_alike_and_go_to_terminals_of_one_name_share_a_line():
    found = landed(example("bungalow"))
    assert [key for key in found if key[:2] == ("Bedroom 2", "E")] == [
        ("Bedroom 2", "E", "W6", "bare (GNYE)", "E of Bedroom 1 and Bed 2 switch"),
        ("Bedroom 2", "E", "W13", "bare (GNYE)", "E of Bedroom 1 and Bed 2 switch")]


def test_cores_that_end_in_nothing_are_listed():
    found = landed(example("landing-borrowed-neutral"))
    assert found["Top", "on nothing", "W6", "BK black", "Landing, on nothing"] == 1


def test_terminals_of_a_plate_are_named_by_their_gang():
    found = landed(example("landing-borrowed-neutral"))
    assert found["Hall", "landing L1", "W4", "YE yellow (RD)", "Top L1"] == 1
    assert found["Hall", "light COM", "W3", "RD red", "landing COM, here"] == 1


@one_process
@settings(max_examples=60, deadline=None, derandomize=True)
@given(houses())
def test_the_sleeves_to_fit_are_counted_and_marked(wiring):
    job = job_of(wiring)
    (page,) = job_to_pages(job, ("connections",))
    missing = sum(s.standing is Standing.MISSING for s in job.reading.sleeves)
    wrong = sum(s.standing is Standing.WRONG for s in job.reading.sleeves)
    lines = says(page).splitlines()
    told = [(len(cables_of(job, b.text)[0]), b.text) for b in swatches(page)]
    assert sum(number for number, text in told if text.endswith(" to fit")) == missing
    assert sum(number for number, text in told if ", should be " in text) == wrong
    opening = next(line for line in lines if line.startswith("Sleeves."))
    assert opening.startswith(f"Sleeves. {missing + wrong} to fit: " if missing + wrong else "Sleeves. None to fit")


def test_an_empty_terminal_is_said_to_be_empty():
    (page,) = job_to_pages(example("two-way-line-at-switch"), ("connections",))
    rows = [[words(c) for c in row] for b in blocks_of(page.blocks) if isinstance(b, Table) for row in b.rows]
    assert ["COM", "empty", "", ""] not in rows
    assert all(len(row) == 4 for row in rows)
    (page,) = job_to_pages(example("bungalow"), ("connections",))
    rows = [[words(c) for c in row] for b in blocks_of(page.blocks) if isinstance(b, Table) for row in b.rows]
    assert not any("empty" in row[1] for row in rows if row[0] in ("loop", "COM"))


def columns_on_paper(*pages: Page) -> list[list]:
    """The pieces in every column, sheet by sheet."""
    style = style_of(Look())
    return [[piece for group in column for piece in group.pieces]
            for sheet in place_pages(pages, Typesetting(style), paper_of(style)) for _, _, flow in sheet.placed
            if isinstance(flow, ColumnFlow | FilledColumns) for column in flow.columns if column]


def text_in(paragraph: Paragraph) -> str:
    return " ".join(segment.text for line in paragraph.lines for segment in line)


@pytest.mark.parametrize("name", NAMES)
def test_no_column_begins_with_rows_of_nobody_nor_ends_with_a_warning(name):
    job = example(name)
    columns = columns_on_paper(*job_to_pages(job, ("connections",)))
    names = [text_in(piece) for column in columns for piece in column if getattr(piece, "heading", False)]
    assert len(names) == len(job.wiring.accessories), "each accessory whole, under its name once"
    assert all(column[0].heading and not isinstance(column[-1], Framed) for column in columns)


def test_where_a_page_begins_low_an_accessory_waits_for_the_next_sheet():
    rows = tuple((f"L{i}", "W1 BN", "", "") for i in range(12))
    above = Page("tests", "Above", tuple(Words(f"Line {i}.") for i in range(38)))
    groups = tuple((Heading(f"Rose {i}", 3), Words("Isolate both.", "danger"), Table(("",) * 4, rows, plain=True))
                   for i in range(5))
    below = Page("connections", "Connections", (Columns(groups, whole=True),), follows=True)
    columns = columns_on_paper(above, below)
    assert sum(len(column) for column in columns) == 15, "nothing parted"
    assert [text_in(column[0]) for column in columns] != []
    assert all(column[0].heading and not isinstance(column[-1], Framed) for column in columns)


def test_what_is_higher_than_any_column_goes_on_below_its_name():
    rows = tuple((f"L{i}", "W1 BN", "", "") for i in range(140))
    group = (Heading("Attic", 3, "joint box"), Words("Isolate both.", "danger"), Table(("",) * 4, rows, plain=True))
    columns = columns_on_paper(Page("connections", "Connections", (Columns((group,), whole=True),)))
    first, *others = [text_in(column[0]) for column in columns]
    assert first == "Attic joint box"
    assert others and set(others) == {"Attic continued"}
    assert sum(len(column[-1].rows) for column in columns) == 140


def test_of_what_is_only_proposed_every_sleeve_is_to_be_fitted():
    text = (EXAMPLES / "two-way-conversion.yaml").read_text(encoding="utf-8")
    (page,) = job_to_pages(job_of(wiring_of(text.replace("job:", "status: proposed\njob:", 1))), ("connections",))
    assert "Sleeves. 12 to fit: 6 brown and 6 green-and-yellow." in says(page)


def test_the_danger_of_a_lamp_stands_at_the_rose_too_where_the_hand_goes():
    page = next(p for p in job_to_pages(example("landing-borrowed-neutral")) if p.kind == "connections")
    under, name = {}, ""
    for block in blocks_of(page.blocks):
        name = block.text if isinstance(block, Heading) else name
        if isinstance(block, Words) and block.lead == "Danger.":
            under.setdefault(name, []).append(block.text)
    says = ("Landing lamp takes its line from circuit 5 (Downstairs lights) and returns its neutral to circuit 6 "
            "(Upstairs lights).")
    assert under == {"Landing": [says], "Landing lamp": [says]}


MARKED_WRONG = """
job: Old house
board: {earthing: TN-S, ways: {7: {serves: Lights, device: type B 6 A, rcd: 30 mA}}}
colours: legacy
accessories:
  Rose: {kind: ceiling rose, lamp: 8 W}
  Door: {kind: one-way switch}
cables:
  W1: {type: twin and earth 1.0, from: way 7, to: Rose, cores: {red: [L, loop], black: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Rose, to: Door, cores: {red: [loop, COM], black: [SL, L1], cpc: [E, E]},
       sleeved: {red: black, black: blue}}
"""


def test_a_sleeve_on_a_core_that_its_own_colour_marks_comes_off_and_none_is_fitted_in_its_place():
    job = job_of(wiring_of(MARKED_WRONG))
    said = "\n".join(says(page) for page in job_to_pages(job, ("wiring", "connections", "cables", "findings")))
    assert said.count("W2 RD, BK sleeve, to come off") == 2 and said.count("W2 BK, BU sleeve, should be RD") == 2
    assert "Take it off at Rose loop and Door COM." in said
    assert "2 \N{MULTIPLICATION SIGN} red sleeve" in said
    assert sleeves_to_fit(Lookup(job)).startswith("2 to fit: 2 red.")
    assert sleeves_to_fit(Lookup(job)).endswith("2 to come off.")
