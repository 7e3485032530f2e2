"""The report, the notes and the place of the board in a description; dates as people write them."""

from __future__ import annotations

from datetime import date

import jsonschema
import pytest
from pages.jobs import says

from sheetgen.model.calendar import NotADate, first_day, last_day
from sheetgen.model.job import Job
from sheetgen.model.wiring import Report
from sheetgen.pages.job_to_pages import job_to_pages
from sheetgen.pipeline import judged, schema, style_of, wiring_of, written_out

HALL = "job: Hall\nreport: {number: R 12, date: 14 March 2026, next due: 2031-03}\nboard: {where: Under the stairs}\n" \
       "notes: [Meter in the porch]\nlights: [Hall]\nswitches: [Hall]\nmethod: {loop: at the rose}\n"


def test_the_report_is_kept_as_it_is_written() -> None:
    wiring = wiring_of(HALL)
    assert wiring.report == Report("R 12", "14 March 2026", "2031-03")
    assert wiring.board.where == "Under the stairs" and wiring.notes == ("Meter in the porch",)
    assert wiring_of("job: Hall\nlights: [Hall]\nswitches: [Hall]\nmethod: {loop: at the rose}\n").report == Report()


def test_writing_out_loses_nothing_of_it() -> None:
    assert wiring_of(written_out(HALL)).report == Report("R 12", "14 March 2026", "2031-03")


def card_of(text: str) -> str:
    solved, reading = judged(text)
    (page, *_) = job_to_pages(Job(solved.wiring, solved.solution, reading, sets=style_of().sets), ("card",))
    return says(page)


def test_the_card_says_the_number_of_the_report_and_when_the_next_inspection_is_due() -> None:
    assert "Last inspection report: R 12, 14 March 2026. Next inspection due 2031-03." in card_of(HALL)
    due = HALL.replace("number: R 12, date: 14 March 2026, ", "")
    assert "Inspection: Next inspection due 2031-03." in card_of(due)
    assert "nspection report:" not in card_of(HALL.replace("report:", "#")) and "due" not in card_of(
        HALL.replace("report:", "#"))


def test_the_schema_knows_the_keys_and_no_others() -> None:
    check = jsonschema.Draft202012Validator(schema()).validate
    check({"job": "Hall", "report": {"number": 12, "date": "2026-03-14", "next due": "2031"}, "notes": ["A", "B"],
           "board": {"where": "Hall"}})
    with pytest.raises(jsonschema.ValidationError):
        check({"job": "Hall", "report": {"next_due": "2031-03-14"}})


@pytest.mark.parametrize(("words", "first", "last"), [
    ("2026-03-14", date(2026, 3, 14), date(2026, 3, 14)), ("14/3/2026", date(2026, 3, 14), date(2026, 3, 14)),
    ("2nd  FEBRUARY 2028", date(2028, 2, 2), date(2028, 2, 2)), ("Feb 2028", date(2028, 2, 1), date(2028, 2, 29)),
    ("2027-02", date(2027, 2, 1), date(2027, 2, 28)), ("12.2026", date(2026, 12, 1), date(2026, 12, 31)),
])
def test_days_and_months(words: str, first: date, last: date) -> None:
    assert (first_day(words), last_day(words)) == (first, last)


@pytest.mark.parametrize("words", ["", "soon", "2026", "29 February 2027", "2026-13-01", "0/5/2026", "14 Foo 2026"])
def test_what_is_no_date(words: str) -> None:
    with pytest.raises(NotADate):
        last_day(words)
