"""What is different as a sheet to print: a table for each part, how it was and how it is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from sheetgen.model.job import Job
from sheetgen.model.page import Block, Heading, Page, Table, Words
from sheetgen.model.words import count
from sheetgen.pages.findings import FROM_DESCRIPTION
from sheetgen.pipeline import Look, style_of
from sheetgen.print.pdf import info_of, pages_to_pdf
from sheetgen.stock.changes.differences import CURED, PARTS, Difference

NOTHING = "The two descriptions say the same."
SHARES = (1.6, 1.3, 4, 4)


def changes_sheet(before: Job, after: Job, found: Sequence[Difference]) -> bytes:
    """The whole sheet, as PDF."""
    info = replace(info_of(after), job=f"{after.wiring.job}: what is different", danger=False,
                   record=f"{before.source} {before.fingerprint} to {after.source} {after.fingerprint}")
    page = Page("changes", "What is different", tuple(_blocks(found)))
    return pages_to_pdf((page,), style_of(Look()), info)


def _blocks(found: Sequence[Difference]) -> Iterator[Block]:
    if not found:
        yield Words(NOTHING)
        return
    yield Words(f"{count(len(found), 'difference')}. {FROM_DESCRIPTION}")
    for part in PARTS:
        those = [d for d in found if d.part == part]
        if those and part == "Findings":
            yield Heading(part)
            yield Table(("", "Gravity", "What was noticed"), tuple((d.after, d.name, d.what + d.was) for d in those),
                        (1, 1, 8), tuple("danger" if d.name == "danger" and d.after != CURED else "" for d in those))
        elif those:
            yield Heading(part)
            yield Table(("", "", "Before", "After"), tuple(_rows(those)), SHARES, joined=1)


def _rows(found: Sequence[Difference]) -> Iterator[tuple[str, ...]]:
    """The name of a thing stands once."""
    for last, d in zip([None, *found], found, strict=False):
        yield "" if last and last.name == d.name else d.name, d.what, d.before, d.after
