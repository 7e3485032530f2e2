"""The way through from what is seen to what is there, or to what is broken."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sheetgen.circuit import Circuit
from sheetgen.find.fault_search import find_fault
from sheetgen.model.finding_out import FaultFound, Seen
from sheetgen.model.page import Info, Page
from sheetgen.model.problems import Refused
from sheetgen.model.wiring import Wiring
from sheetgen.pages.fault import compose as fault_pages
from sheetgen.pipeline import Look, circuit_of, fingerprint, style_of
from sheetgen.print.pdf import pages_to_pdf
from sheetgen.read.description_to_wiring.seen import problems_of


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


def _bound(pages: tuple[Page, ...], wiring: Wiring, text: bytes | str, look: Look, source: str) -> bytes:
    info = Info(wiring.job, wiring.place, wiring.drawn_by, wiring.drawn_on, source, fingerprint(text))
    return pages_to_pdf(pages, style_of(look), info)
