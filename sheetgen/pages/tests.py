"""The tests in their order with what each should read, the limits, and blank boxes for what was measured."""

from __future__ import annotations

from sheetgen.model.page import Block, Columns, Form, Heading, Items, Page, Words
from sheetgen.pages.kind import PageKind
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.notices import harmed_by_test
from sheetgen.pages.readings import readings
from sheetgen.words import CAUTION, isolation, joined

FORM = Form(("Instruments, with serial numbers", "Date", "Tested by", "Signature"), (3.0, 1.2, 2.0, 2.0))


def compose(look: Lookup) -> tuple[Page, ...]:
    """The order of tests, then the readings on sheets of their own."""
    order = (FORM, Columns((_dead(look), _live(look))), Words(CAUTION, "caution", "Caution."))
    return (Page("tests", "Tests", order), Page("tests", "Readings", tuple(readings(look))))


def _dead(look: Lookup) -> tuple[Block, ...]:
    harmed = joined(harmed_by_test(look.wiring.accessories))
    ways = joined(f"way {w.number}" for w in look.wiring.board.ways)
    return (
        Heading("Dead tests, in this order", 2),
        Items((
            "Isolate safely: see the steps beside.",
            "Continuity of the cpc to every point (R1+R2, or R2 with a long lead).",
            f"Insulation, lamps out{f', and disconnect {harmed}' if harmed else ''}: 500 V d.c., at least "
            "1.0 M\N{OHM SIGN} (BS 7671 Table 64), line and neutral to earth, then line to neutral.",
            "Polarity: every switch in the line only; the centre contact of an Edison screw lampholder on line.",
        ), numbered=True),
        Heading("Safe isolation", 3),
        Items(isolation(f"{ways} at the {look.wiring.board.name.lower()}"), numbered=True),
    )


def _live(look: Lookup) -> tuple[Block, ...]:
    return (
        Heading("Live tests, only after the dead tests are good", 2),
        Items(("Ze and Zs.", "RCD.", "Function: every switch in every position."), numbered=True),
    )


ENTRY = PageKind("tests", "the tests in order, what each should read, boxes for what was measured", compose)
