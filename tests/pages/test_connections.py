"""The connections page: every core at both its ends, with its sleeve, and nothing else."""

from __future__ import annotations

import re
from collections import Counter

from circuits import wirings
from hypothesis import given, settings
from pages.jobs import blocks_of, example, job_of, says, words

from sheetgen.model.page import Heading, Swatch, Table
from sheetgen.model.reading import Standing
from sheetgen.pages.job_to_pages import job_to_pages


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


@settings(max_examples=80, deadline=None, derandomize=True)
@given(wirings())
def test_every_core_is_printed_at_both_its_ends_and_nowhere_else(wiring):
    expected: Counter = Counter()
    for core in wiring.cores():
        for here in core.ends:
            expected[here.accessory.replace("way ", "circuit "), core.cable] += 1
    found: Counter = Counter()
    for (accessory, _, cable, _, _), number in landed(job_of(wiring)).items():
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


@settings(max_examples=60, deadline=None, derandomize=True)
@given(wirings())
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
