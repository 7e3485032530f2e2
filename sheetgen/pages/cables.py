"""The schedule of cables with what each may carry and carries, the metres of each type, what to take along."""

from __future__ import annotations

from collections import Counter

from sheetgen.catalogue.colours import CODES
from sheetgen.model.page import Block, Cell, Heading, Items, Page, Picture, SideBySide, Table, Words
from sheetgen.model.reckoning import CableFigures, Total
from sheetgen.model.wiring import Cable
from sheetgen.model.words import NOT_GIVEN, amps, capital, count, joined, metres, plain, size_words
from sheetgen.pages.lacking import asked_for
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.page_kind import PageKind
from sheetgen.pages.sleeves import to_fit, where

DASH = "\N{EN DASH}"


def compose(look: Lookup) -> tuple[Page, ...]:
    """One page: the schedule, and below it the load of each way, the totals and what to take along."""
    figures = look.figures
    left = (Heading("Load of each way", 2), _ways(look), *asked_for((*figures.cables, *figures.ways)))
    middle = (Heading("Metres of each type", 2), _totals(look))
    right = (Heading("Sleeving needed", 2), *_materials(look))
    plots = [b for plot in look.job.plots for b in (Heading("Volt drop along the circuit", 2), Picture(plot))]
    blocks = (*_schedule(look), SideBySide((left, middle, right), (1.25, 1.1, 0.85)), *plots)
    return (Page("cables", "Cables", blocks, follows=True),)


def _schedule(look: Lookup) -> list[Block]:
    head = ("Cable", "Type", "Size", "cpc", "From", "To", "Length", "Laid", "May carry", "Greatest load")
    figures = {f.cable: f for f in look.figures.cables}
    rows = tuple(_cable(cable, figures[cable.name]) for cable in look.wiring.cables)
    sources = tuple(dict.fromkeys(f.source for f in look.figures.cables if f.source))
    says = "Greatest load: with every lamp on that can be."
    says += "" if look.wiring.all_seen else " What lies behind core ends that are not known is left out."
    says += f" May carry: {'; '.join(sources)}." if sources else ""
    taken = [Words(f"{capital(joined(look.job.reading.taken))}.", "quiet", "Not given, taken as usual:")]
    return [Table(head, rows), Words(says, "quiet"), *(taken if look.job.reading.taken else [])]


def _cable(cable: Cable, figures: CableFigures) -> tuple[Cell, ...]:
    size = size_words(cable.size) if cable.size else NOT_GIVEN
    cpc = size_words(cable.cpc_size) if cable.cpc_size else DASH
    rating = amps(figures.rating) if figures.rating is not None else DASH
    length = DASH if cable.link else metres(cable.length)
    return cable.name, cable.type, size, cpc, *cable.ends, length, laid(cable), rating, amps(figures.amps)


def laid(cable: Cable) -> str:
    """How a cable is laid; the method in the letters and numbers of BS 7671 appendix 4."""
    if cable.link:
        return "inside the accessory"
    parts = [f"in {cable.run_in}" if cable.run_in else "", f"method {cable.method}" if cable.method else ""]
    return ", ".join(filter(None, parts)) or ("flex" if cable.flex else f"method {NOT_GIVEN}")


def _ways(look: Lookup) -> Table:
    devices = {way.accessory: way for way in look.wiring.board.ways}
    rows = tuple(
        (devices[f.way].number, str(devices[f.way].device or NOT_GIVEN), f"{plain(f.watts)} W, {amps(f.amps)}",
         amps(f.assumed_amps))
        for f in look.figures.ways
    )
    return Table(("Way", "Device", "Lamps fitted", "At 100 W a lampholder"), rows)


def _totals(look: Lookup) -> Table:
    return Table(("Type", "Pieces", "Together"), tuple(_total(t) for t in look.figures.totals))


def _total(total: Total) -> tuple[Cell, ...]:
    size = f"{total.size} mm²" if total.size and "/" not in total.size else total.size
    lacking = len(total.missing)
    if lacking == total.cables:
        together = NOT_GIVEN
    else:
        together = metres(total.metres) + (f" and {count(lacking, 'length')} {NOT_GIVEN}" if lacking else "")
    return f"{total.type} {size}".strip(), str(total.cables), together


def _materials(look: Lookup) -> list[Block]:
    wanted = to_fit(look)
    if not wanted:
        return [Words("No sleeve is missing.")]
    counted = Counter(s.colour for s in wanted)
    totals = tuple(f"{n} \N{MULTIPLICATION SIGN} {CODES[colour]} sleeve" for colour, n in counted.items())
    return [Items(totals), Words("; ".join(where(look, s) for s in wanted) + ".", "quiet", "For")]


ENTRY = PageKind("cables", "schedule of cables, metres of each type, sleeves to take along", compose)
