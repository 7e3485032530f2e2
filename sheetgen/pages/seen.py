"""What was seen of the lamps and the switches and what was measured, as the description tells it: nothing is judged."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.model.finding_out import Spot, TakenReading
from sheetgen.model.page import Items, Page, Words
from sheetgen.model.words import capital, joined
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.page_kind import PageKind

TOLD = "As the description tells it{by}."
DIFFERS = "The other pages are worked out from the wiring as it is drawn: where this differs, something is wrong there."


def compose(lookup: Lookup) -> tuple[Page, ...]:
    """One page; none where nobody has seen or measured anything."""
    wiring = lookup.wiring
    said = [*dict.fromkeys(stopped(seen.says) for seen in wiring.seen),
            *(_measured(lookup, reading) for reading in wiring.readings)]
    if not said:
        return ()
    drawn = ", ".join(filter(None, (wiring.drawn_by, wiring.drawn_on)))
    told = TOLD.format(by=f", drawn by {drawn}" if wiring.drawn_by else f", drawn {drawn}" if drawn else "")
    differs = f" {DIFFERS}" if wiring.all_seen else ""
    blocks = (Items(tuple(said)), Words(told + differs, "quiet"))
    return (Page("seen", "What was seen", blocks, follows=True, on_card=True),)


def stopped(says: str) -> str:
    """What was seen as a sentence."""
    return f"{capital(says).rstrip('.')}."


def _measured(lookup: Lookup, reading: TakenReading) -> str:
    """'Measured with the supply off: circuit 3 L to Box L closed, with Hall at L1.'"""
    supply = "on" if reading.live else "off"
    return f"Measured with the supply {supply}: {', '.join((reading.says, *_how(lookup, reading)))}."


def _how(lookup: Lookup, reading: TakenReading) -> Iterator[str]:
    if reading.worked is not None:
        yield "a switch being worked meanwhile"
    if reading.setting:
        yield f"with {joined(lookup.circuit.standing(switch, position) for switch, position in reading.setting)}"
    if reading.off:
        yield f"with its cores off their terminals at {lookup.wiring.printed(reading.off)}"
    if reading.joined:
        yield f"with {joined(f'{_spot(lookup, a)} joined to {_spot(lookup, b)}' for a, b in reading.joined)} by hand"


def _spot(lookup: Lookup, spot: Spot) -> str:
    name, point = spot
    return f"{lookup.wiring.printed(name)} {point}"


ENTRY = PageKind("seen", "what was seen of lamps and switches and what was measured", compose)
