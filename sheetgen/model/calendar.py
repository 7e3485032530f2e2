"""Days as people write them: 2026-03-14, 14 March 2026, 14/3/2026; without its day a month is meant."""

from __future__ import annotations

import re
from calendar import monthrange
from datetime import date

MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_ISO = re.compile(r"(?P<year>\d{4})-(?P<month>\d{1,2})(?:-(?P<day>\d{1,2}))?")
_BRITISH = re.compile(r"(?:(?P<day>\d{1,2})(?:st|nd|rd|th)?[ ./-])?(?P<month>\d{1,2}|[a-z]{3,9})[ ./-](?P<year>\d{4})")


class NotADate(ValueError):
    """Words that are no date; the message says why, as a sentence."""


def first_day(words: str) -> date:
    """The day meant, or the first of the month meant. NotADate where there is none."""
    return _days(words)[0]


def last_day(words: str) -> date:
    """The day meant, or the last of the month meant. NotADate where there is none."""
    return _days(words)[1]


def _days(words: str) -> tuple[date, date]:
    words = " ".join(words.casefold().split())
    found = _ISO.fullmatch(words) or _BRITISH.fullmatch(words)
    if found is None:
        raise NotADate(f"'{words}' is not understood as a date.")
    month = found["month"]
    number = int(month) if month.isdecimal() else 1 + MONTHS.index(month[:3]) if month[:3] in MONTHS else 0
    try:
        first = date(int(found["year"]), number, int(found["day"] or 1))
    except ValueError:
        raise NotADate(f"There is no day '{words}' in the calendar.") from None
    return first, first if found["day"] else first.replace(day=monthrange(first.year, first.month)[1])
