"""Description to Wiring: names get meaning, and every problem is found at once.

Refused carries all problems of the text, those of shape found earlier included, in file order.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from sheetgen.model.calendar import NotADate, last_day
from sheetgen.model.description import Description
from sheetgen.model.problems import Problem, Refused
from sheetgen.model.style import ColourSet
from sheetgen.model.wiring import Report, Wiring
from sheetgen.read.description_to_wiring.accessories import accessories_of
from sheetgen.read.description_to_wiring.board import board_of
from sheetgen.read.description_to_wiring.by_method import lay_methods, status_of
from sheetgen.read.description_to_wiring.cables import cables_of
from sheetgen.read.description_to_wiring.ledger import DEFAULT_COLOURS, Ledger
from sheetgen.read.description_to_wiring.seen import with_what_was_seen


def description_to_wiring(description: Description, sets: Mapping[str, ColourSet], to_teach: bool = False) -> Wiring:
    """Resolve a description against the catalogues and the colour sets known; `to_teach` lays bad practice too."""
    wiring, problems = as_far_as_understood(description, sets, to_teach)
    if problems:
        raise Refused(problems)
    return wiring


def as_far_as_understood(description: Description, sets: Mapping[str, ColourSet],
                         to_teach: bool = False) -> tuple[Wiring, tuple[Problem, ...]]:
    """What is understood of a description, and its problems. With problems the wiring is for showing only: a core whose
    terminal is not understood is on none."""
    ledger = Ledger(description, sets, to_teach)
    content = description.content
    colours = ledger.colour_set(content.colours, "colours") or DEFAULT_COLOURS
    laid = lay_methods(ledger, colours)
    board, ways = board_of(ledger, content)
    accessories, flexes = accessories_of(ledger, ways)
    cables, accessories = cables_of(ledger, accessories, colours)
    _day(ledger, content.drawn.on, ("drawn", "on"))
    report = _report_of(ledger)
    cables = tuple(replace(cable, assumed=cable.name in laid.cables.keys() - content.cables) for cable in cables)
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
        status=status_of(ledger.description.content, laid),
        report=report,
        bad_practice=tuple(dict.fromkeys(ledger.warnings)),
    )
    wiring = with_what_was_seen(wiring, content.seen, content.readings, ledger)
    return wiring, tuple(dict.fromkeys(ledger.problems))


def _report_of(ledger: Ledger) -> Report:
    """What the landlord files beside the sheet; the next report is not due before the one there is."""
    text = ledger.description.content.report
    if text is None:
        return Report()
    made = _day(ledger, text.date, ("report", "date"))
    due = _day(ledger, text.next_due, ("report", "next due"))
    if made and due and due < made:
        ledger.note(("report", "next due"), "E329", "The next report is due before the date of this one.",
                    "Look at both dates.")
    return Report(text.number, text.date, text.next_due)


def _day(ledger: Ledger, words: str, path: tuple[str, ...]) -> date | None:
    """The last day that is meant; None, with the problem noted, where there is no such day in the calendar."""
    try:
        return last_day(words) if words.strip() else None
    except NotADate as wrong:
        ledger.note(path, "E325", str(wrong), "Write it as in 2026-03-14.")
        return None
