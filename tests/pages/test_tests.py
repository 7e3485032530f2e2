"""The tests page: expected readings from the solution, figures from the lengths, boxes to write in."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from circuits import Circuit, strappers
from hypothesis import given, settings
from kept_houses import houses
from pages.jobs import NAMES, blocks_of, example, job_of, says, tables, words

from sheetgen.model.page import Form
from sheetgen.pages.job_to_pages import job_to_pages
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.readings import expected

READS = r"(.+?) (line \d+ V|neutral 0 V|earth 0 V|lamp \d+ V|floating|not known: treat as live)"


def page_of(job):
    """The page."""
    (page,) = job_to_pages(job, ("tests",))
    return page


def readings(job) -> dict[tuple[str, str], list[str]]:
    """(accessory, terminal) -> what is expected there, one for each setting shown."""
    found: dict[tuple[str, str], list[str]] = {}
    names = sorted((a.name for a in job.wiring.accessories), key=len, reverse=True)
    for table in tables(page_of(job)):
        rows = [[words(cell) for cell in row] for row in table.rows]
        if table.head[:2] == ("Switch", "Terminals") or (table.head[0] == "Terminals" and table.head[1] != "At"):
            for row in rows:
                said, *cells = row[table.head.index("Terminals"):]
                at = ""
                for part in re.split(r", | and ", said):
                    at = next((n for n in names if part.startswith(f"{n} ")), at)
                    found[at, part.removeprefix(f"{at} ")] = [cell.removeprefix("☐ ") for cell in cells]
        elif table.head == ("Terminals", "At"):
            for said, places in rows:
                for one in places.split(", "):
                    for part in said.split("; "):
                        terminals, reads = re.fullmatch(READS, part).groups()
                        for terminal in re.split(r", | and ", terminals):
                            found[one.removeprefix("☐\xa0"), terminal] = [reads]
    return found


@settings(max_examples=60, deadline=None, derandomize=True)
@given(houses())
def test_every_terminal_with_a_conductor_has_its_reading(wiring):
    job = job_of(wiring)
    look = Lookup(job)
    found = readings(job)
    for terminal in wiring.nodes():
        if wiring.way(terminal.accessory) or not look.landed(terminal):
            continue
        shown = found[terminal.accessory, look.label(terminal)]
        possible = {expected(c, wiring.board.voltage) for c in job.solution.conditions(terminal)}
        assert set(shown) <= possible
        assert any(text.startswith("line") for text in shown) == any(text.startswith("line") for text in possible)
        if len(possible) == 1:
            assert set(shown) == possible


def test_a_switch_in_a_sound_light_reads_as_the_trade_knows():
    found = readings(example("one-way-loop-in"))
    rose = next(a for a, t in found if t == "loop")
    switch = next(a for a, t in found if t == "COM")
    assert found[rose, "loop"] == ["line 230 V"]
    assert found[switch, "COM"] == ["line 230 V"]
    assert found[switch, "L1"] == ["lamp 0 V", "line 230 V"]
    assert found[rose, "N"] == ["neutral 0 V"] and found[rose, "E"] == ["earth 0 V"]


def test_of_eight_settings_those_are_shown_in_which_the_fan_is_fed():
    found = readings(example("outbuildings"))
    assert "line 230 V" in found["Isolator", "SL out"] and "line 230 V" in found["Fan", "SL"]
    (fan,) = [t for t in tables(page_of(example("outbuildings"))) if "timer" in t.head[1]]
    columns = list(zip(*(row[1:] for row in fan.rows), strict=True))
    assert len(columns) == len(set(columns)) == 4, "no two settings read alike"


@pytest.mark.parametrize("switches", [3, 6])
def test_of_many_switches_four_settings_put_everything_to_line(switches):
    c = Circuit()
    strappers(c, c.way(), "Study", switches)
    job = job_of(c.wiring())
    (table,) = [t for t in tables(page_of(job)) if len(t.head) > 3 and t.head[0] == "Terminals"]
    columns = list(zip(*(row[1:] for row in table.rows), strict=True))
    assert len(columns) == len(set(columns)) == 4
    assert all("\N{BALLOT BOX} line 230 V" in row for row in table.rows)


@pytest.mark.parametrize("name", NAMES)
def test_every_word_of_the_readings_is_explained_and_no_other(name):
    job = example(name)
    used = {text.split()[0] for texts in readings(job).values() for text in texts}
    (meanings,) = [t for t in tables(page_of(job)) if t.head[0] == "Expected"]
    assert {words(row[0]) for row in meanings.rows} == used


@pytest.mark.parametrize("name", NAMES)
def test_every_point_and_way_has_its_boxes_and_limits(name):
    job = example(name)
    look = Lookup(job)
    (points,) = [t for t in tables(page_of(job)) if t.head[0] == "Point"]
    assert [words(row[0]) for row in points.rows] == [p.accessory for p in look.figures.points]
    for row, point in zip(points.rows, look.figures.points, strict=True):
        assert words(row[4]) == ("" if point.r1_r2 is None else f"{point.r1_r2:.2f} \N{OHM SIGN}")
    assert points.boxes == (4, 5, 6)  # expected, with room beside it
    (form,) = [b for b in blocks_of(page_of(job).blocks) if isinstance(b, Form)]
    assert {"Date", "Tested by", "Signature"} <= set(form.labels)


def test_without_lengths_no_figure_is_invented_and_the_lengths_are_asked_for():
    job = example("two-way-line-at-switch")
    bare = job_of(replace(
        job.wiring, cables=tuple(replace(c, length=None) for c in job.wiring.cables),
        board=replace(job.wiring.board, ze=None, ways=tuple(replace(w, device=None) for w in job.wiring.board.ways)),
    ))
    (points,) = [t for t in tables(page_of(bare)) if t.head[0] == "Point"]
    for row in points.rows:
        assert words(row[4]) == "" and words(row[6]) == ""
    text = says(page_of(bare))
    assert "length of W1" in text and "device of circuit 4" in text and "Ze" in text


def test_insulation_is_tested_in_the_settings_that_were_solved_for():
    job = example("two-way-line-at-switch")
    (table,) = [t for t in tables(page_of(job)) if t.head[0] == "Switches at"]
    assert len(table.rows) == len(Lookup(job).figures.insulation.settings)
    assert "Bed switch on" in words(table.rows[0][0])


def test_on_a_tt_supply_the_limit_is_that_of_the_rcd_and_no_share_of_it_is_taken():
    """BS 7671 411.5.3: 50 V over the rated residual current; 50 / 0.1 is 500."""
    page = page_of(example("stock/mill-cottage"))
    (table,) = [t for t in tables(page) if "80 per cent" in t.head]
    assert [words(cell) for cell in table.rows[0][:5]] == [
        "1", "BS 3036 5 A", "500.00 \N{OHM SIGN}: 50 V / 100 mA", "\N{EN DASH}", "100 mA"]
    assert "compare it with 50 V over the rated current of the RCD, which has to open on a TT supply." in says(page)
    assert "compare it with 80 per cent of the table." in says(page_of(example("one-way-loop-in")))
