"""The way through to a handout: the same stages as a job sheet, then the questions."""

from __future__ import annotations

from dataclasses import dataclass, replace

from sheetgen.circuit import Circuit
from sheetgen.draw.layout import wiring_to_layout
from sheetgen.draw.wiring import Show, layout_to_drawing, legend
from sheetgen.model.drawing import Drawing, Line
from sheetgen.model.handout import Handout
from sheetgen.model.job import Job
from sheetgen.model.reading import Reading
from sheetgen.model.style import Style
from sheetgen.pages.handout import compose
from sheetgen.pages.lookup import Lookup
from sheetgen.pipeline import Look, circuit_of, fingerprint, shown_in, style_of
from sheetgen.print.pdf import info_of, pages_to_pdf
from sheetgen.solve.wiring_to_solution import wiring_to_solution
from sheetgen.teach import HARDER, KINDS, OF_COLOURS, versions_of

LARGE = 1.3  # large text: 9 pt becomes 12 pt
BOTH = "both"  # in place of a colour set: a class that meets old and new work
SETS = ("legacy", "current")  # what is meant by it, in the order in which they are handed out


@dataclass(frozen=True)
class Wish:
    """What a teacher asks for."""

    versions: int = 1
    seed: int = 1
    large: bool = False
    harder: bool = False  # nothing tells where the cores end


def handout_sheets(text: bytes | str, look: Look, wish: Wish = Wish(), source: str = "") -> tuple[bytes, bytes]:
    """The questions and the answers, a PDF each."""
    style = _style(look, wish)
    handout = handout_of(text, look, style, wish, source)
    asked, answered = compose(handout)
    info = info_of(handout.job)
    return pages_to_pdf(asked, style, info), pages_to_pdf(answered, style, info)


def handout_of(text: bytes | str, look: Look, style: Style, wish: Wish = Wish(), source: str = "") -> Handout:
    """The circuit with and without its conductors, and the questions about it; in both colour sets where asked for."""
    circuit, handout = circuit_of(text), None
    sets = SETS if look.colours == BOTH else (look.colours,)
    for i, name in reversed(list(enumerate(sets))):
        shown, reading = shown_in(circuit, name)
        job, open_drawings = _drawn(shown, reading, style, wish.harder)
        job = replace(job, source=source, fingerprint=fingerprint(text))
        kinds = [k for k in (HARDER if wish.harder else KINDS) if not i or k in OF_COLOURS]
        versions = versions_of(Lookup(job), wiring_to_solution, wish.versions, wish.seed, kinds, i * wish.versions)
        title = style.sets[name].title if len(sets) > 1 else ""
        handout = Handout(job, open_drawings, versions, wish.harder, title, handout)
    assert handout is not None
    return handout


def _drawn(circuit: Circuit, reading: Reading, style: Style, harder: bool) -> tuple[Job, tuple[Drawing, ...]]:
    """The circuit with its drawings, and the drawings to be filled in."""
    wiring = circuit.wiring
    layout = wiring_to_layout(wiring, style)
    drawings = layout_to_drawing(layout, wiring, reading, style)
    job = Job(wiring, circuit.solution, reading, drawings=drawings, sets=style.sets,
              legends=tuple(legend(wiring, reading, style, sheet=drawing) for drawing in drawings))
    open_drawings = layout_to_drawing(layout, wiring, reading, style, Show(conductors=False))
    return job, tuple(map(_without_rows, open_drawings)) if harder else open_drawings


def _without_rows(drawing: Drawing) -> Drawing:
    """Without the marks of the rows of a terminal: as many as conductors end in it."""
    kept = tuple(s for s in drawing.shapes if not (isinstance(s, Line) and s.role == "row line"))
    return replace(drawing, shapes=kept)


def _style(look: Look, wish: Wish) -> Style:
    style = style_of(replace(look, colours=""))
    return enlarged(style) if wish.large else style


def enlarged(style: Style) -> Style:
    """The style with all its text larger."""
    letterings = {role: replace(lettering, size=round(lettering.size * LARGE, 1))
                  for role, lettering in style.letterings.items()}
    return replace(style, letterings=letterings)


def fault_sheets(text: bytes | str, look: Look, wish: Wish = Wish(), source: str = "") -> tuple[bytes, bytes]:
    """A fault for a class to find, one for each version: what is handed out and what is kept, a PDF each."""
    from sheetgen.pages.handout_fault import compose as fault_pages
    from sheetgen.teach.fault_tasks import fault_tasks

    style = _style(look, wish)
    circuit, reading = shown_in(circuit_of(text), look.colours)
    drawings = layout_to_drawing(wiring_to_layout(circuit.wiring, style), circuit.wiring, reading, style)
    job = Job(circuit.wiring, circuit.solution, reading, drawings=drawings, sets=style.sets, source=source,
              fingerprint=fingerprint(text))
    info = info_of(job)
    asked, answered = fault_pages(fault_tasks(circuit, wish.versions, wish.seed), job)
    return pages_to_pdf(asked, style, info), pages_to_pdf(answered, style, info)
