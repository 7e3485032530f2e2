"""What nobody told is printed as not told: no number of a circuit is made up, no core end is called dead."""

from __future__ import annotations

import pytest
from pages.jobs import EXAMPLES, job_of, says, tables, words

from sheetgen.pages.job_to_pages import job_to_pages
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.sleeves import sleeves_to_fit
from sheetgen.pipeline import wiring_of, written_out

ROSE = (EXAMPLES / "finding-out" / "opened-rose.yaml").read_bytes()
LAID = b"""job: A light
colours: current
method: {loop: at the rose}
lights: [Hall]
switches: [Hall]
"""


def every_page(text: bytes) -> str:
    kinds = ("card", "findings", "method", "connections", "cables", "tests", "tags")
    return says(*job_to_pages(job_of(wiring_of(text)), kinds))


@pytest.mark.parametrize("text", [ROSE, LAID], ids=["found", "laid"])
def test_a_circuit_whose_number_nobody_told_has_none_on_paper(text: bytes) -> None:
    said = every_page(text)
    assert "circuit 1" not in said.casefold()
    assert ("Find everything that feeds it: the number of its circuit is not given, so find by test which one at the "
            "consumer unit it is. Look for a second circuit in the same box.") in said
    assert ("Switch off the circuit found, or withdraw its fuse with the main switch off. Where it is not certain "
            "which it is, switch off and lock off the main switch.") in said
    assert "Circuit, number not given" in said


def test_the_number_of_a_circuit_that_is_not_given_is_a_box_to_write_it_in() -> None:
    pages = job_to_pages(job_of(wiring_of(ROSE)), ("tests",))
    (table,) = [t for page in pages for t in tables(page) if t.head[0] == "Circuit"]
    assert table.rows[0][0] == "" and 0 in table.boxes


@pytest.mark.parametrize("told", [
    ROSE.replace(b"colours:", b"board:\n  ways:\n    1:\ncolours:", 1),
    ROSE.replace(b"at: Landing", b"at: way 1", 1).replace(b"red: nothing, black: nothing, cpc: nothing",
                                                         b"red: L, black: N, cpc: E", 1),
    LAID + b"way: 1\n",
    ROSE + b"seen: [circuit 1 trips]\n",
], ids=["on the board", "at a cable", "of a method", "seen"])
def test_a_number_that_the_description_says_is_printed(told: bytes) -> None:
    assert "Circuit 1" in every_page(told)


def test_a_terminal_called_way_1_tells_no_number_of_a_circuit() -> None:
    text = ROSE.replace(b"Landing: {kind: ceiling rose, room: Landing}",
                        b"Landing: {kind: ceiling rose, room: Landing}\n  Hall: {kind: two-way switch}")
    text += b"readings:\n  - {between: [Hall way 1, a/red], reads: closed}\n"
    assert "circuit 1" not in every_page(text).casefold()


def test_a_loose_end_is_live_on_paper_while_nobody_has_seen_its_other_end() -> None:
    (card, *_) = job_to_pages(job_of(wiring_of(ROSE)), ("card",))
    (table,) = [t for t in tables(card) if t.head[0] == "At"]
    assert [[words(c) for c in row] for row in table.rows] == [
        ["Landing", "N (?), loop (?), E (?), SL (?), loose ends of a, b, c and d (?)", "\N{EN DASH}"],
        ["Landing lamp", "L (?), N (?)", "\N{EN DASH}"]]


def test_of_a_rose_whose_cores_were_taken_off_nothing_is_said_but_that_it_is_not_known() -> None:
    said = every_page(ROSE)
    assert "What works Landing lamp is not known: core ends are not known." in said
    assert "never lit" not in said and "cut off" not in said and "no line and no neutral" not in said


def test_no_sleeve_is_none_to_fit_on_a_core_that_nobody_has_traced() -> None:
    assert sleeves_to_fit(Lookup(job_of(wiring_of(ROSE)))) == "To fit: not known yet."


def test_what_a_method_lays_is_written_out_without_a_number_that_nobody_gave() -> None:
    assert "from: board, to: Hall" in written_out(LAID) and "way 1" not in written_out(LAID)
    assert "from: way 1, to: Hall" in written_out(LAID + b"way: 1\n")


def test_an_accessory_that_was_not_opened_is_among_the_terminals_to_test() -> None:
    pages = job_to_pages(job_of(wiring_of((EXAMPLES / "finding-out" / "half-known.yaml").read_bytes())), ("tests",))
    rows = [[words(c) for c in row] for page in pages for t in tables(page) if t.head[-1] == "At" for row in t.rows]
    assert ["not opened: treat every terminal as live", "Bedroom"] in rows


def test_the_class_of_a_light_that_is_given_is_printed_at_its_terminals() -> None:
    text = b"""job: Yard
colours: current
accessories: {Light: {kind: light fitting, class: II, room: Yard}}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Light, cores: {BN: [L, L], BU: [N, N], cpc: [E, E]}}
"""
    for given, printed in ((text, "light fitting, class II, Yard"), (text.replace(b"II", b"I"), "light fitting, Yard")):
        assert printed in says(*job_to_pages(job_of(wiring_of(given)), ("connections",))).splitlines()
