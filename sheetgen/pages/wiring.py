"""The wiring drawings, one to a sheet, with their legend, the sleeves to fit, the notes and the caution."""

from __future__ import annotations

from sheetgen.model.drawing import Drawing
from sheetgen.model.page import Block, Page, Picture, SideBySide, Spare, Words
from sheetgen.model.reading import MethodFound
from sheetgen.model.words import CAUTION_SHORT, MIXED_COLOURS_SHORT, NOT_AS_FOUND_SHORT, capital, joined
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.method import worked
from sheetgen.pages.page_kind import PageKind
from sheetgen.pages.sleeves import sleeves_to_fit

OVERVIEW = (
    "Every accessory with its cables; no cores. The sheet named in a box is the wiring sheet, 1 to {count}, that shows "
    "its terminals. A lamp that hangs from a rose is on the sheet of its rose."
)
FOOT = (1.35, 0.81, 0.47)  # legend, caution, sleeves and colours


def compose(lookup: Lookup) -> tuple[Page, ...]:
    """An overview where there are several drawings; then a page for each.

    The foot is low, so that the drawing has the sheet; the rest only where room is left.
    """
    drawings = lookup.job.drawings
    overview = tuple(_overview(lookup, i) for i in range(len(lookup.job.overview)))
    return overview + tuple(_page(lookup, drawing, i, len(drawings)) for i, drawing in enumerate(drawings, 1))


def _overview(lookup: Lookup, number: int) -> Page:
    """What is drawn on which sheet: accessories and cables only."""
    drawings = lookup.job.overview
    title = f"Overview {number + 1} of {len(drawings)}" if len(drawings) > 1 else "Overview"
    words = Words(OVERVIEW.format(count=len(lookup.job.drawings)), "quiet", "How to read it.")
    foot = SideBySide(((words,), (Words(CAUTION_SHORT, "caution", "Caution."),)))
    return Page("wiring", title, (Picture(drawings[number], enlarge=True, alike=drawings), foot), follows=number == 0)


def _page(lookup: Lookup, drawing: Drawing, number: int, total: int) -> Page:
    title = f"Wiring {number} of {total}" if total > 1 else "Wiring"
    legends = lookup.job.legends or ((lookup.job.legend,) * total if lookup.job.legend else ())
    legend: tuple[Block, ...] = (Picture(legends[number - 1]),) if legends else ()
    notes = tuple(_notes(lookup, _ends_on(drawing) if total > 1 else None))
    foot = SideBySide((legend, (Words(CAUTION_SHORT, "caution", "Caution."),), notes), FOOT)
    picture = Picture(drawing, enlarge=True, alike=lookup.job.drawings)
    return Page("wiring", title, (picture, foot, *_more(lookup, number)), follows=number > 1,
                whole=True)


def _notes(lookup: Lookup, ends: frozenset[tuple[str, int]] | None) -> list[Block]:
    blocks: list[Block] = [Words(sleeves_to_fit(lookup, ends), "quiet", "Sleeves.")]
    if lookup.recoloured:
        blocks.append(Words(NOT_AS_FOUND_SHORT, "quiet", "Colours are not as found."))
    elif lookup.job.reading.mixed_colours:
        blocks.append(Words(MIXED_COLOURS_SHORT, "quiet", "Caution."))
    return blocks


def _ends_on(drawing: Drawing) -> frozenset[tuple[str, int]]:
    """The core ends that are drawn on a sheet, as core and end."""
    abouts = (dict(shape.about) for shape in drawing.shapes)
    return frozenset((about["core"], int(about["end"])) for about in abouts if "core" in about and "end" in about)


def _more(lookup: Lookup, number: int) -> tuple[Block, ...]:
    """The method of each circuit on the sheet where its accessories are, with its lamps; on the last the user's notes.

    They stand on the card as well.
    """
    works: dict[str, list[str]] = {}
    for circuit in lookup.job.reading.circuits:
        if circuit.method and _sheet_of(lookup, circuit) == number:
            works.setdefault(circuit.method, []).append(worked(lookup, circuit))
    lines = [Words(method, lead=f"{capital(joined(lamps))}.") for method, lamps in works.items()]
    if number == len(lookup.job.drawings):
        lines += [Words(note, lead="Note.") for note in lookup.wiring.notes]
    return (Spare(tuple(lines)),) if lines else ()


def _sheet_of(lookup: Lookup, circuit: MethodFound) -> int:
    """The wiring sheet, from 1, with most of the accessories of a circuit; of several the first."""
    own = {lookup.accessory_of_switch(name) for name in circuit.switches}
    own |= {lookup.circuit.loads[name][0].name for name in circuit.lamps}
    drawn = [len(own & names) for names in lookup.drawn]
    return 1 + drawn.index(max(drawn))


ENTRY = PageKind("wiring", "the drawing, terminal by terminal, with its legend", compose)
