"""The cables page: the whole schedule, and exact totals of what is given."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from hypothesis import given, settings
from kept_houses import houses, one_process
from pages.jobs import blocks_of, example, job_of, says, tables, words

from sheetgen.model.page import Heading
from sheetgen.model.reading import Standing
from sheetgen.pages.cables import laid
from sheetgen.pages.job_to_pages import job_to_pages
from sheetgen.pipeline import wiring_of


def page_of(job):
    """The page."""
    (page,) = job_to_pages(job, ("cables",))
    return page


def schedule(job):
    """The rows of every cable."""
    return [row for t in tables(page_of(job)) if t.head[0] == "Cable" for row in t.rows]


def together(job) -> dict[str, str]:
    """What is said of the pieces of a type, by its heading."""
    return {b.text: b.note for b in blocks_of(page_of(job).blocks) if isinstance(b, Heading) and b.note}


@one_process
@settings(max_examples=40, deadline=None, derandomize=True)
@given(houses())
def test_every_cable_is_in_the_schedule_with_both_its_ends(wiring):
    rows = [tuple(words(c) for c in row) for row in schedule(job_of(wiring))]
    said = [(c.name, *(end.replace("way ", "circuit ") for end in c.ends)) for c in wiring.cables]
    assert sorted(row[:3] for row in rows) == sorted(said)


def test_lengths_are_added_by_type_and_those_not_given_are_counted():
    job = example("bungalow")
    shortened = tuple(replace(c, length=None) if c.name == "W1" else c for c in job.wiring.cables)
    totals = together(job)
    assert totals["three-core and earth 1.5 mm², cpc 1.0 mm²"] == "1 piece, 8 m"
    metres = sum((c.length for c in job.wiring.cables if c.type == "twin and earth"), Fraction(0))
    number = sum(c.type == "twin and earth" for c in job.wiring.cables)
    assert totals["twin and earth 1.5 mm², cpc 1.0 mm²"] == f"{number} pieces, {metres} m together"
    assert totals["two-core flex 0.75 mm²"].endswith("pieces")
    short = job_of(replace(job.wiring, cables=shortened))
    less = together(short)
    says_less = f"{number} pieces, {metres - 5} m and 1 length not measured"
    assert less["twin and earth 1.5 mm², cpc 1.0 mm²"] == says_less
    (table,) = [t for t in tables(page_of(short)) if any(words(row[0]) == "W1" for row in t.rows)]
    assert table.boxes == (3,) and next(row[3] for row in table.rows if row[0] == "W1") == ""


def test_ratings_are_printed_with_their_table():
    job = example("bungalow")
    rows = {words(r[0]): [words(c) for c in r] for r in schedule(job)}
    assert rows["W1"][5] == "13 A"  # BS 7671 Table 4D5: 1.5 mm2, method 101
    assert rows["W7"][5] == "20 A"  # the same, method C
    assert "BS 7671 Table 4D5, method 101" in says(page_of(job))


def test_how_a_cable_is_laid_is_said_or_asked_for():
    cables = {c.name: c for c in example("landing-borrowed-neutral").wiring.cables}
    assert laid(cables["W3"]) == "inside the accessory"
    assert laid(cables["W1"]) == "\N{EN DASH}"
    assert laid(replace(cables["W1"], method="C", run_in="trunking")) == "in trunking, method C"


def test_sleeves_to_take_along_are_named_by_their_place():
    job = example("old-meets-new")
    missing = [s for s in job.reading.sleeves if s.standing is Standing.MISSING]
    text = says(page_of(job))
    assert missing
    assert "W2 BK at Sitting room SL" in text and "2 \N{MULTIPLICATION SIGN} red sleeve" in text
    assert "Sleeving needed" not in says(page_of(example("bungalow")))


def test_what_a_cable_carries_of_which_an_end_is_not_known_is_not_known():
    rows = {words(row[0]): words(row[-1]) for row in schedule(example("finding-out/half-known"))}
    assert rows == dict.fromkeys(("a", "b", "c", "d", "e", "f", "Flex 1"), "not known")
    assert {words(row[-1]) for row in schedule(example("stock/mill-cottage"))} == {"0.03 A"}


def test_sleeves_of_cores_that_nobody_has_traced_are_not_known_yet():
    """c BK is SL at the rose: it needs a sleeve if it is what it looks like."""
    job = example("finding-out/half-known")
    assert "Cores not traced: what is to be fitted is not known yet for them." in says(page_of(job))
    (connections,) = job_to_pages(job, ("connections",))
    assert "Sleeves. To fit: not known yet. 6 assumed fitted." in says(connections)
    (known,) = job_to_pages(example("stock/mill-cottage"), ("connections",))
    assert "Sleeves. None to fit. 2 fitted." in says(known)
    assert "not known yet" not in says(page_of(example("stock/mill-cottage")))


def test_sleeves_that_are_known_to_be_needed_are_counted_beside_those_that_are_not_known():
    job = job_of(wiring_of(PART_KNOWN))
    (connections,) = job_to_pages(job, ("connections",))
    assert "Sleeves. 4 to fit: 2 black and 2 red. Where cores are not traced: not known yet." in says(connections)


PART_KNOWN = b"""job: A light and a cable that goes on
board: {ways: {1: {device: type B 6 A}}}
colours: legacy
accessories:
  Lamp: {kind: light fitting, class: II, lamp: 8 W}
  Box: {kind: joint box, terminals: [L, N, X]}
cables:
  W1: {type: twin 1.0, from: way 1, to: Lamp, cores: {red: [N, N], black: [L, L]}}
  W2: {type: twin 1.0, at: Box, cores: {red: L, black: X}}
"""
