"""The way through to a handout: the same stages as a job sheet, then the questions."""

from __future__ import annotations

from dataclasses import replace

from sheetgen.draw.layout import wiring_to_layout
from sheetgen.draw.wiring import Show, layout_to_drawing, legend
from sheetgen.model.handout import Handout
from sheetgen.model.job import Job
from sheetgen.model.style import Style
from sheetgen.pages.handout import compose
from sheetgen.pages.lookup import Lookup
from sheetgen.pipeline import Look, fingerprint, judged, style_of, understood
from sheetgen.print.pdf import info_of, pages_to_pdf
from sheetgen.solve.wiring_to_solution import wiring_to_solution
from sheetgen.teach import versions_of

LARGE = 1.3  # large text: 9 pt becomes 12 pt


def handout_of(text: bytes | str, look: Look, style: Style, versions: int = 1, seed: int = 1,
               source: str = "") -> Handout:
    """The circuit with and without its conductors, and the questions about it."""
    wiring, solution, reading = understood(text, look.colours)
    layout = wiring_to_layout(wiring, style)
    drawings = layout_to_drawing(layout, wiring, reading, style)
    job = Job(
        wiring, solution, reading,
        drawings=drawings,
        legends=tuple(legend(wiring, reading, style, sheet=drawing) for drawing in drawings),
        sets=style.sets, source=source, fingerprint=fingerprint(text),
    )
    open_drawings = layout_to_drawing(layout, wiring, reading, style, Show(conductors=False))
    return Handout(job, open_drawings, versions_of(Lookup(job), wiring_to_solution, versions, seed))


def handout_sheet(text: bytes | str, look: Look, *, versions: int = 1, seed: int = 1, large: bool = False,
                  source: str = "") -> bytes:
    """The whole handout, as PDF."""
    style = enlarged(style_of(look)) if large else style_of(look)
    handout = handout_of(text, look, style, versions, seed, source)
    return pages_to_pdf(compose(handout), style, info_of(handout.job))


def enlarged(style: Style) -> Style:
    """The style with all its text larger."""
    letterings = {role: replace(lettering, size=round(lettering.size * LARGE, 1))
                  for role, lettering in style.letterings.items()}
    return replace(style, letterings=letterings)


def fault_handout(text: bytes | str, look: Look, *, versions: int = 1, seed: int = 1, large: bool = False,
                  source: str = "") -> bytes:
    """A fault for a class to find, one for each version, as PDF."""
    from sheetgen.pages.handout_fault import compose as fault_pages
    from sheetgen.teach.fault_tasks import fault_tasks

    style = enlarged(style_of(look)) if large else style_of(look)
    circuit, reading = judged(text, look.colours)
    drawings = layout_to_drawing(wiring_to_layout(circuit.wiring, style), circuit.wiring, reading, style)
    job = Job(circuit.wiring, circuit.solution, reading, drawings=drawings, sets=style.sets, source=source,
              fingerprint=fingerprint(text))
    return pages_to_pdf(fault_pages(fault_tasks(circuit, versions, seed), job), style, info_of(job))
