"""The wiring drawings, one to a sheet, with their legend, the sleeves to fit, the notes and the caution."""

from __future__ import annotations

from sheetgen.model.drawing import Drawing
from sheetgen.model.page import Block, Items, Page, Picture, Row, Spare, Words
from sheetgen.pages.kind import PageKind
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.notices import mixed
from sheetgen.pages.sleeves import sleeves_to_fit
from sheetgen.words import CAUTION_SHORT, MIXED_COLOURS

MOST_METHODS = 2  # sentences that stand beside the drawing; more are on the operation page


def compose(look: Lookup) -> tuple[Page, ...]:
    """A page for each drawing."""
    drawings = look.job.drawings
    return tuple(_page(look, drawing, i, len(drawings)) for i, drawing in enumerate(drawings, 1))


def _page(look: Lookup, drawing: Drawing, number: int, total: int) -> Page:
    title = f"Wiring {number} of {total}" if total > 1 else "Wiring"
    methods = dict.fromkeys(c.method for c in look.job.reading.circuits if c.method)
    legend: tuple[Block, ...] = (Picture(look.job.legend),) if look.job.legend else ()
    legend += tuple(Words(method) for method in methods) if len(methods) <= MOST_METHODS else ()
    notes = tuple(_notes(look))
    foot = Row((legend, notes)) if legend else Row((notes,))
    wiring_notes = (Spare((Items(look.wiring.notes),)),) if look.wiring.notes and number == total else ()
    return Page("wiring", title, (Picture(drawing), foot, *wiring_notes))


def _notes(look: Lookup) -> list[Block]:
    blocks: list[Block] = [Words(CAUTION_SHORT, "caution", "Caution.")]
    if look.recoloured:
        blocks.append(Words(look.recoloured, lead="Colours are not as found."))
    elif mixed(look):
        blocks.append(Words(MIXED_COLOURS, lead="CAUTION."))
    blocks.append(Words(sleeves_to_fit(look), lead="Sleeves."))
    return blocks


ENTRY = PageKind("wiring", "the drawing, terminal by terminal, with its legend", compose)
