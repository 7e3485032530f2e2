"""Tags and notices: both ends of each cable once, and the notices that the circuits need and no other."""

from __future__ import annotations

from dataclasses import replace

from pages.jobs import example, job_of, tables, words

from sheetgen.model.page import Columns, Words
from sheetgen.model.words import MIXED_COLOURS
from sheetgen.pages.job_to_pages import job_to_pages


def page_of(job):
    (page,) = job_to_pages(job, ("tags",))
    return page


def notices(job) -> dict[str, str]:
    """Heading -> text."""
    found = [b for b in page_of(job).blocks if isinstance(b, Columns)]
    blocks = [block for flow in found for group in flow.groups for block in group]
    return {b.lead: b.text for b in blocks if isinstance(b, Words)}


def test_each_end_of_each_cable_has_its_tag():
    (table,) = tables(page_of(example("two-way-conversion")))
    said = [words(cell) for row in table.rows for cell in row if cell]
    assert said == [
        "W1 at the consumer unit, to Stairs. Circuit 2.", "W1 at Stairs, to the consumer unit. Circuit 2.",
        "W2 at Stairs, to Bottom. Circuit 2.", "W2 at Bottom, to Stairs. Circuit 2.",
        "W3 at Bottom, to Top. Circuit 2.", "W3 at Top, to Bottom. Circuit 2.",
    ]
    assert table.boxes == (0, 1, 2, 3)


def test_the_notices_are_those_that_the_circuits_need():
    assert set(notices(example("two-way-conversion"))) == {"RCD"}
    assert notices(example("old-meets-new"))["CAUTION"] == MIXED_COLOURS
    borrowed = notices(example("landing-borrowed-neutral"))
    assert borrowed["WARNING"].startswith("Switch off circuits 5 and 6 together before work on any of them.")


def earthed(name: str, earthing: str):
    job = example(name)
    return job_of(replace(job.wiring, board=replace(job.wiring.board, earthing=earthing)))


def test_on_a_tt_supply_the_notices_have_the_main_switch_off_first():
    """Breaking the line alone does not isolate there: no notice may call circuits switched off enough."""
    shared = notices(earthed("landing-borrowed-neutral", "TT"))
    assert shared["TT SUPPLY"] == ("Before work on any circuit, switch off the main switch and lock it off: on a TT "
                                   "supply breaking the line alone does not isolate.")
    assert shared["WARNING"] == (
        "Switch off the main switch, not only circuits 5 and 6, before work on any of them. The neutral of one carries "
        "current of another and can go live when it is parted.")
    assert "main switch" not in str(notices(earthed("landing-borrowed-neutral", "TN-S")))
    assert "If the supply is TT, first switch off the main switch" in notices(
        earthed("landing-borrowed-neutral", ""))["WARNING"]


def test_without_an_rcd_there_is_no_notice_of_its_test_button():
    job = example("two-way-conversion")
    ways = tuple(replace(way, rcd=None) for way in job.wiring.board.ways)
    bare = job_of(replace(job.wiring, board=replace(job.wiring.board, ways=ways)))
    assert "RCD" not in notices(bare)


def test_tags_are_printed_only_where_they_are_asked_for():
    assert "tags" not in {page.kind for page in job_to_pages(example("two-way-conversion"))}
