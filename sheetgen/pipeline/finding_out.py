"""The way through from what is seen to what is there, or to what is broken."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from sheetgen.circuit import Circuit
from sheetgen.find.across import core_word
from sheetgen.find.ends import paired
from sheetgen.find.fault_search import find_fault
from sheetgen.find.identify import identify, the_one
from sheetgen.find.rose import landings, live_cores, taken_off, the_parts, which_part
from sheetgen.model.accessory import Accessory
from sheetgen.model.drawing import Drawing
from sheetgen.model.finding_out import FaultFound, Identified, Seen
from sheetgen.model.page import Page
from sheetgen.model.problems import Refused
from sheetgen.model.wiring import Cable, Wiring
from sheetgen.pages.fault import compose as fault_pages
from sheetgen.pages.identify import compose as identify_pages
from sheetgen.pipeline import Look, circuit_of, drawings_of, fingerprint, judged, style_of, wiring_of
from sheetgen.print.pdf import info_of_wiring, pages_to_pdf
from sheetgen.read.description_to_wiring.seen import problems_of
from sheetgen.read.joined_ends import with_joined_ends, with_parts
from sheetgen.read.text_to_description import text_to_description


@dataclass(frozen=True)
class FaultSearch:
    """A circuit, what was seen of it, and the faults that fit."""

    circuit: Circuit
    seen: tuple[Seen, ...]
    found: FaultFound


def fault_search(text: bytes | str, said: Sequence[str] = ()) -> FaultSearch:
    """Look for the fault. `said`: sentences beyond those in the file. Refused where one of them says nothing."""
    circuit = circuit_of(text)
    more, problems = problems_of(said, circuit.wiring)
    if problems:
        raise Refused(problems)
    seen = (*circuit.wiring.seen, *more)
    return FaultSearch(circuit, seen, find_fault(circuit, seen, circuit.wiring.readings))


def fault_sheet(text: bytes | str, search: FaultSearch, look: Look, source: str = "") -> bytes:
    """The plan on paper, as PDF."""
    pages = fault_pages(search.found, search.seen, search.circuit.wiring.readings)
    return _bound(pages, search.circuit.wiring, text, look, source)


def identified(text: bytes | str, said: Sequence[str] = ()) -> tuple[Wiring, Identified]:
    """Which end belongs to which, as far as what is known tells; the description where only one way is left."""
    wiring = wiring_of(text)
    more, problems = problems_of(said, wiring)
    if problems:
        raise Refused(problems)
    seen = (*wiring.seen, *more)
    wiring = replace(wiring, seen=seen)
    if at_rose := taken_off(wiring):
        found = which_part(wiring, *at_rose, style_of().sets)
        return wiring, replace(found, text=_put_back(text, wiring, *at_rose)) if found.pairs is not None else found
    found = identify(wiring, style_of().sets, seen)
    if found.pairs is None:
        return wiring, found
    return wiring, replace(found, text=_written(text, wiring))


def _written(text: bytes | str, wiring: Wiring) -> str:
    """The full description, where only one candidate is left."""
    one = the_one(wiring, wiring.seen)
    if one is None:
        return ""
    search, pairing = one
    whole = paired(wiring, search.ends, pairing)
    made = {(search.ends[i].name, search.ends[j].name): whole.cable(search.ends[i].name) for i, j in pairing.pairs}
    return with_joined_ends(text_to_description(text).content, search.ends, made, whole)


def _put_back(text: bytes | str, wiring: Wiring, rose: Accessory, ends: tuple[Cable, ...]) -> str:
    """The rose with every core on the terminal to which it goes back."""
    parts = the_parts(wiring, ends)
    if parts is None:
        return ""
    what = {end.name: "goes on to further lights" for end in ends}
    what |= {ends[parts.feed].name: "feed, from the board", ends[parts.drop].name: "switch drop"}
    drop = ends[parts.drop]
    sleeved = live_cores(drop)[1 - parts.line]
    line = style_of().sets[drop.colours].line
    mark = (drop.name, core_word(sleeved)) if sleeved.colour != line else ("", "")
    content = text_to_description(text).content
    return with_parts(content, landings(parts, ends, rose), what, mark, wiring)


def identify_sheet(text: bytes | str, wiring: Wiring, found: Identified, look: Look, source: str = "") -> bytes:
    """The plan on paper, as PDF."""
    drawings: tuple[Drawing, ...] = ()
    if found.text:
        circuit, reading = judged(found.text)
        drawings = drawings_of(circuit.wiring, reading, style_of(look))
    return _bound(identify_pages(found, wiring, drawings), wiring, text, look, source)


def _bound(pages: tuple[Page, ...], wiring: Wiring, text: bytes | str, look: Look, source: str) -> bytes:
    return pages_to_pdf(pages, style_of(look), info_of_wiring(wiring, source, fingerprint(text)))
