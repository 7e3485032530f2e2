"""Description to Wiring: names get meaning, and every problem is found at once.

Refused carries all problems of the text, those of shape found earlier included, in file order.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date

from sheetgen.model.description import Description
from sheetgen.model.problems import Refused
from sheetgen.model.style import ColourSet
from sheetgen.model.wiring import Status, Wiring
from sheetgen.read.description_to_wiring.accessories import accessories_of
from sheetgen.read.description_to_wiring.board import board_of
from sheetgen.read.description_to_wiring.by_method import lay_methods
from sheetgen.read.description_to_wiring.cables import cables_of
from sheetgen.read.description_to_wiring.ledger import DEFAULT_COLOURS, Ledger
from sheetgen.read.description_to_wiring.seen import with_what_was_seen


def description_to_wiring(description: Description, sets: Mapping[str, ColourSet]) -> Wiring:
    """Resolve a description against the catalogues and the colour sets known."""
    ledger = Ledger(description, sets)
    content = description.content
    colours = ledger.colour_set(content.colours, "colours") or DEFAULT_COLOURS
    lay_methods(ledger, colours)
    board, ways = board_of(ledger)
    accessories, flexes = accessories_of(ledger, ways)
    cables, accessories = cables_of(ledger, accessories, colours)
    _drawn_on(ledger)
    ledger.nothing_to_draw(cables + flexes)
    wiring = Wiring(
        job=content.job,
        accessories=accessories,
        cables=cables + flexes,
        board=board,
        place=content.place,
        drawn_by=content.drawn.by,
        drawn_on=content.drawn.on,
        colours=colours,
        notes=tuple(content.notes),
        status=Status(content.status) if content.status else None,
    )
    wiring = with_what_was_seen(wiring, content.seen, content.readings, ledger)
    if ledger.problems:
        raise Refused(dict.fromkeys(ledger.problems))
    return wiring


MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_ISO = re.compile(r"(?P<year>\d{4})-(?P<month>\d{1,2})(?:-(?P<day>\d{1,2}))?")
_BRITISH = re.compile(r"(?:(?P<day>\d{1,2})(?:st|nd|rd|th)?[ ./-])?(?P<month>\d{1,2}|[a-z]{3,9})[ ./-](?P<year>\d{4})")


def _drawn_on(ledger: Ledger) -> None:
    """The day on which the sheet was drawn has to be one of the calendar: 2026-03-14, 14 March 2026, 14/3/2026."""
    words = " ".join(ledger.description.content.drawn.on.casefold().split())
    if not words:
        return
    found = _ISO.fullmatch(words) or _BRITISH.fullmatch(words)
    hint = "Write it as in 2026-03-14."
    if found is None:
        ledger.note(("drawn", "on"), "E325", f"'{words}' is not understood as a date.", hint)
        return
    month = found["month"]
    number = int(month) if month.isdecimal() else 1 + MONTHS.index(month[:3]) if month[:3] in MONTHS else 0
    try:
        date(int(found["year"]), number, int(found["day"] or 1))
    except ValueError:
        ledger.note(("drawn", "on"), "E325", f"There is no day '{words}' in the calendar.", hint)
