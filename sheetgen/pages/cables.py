"""The cables type by type with what each may carry and carries, the metres, the sleeves that are missing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from sheetgen.catalogue.colours import CODES
from sheetgen.model.page import Block, Cell, Columns, Heading, Items, Page, Picture, Spare, Table, Words
from sheetgen.model.reading import Sleeve
from sheetgen.model.reckoning import CableFigures, Total, WayFigures
from sheetgen.model.wiring import Cable, Way
from sheetgen.model.words import amps, capital, count, joined, metres, plain, size_words
from sheetgen.pages.lacking import asked_for
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.page_kind import PageKind
from sheetgen.pages.sleeves import BEFORE, not_known_yet, some_wait, where

FROM_MEMORY, LOOK_UP = "(from memory)", "(not checked against the table: look it up before it is relied on)"
DASH = "\N{EN DASH}"
HEAD = ("Cable", "From", "To", "Length", "Laid", "May carry", "Greatest load")
LOAD = "At 100 W a lampholder, as is usual for a lighting circuit, whatever lamps are in it."


def compose(lookup: Lookup) -> tuple[Page, ...]:
    """One page: the cables type by type, the load of each way and what to take along."""
    figures = lookup.figures
    groups = [*_schedule(lookup), (*_load(lookup), *asked_for((*figures.cables, *figures.ways)))]
    wanted = lookup.to_fit
    waits = (Words(f"{'No others' if wanted else 'None'}{BEFORE}", "quiet"),) if some_wait(lookup) else ()
    unknown = (Words("what is to be fitted is not known yet for them.", "quiet", "Cores not traced:"),)
    materials = (*(_materials(lookup, wanted) if wanted else ()), *waits,
                 *(unknown if not_known_yet(lookup) else ()))
    if materials:
        groups.append((Heading("Sleeving needed", 3), *materials))
    taken = joined(lookup.job.reading.taken)
    usual = f" Assumed, where the file does not say: {taken}." if taken else ""
    blocks = (Columns(tuple(groups), loose=True), Words(f"{_sources(lookup)}{usual}", "quiet"), *_plotted(lookup))
    return (Page("cables", "Cables", blocks, follows=True, early=True, on_card=True),)


def _plotted(lookup: Lookup) -> list[Block]:
    """The volt drops as bars; only where there is room, if the tests sheet has the figures."""
    plots = [(Heading("Volt drop along the circuit", 2), Picture(plot)) for plot in lookup.job.plots]
    if "tests" in lookup.kinds:
        return [Spare(plot) for plot in plots]
    return [block for plot in plots for block in plot]


def _sources(lookup: Lookup) -> str:
    sources = tuple(dict.fromkeys(f.source for f in lookup.figures.cables if f.source))
    says = "Greatest load: with as many lamps on as can be on together."
    says += "" if lookup.wiring.all_seen else " What lies behind core ends that are not known is left out."
    return says + (f" May carry: {'; '.join(sources).replace(FROM_MEMORY, LOOK_UP)}." if sources else "")


def _schedule(lookup: Lookup) -> list[tuple[Block, ...]]:
    """A table for each type and size, with how much of it there is."""
    figures = {f.cable: f for f in lookup.figures.cables}
    groups: list[tuple[Block, ...]] = []
    for total in lookup.figures.totals:
        cables = [c for c in lookup.wiring.cables
                  if (c.type, c.size.text if c.size else "") == (total.type, total.size)]
        earths = {size_words(c.cpc_size) for c in cables if c.cpc_size}
        cpc = f", cpc {joined(sorted(earths))}" if earths else ""
        rows = tuple(_cable(lookup, cable, figures[cable.name]) for cable in cables)
        groups.append((Heading(f"{_type(total)}{cpc}", 3, _together(total)), _telling(rows)))
    return groups


def _telling(rows: tuple[tuple[str, ...], ...]) -> Table:
    """The table without the columns in which nothing is said of any cable; with boxes where a length is wanted."""
    kept = [i for i, head in enumerate(HEAD) if any(row[i] != DASH for row in rows)]
    boxes = tuple(n for n, i in enumerate(kept) if any(row[i] == "" for row in rows))
    return Table(tuple(HEAD[i] for i in kept), tuple(tuple(row[i] for i in kept) for row in rows), boxes=boxes)


def _cable(lookup: Lookup, cable: Cable, figures: CableFigures) -> tuple[str, ...]:
    """Of a cable whose length is not given the length is left to be filled in; a flex is short and needs none."""
    rating = amps(figures.rating) if figures.rating is not None else DASH
    length = metres(cable.length) if cable.length is not None else DASH if cable.link or cable.flex else ""
    traced = not any(lookup.not_traced(core) for core in cable.cores if not core.cpc)
    greatest = amps(figures.amps) if traced else "not known"
    way = laid(cable, lookup.passed.get(cable.name, ()))
    return cable.name, *map(lookup.wiring.printed, cable.ends), length, way, rating, greatest


def laid(cable: Cable, passed: Sequence[str] = ()) -> str:
    """How a cable is laid; the method in the letters and numbers of BS 7671 appendix 4."""
    if cable.link:
        return "inside the accessory"
    past = f" past {joined(passed)}" if passed else ""
    parts = [f"in {cable.run_in}{past}" if cable.run_in else "", f"method {cable.method}" if cable.method else ""]
    return ", ".join(filter(None, parts)) or ("flex" if cable.flex else DASH)


def _load(lookup: Lookup) -> list[Block]:
    """What each circuit carries: of one circuit a sentence, of several a table."""
    ways = {way.accessory: way for way in lookup.wiring.board.ways}
    rows = tuple((ways[f.way].number, str(ways[f.way].device or ""), *_fitted(lookup, f, ways[f.way]))
                 for f in lookup.figures.ways)
    if not lookup.wiring.all_seen and not any(f.watts for f in lookup.figures.ways):
        return []  # the lamps lie behind core ends that nobody knows
    what = "lamps" if all(load in lookup.circuit.lamp_names for load in lookup.loads) else "lamps and other loads"
    if len(rows) == 1:
        ((_, _, fitted, assumed),) = rows
        return [Words(f"{fitted} with the {what} that {_lit(lookup)}; {assumed} {LOAD[0].lower()}{LOAD[1:]}",
                      lead="Load of the circuit:")]
    fitted = f"{what} fitted" if not _dark(lookup) else f"{what} that {_lit(lookup)}"
    table = Table(("Circuit", "Device", fitted.capitalize(), "At 100 W a lampholder"), rows, boxes=_lacking(rows, 1))
    return [Heading("Load of each circuit", 3), table, *_shared(lookup), Words(LOAD, "quiet")]


def _shared(lookup: Lookup) -> list[Block]:
    """The ways of which each may have to carry what the others feed too."""
    numbers = {way.accessory: way.number for way in lookup.wiring.board.ways}
    sets = dict.fromkeys(frozenset((f.way, *f.sharing)) for f in lookup.figures.ways if f.sharing)
    said = [f"while the lines of circuits {joined(n for way, n in numbers.items() if way in ways)} are joined and "
            f"{'one is off, the other' if len(ways) == 2 else 'all but one are off, that one'} carries all that they "
            "feed together, and its cables may carry more than is shown." for ways in sets]
    return [Words(" ".join(map(capital, said)), "danger", "Joined.")] if said else []


def _lit(lookup: Lookup) -> str:
    """Which lamps the load is of."""
    return f"can be on together, {lookup.as_it_is}" if _dark(lookup) else "are fitted"


def _dark(lookup: Lookup) -> bool:
    """Some lamp is never on, or not while others are."""
    return any(f.dark for f in lookup.figures.ways)


def _fitted(lookup: Lookup, figures: WayFigures, way: Way) -> tuple[str, str]:
    """What the lamps of a way take, and what it may have to carry; or whose neutral alone it carries."""
    returning = lookup.returning_to(way)
    if returning and not figures.watts and not figures.dark:
        return f"none; only the neutral of {joined(returning)}", DASH
    return f"{plain(figures.watts)} W, {amps(figures.amps)}", amps(figures.assumed_amps)


def _lacking(rows: tuple[tuple[Cell, ...], ...], column: int) -> tuple[int, ...]:
    """A column as one of boxes, where something in it has to be filled in."""
    return (column,) if any(row[column] == "" for row in rows) else ()


def _type(total: Total) -> str:
    size = f"{total.size} mm²" if total.size and "/" not in total.size else total.size
    return f"{total.type} {size}".strip()


def _together(total: Total) -> str:
    """'3 pieces, 13 m together', '3 pieces, 8 m and 1 length not measured'."""
    pieces, lacking = count(total.cables, "piece"), len(total.missing)
    if lacking == total.cables:
        return pieces
    more = f" and {count(lacking, 'length')} not measured" if lacking else ""
    return f"{pieces}, {metres(total.metres)}{' together' if total.cables > 1 and not lacking else ''}{more}"


def _materials(lookup: Lookup, wanted: tuple[Sleeve, ...]) -> list[Block]:
    counted = Counter(s.colour for s in wanted)
    totals = tuple(f"{n} \N{MULTIPLICATION SIGN} {CODES[colour]} sleeve" for colour, n in counted.items())
    return [Items(totals), Words("; ".join(where(lookup, s) for s in wanted) + ".", "quiet", "For")]


ENTRY = PageKind("cables", "schedule of cables, metres of each type, sleeves to take along", compose)
