"""What somebody saw and measured stands on the sheet in their words, and is said where it answers what is not known."""

from __future__ import annotations

import pytest
from pages.jobs import EXAMPLES, job_of, says

from sheetgen.model.page import Page
from sheetgen.pages import SHORT
from sheetgen.pages.job_to_pages import job_to_pages
from sheetgen.pipeline import wiring_of

FINDING_OUT = EXAMPLES / "finding-out"


def pages(name: str, *kinds: str, also: str = "") -> tuple[Page, ...]:
    text = (FINDING_OUT / f"{name}.yaml").read_text(encoding="utf-8") + also
    return job_to_pages(job_of(wiring_of(text)), kinds or ("seen",))


def seen(name: str, also: str = "") -> list[str]:
    return says(*pages(name, also=also)).splitlines()


def test_what_was_seen_and_measured_is_on_the_sheet() -> None:
    assert seen("dead-light") == [
        "What was seen", "Porch dead.", "Nothing trips.", "The rest works.",
        "Measured with the supply off: circuit 3 L to Box L closed.",
        "Measured with the supply off: circuit 3 N to Box N closed.",
        "As the description tells it, drawn by B. Sparks, 2026-05-23. The other pages are worked out from the wiring "
        "as it is drawn: where this differs, something is wrong there."]


def test_how_a_reading_was_taken_is_told() -> None:
    also = """readings:
  - {between: [c/red, c/black], reads: changes}
  - {between: [Hall COM, Hall L1], reads: open, with: {Hall: L2}}
  - {between: [e/red, e/blue], joined: [f/red, f/blue], reads: closed}
  - {between: [b/red, b/black], reads: voltage}
"""
    assert [line for line in seen("half-known", also) if line.startswith("Measured")] == [
        "Measured with the supply off: c/red to c/black changes, a switch being worked meanwhile.",
        "Measured with the supply off: Hall COM to Hall L1 open, with Hall at L2.",
        "Measured with the supply off: e/red to e/blue closed, with f RD joined to f BU by hand.",
        "Measured with the supply on: b/red to b/black voltage."]
    off = "  - {between: [W3/red, W3/black], off: Hall, reads: open}\n"
    assert seen("dead-light", off)[6] == (
        "Measured with the supply off: W3/red to W3/black open, with its cores off their terminals at Hall.")


def test_nothing_seen_is_no_page_and_the_short_sheet_has_it() -> None:
    assert pages("opened-rose") == ()
    assert "seen" in SHORT


@pytest.mark.parametrize(("name", "told"), [
    ("box-in-the-loft", "Door works Back, as was seen. How they are wired is not known: core ends are not known."),
    ("half-known", "Hall and Top work Landing lamp, as was seen. How they are wired is not known: core ends are not "
                   "known."),
])
def test_what_works_a_lamp_is_said_where_it_was_seen_though_no_core_is_traced(name: str, told: str) -> None:
    said = says(*pages(name, "operation"))
    assert told in said and "What works" not in said
    assert ("What Bedroom does is not known: core ends are not known." in said) == (name == "half-known")
