"""Tags for both ends of every cable and the notices that the circuits call for, to print, cut out and put up.

Only where asked for. The test button's interval is from memory of BS 7671 514.12.2 (six months since the 18th edition);
its wording and that of a shared neutral are our own.
"""

from __future__ import annotations

from sheetgen.judge.isolation import IF_TT
from sheetgen.model.page import Block, Cell, Columns, Heading, Page, Table, Words
from sheetgen.model.wiring import Cable
from sheetgen.model.words import BLANK
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.notices import notices
from sheetgen.pages.page_kind import PageKind

ACROSS = 4  # tags beside one another
HOW = "Cut along the lines. A tag stays on its cable where it enters the accessory; a notice hangs at the board."
RCD = (
    "This installation, or part of it, is protected by an RCD. Press its button marked T or Test every six months: it "
    "must switch off, and is then switched on again. If it does not switch off, call an electrician."
)
SHARED = (
    "{off} before work on any of them. The neutral of one carries current of another and can go live when it is parted."
)


def compose(lookup: Lookup) -> tuple[Page, ...]:
    """The tags, cable by cable, then the notices."""
    tags = [tag for cable in lookup.wiring.cables if not (cable.link or cable.flex) for tag in _tags(lookup, cable)]
    rows = tuple(tuple(tags[i: i + ACROSS]) + ("",) * (ACROSS - len(tags[i: i + ACROSS]))
                 for i in range(0, len(tags), ACROSS))
    blocks: list[Block] = [Words(HOW, "quiet")]
    if rows:
        blocks.append(Table(("",) * ACROSS, rows, (1.0,) * ACROSS, boxes=tuple(range(ACROSS)), plain=True))
    found = [*notices(lookup), *_own(lookup)]
    if found:
        blocks += [Heading("Notices"), Columns(tuple((notice,) for notice in found))]
    return (Page("tags", "Tags and notices", tuple(blocks)),)


def _tags(lookup: Lookup, cable: Cable) -> list[Cell]:
    """One for each end that somebody has found: the name, where it is, where it goes, whose circuit it is."""
    circuits = [way for way in lookup.wiring.board.ways if cable in lookup.cables_of(way)]
    told = all(way.number for way in circuits)
    named = lookup.circuit.circuits(w.accessory for w in circuits).capitalize() if told else f"Circuit {BLANK}"
    whose = f" {named}." if circuits else ""
    board = f"the {lookup.wiring.board.name.lower()}"
    here, there = (board if lookup.wiring.way(end) else end for end in cable.ends)
    if cable.at_one_end:
        return [Words(f"at {here}, other end not found.{whose}", lead=cable.name)]
    return [Words(f"at {a}, to {b}.{whose}", lead=cable.name) for a, b in ((here, there), (there, here))]


def _own(lookup: Lookup) -> list[Block]:
    """Of an RCD, of a TT supply, and of circuits that have to be switched off together."""
    found: list[Block] = []
    if any(way.rcd is not None for way in lookup.wiring.board.ways):
        found.append(Words(RCD, "notice", "RCD"))
    isolated = lookup.job.reading.isolation
    if isolated.first:
        found.append(Words(f"Before work on any circuit, {isolated.first[0].lower()}{isolated.first[1:]}", "notice",
                           "TT SUPPLY"))
    for ways in sorted(isolated.joined):
        named = lookup.circuit.circuits(ways)
        off = f"Switch off the main switch, not only {named}," if isolated.first else f"Switch off {named} together"
        unsure = "" if lookup.wiring.board.earthing else f" {IF_TT}"
        found.append(Words(SHARED.format(off=off) + unsure, "notice", "WARNING"))
    return found


ENTRY = PageKind("tags", "tags for both ends of each cable and notices, to cut out; only where asked for", compose,
                 asked=True)
