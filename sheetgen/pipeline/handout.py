"""The way through to a handout: the same stages as a job sheet, then the questions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from sheetgen.circuit import Circuit
from sheetgen.draw.layout import DoesNotFit, wiring_to_layout
from sheetgen.draw.wiring import Show, layout_to_drawing, legend
from sheetgen.find.concerned import whole_description
from sheetgen.model.drawing import Drawing, Line
from sheetgen.model.geometry import MM
from sheetgen.model.handout import Handout
from sheetgen.model.job import Job
from sheetgen.model.layout import Layout
from sheetgen.model.page import Page
from sheetgen.model.problems import Mark, Problem, Refused
from sheetgen.model.reading import Reading
from sheetgen.model.style import BOTH, Style
from sheetgen.model.wiring import Wiring
from sheetgen.model.words import NOT_AS_FOUND
from sheetgen.pages.bad_practice import with_dangers, with_warning
from sheetgen.pages.handout import compose
from sheetgen.pages.lookup import Lookup
from sheetgen.pipeline import Look, circuit_of, drawings_of, fingerprint, shown_in, style_of
from sheetgen.print.pdf import info_of, pages_to_pdf
from sheetgen.solve.wiring_to_solution import wiring_to_solution
from sheetgen.teach import HARDER, KINDS, OF_COLOURS, versions_of

LARGE = 1.3  # large text: 9 pt becomes 12 pt
ROOM = 40 * MM  # beside the terminals of a rose, to draw in by hand
BY_HAND = {"pitch": 240, "row": 480, "row tight": 480, "edge": 500}  # measures of a layout to be filled in by hand
SETS = ("legacy", "current")  # what is meant by both, in the order in which they are handed out


@dataclass(frozen=True)
class Wish:
    """What a teacher asks for."""

    versions: int = 1
    seed: int = 1
    large: bool = False
    harder: bool = False  # nothing tells where the cores end
    bad_practice: bool = False  # laid with its warning, where it is refused for a job


def handout_sheets(text: bytes | str, look: Look, wish: Wish = Wish(), source: str = "") -> tuple[bytes, bytes]:
    """The questions and the answers, a PDF each."""
    style = _style(look, wish)
    handout = handout_of(text, look, style, wish, source)
    sides = [handout.job] + ([handout.also.job] if handout.also else [])
    return _bound(compose(handout), sides, style)


def _bound(pages: tuple[tuple[Page, ...], tuple[Page, ...]], sides: Sequence[Job], style: Style) -> tuple[bytes, bytes]:
    """What is handed out and what is kept; every sheet says which colours are not as found."""
    info = info_of(sides[0])
    found = [not job.wiring.recoloured for job in sides]
    if len(sides) > 1 and True in found and False in found:
        other = sides[found.index(False)].wiring.recoloured
        info = replace(info_of(sides[found.index(True)]), remark=f"{NOT_AS_FOUND}: {style.sets[other].title}")
    wiring = sides[0].wiring
    parts = pages if wiring.bad_practice else with_dangers(*pages, sides[0].reading)
    asked, answered = (with_warning(part, wiring) for part in parts)
    return pages_to_pdf(asked, style, info), pages_to_pdf(answered, style, info)


def _sides(text: bytes | str, look: Look, wish: Wish) -> list[tuple[str, Circuit, Reading]]:
    """The circuit in each colour set asked for: the set, "" for as found. Refused where both are asked for and they are
    the same."""
    circuit = circuit_of(text, wish.bad_practice)
    sides = [(name, *shown_in(circuit, name)) for name in (SETS if look.colours == BOTH else (look.colours,))]
    colours = {tuple(core.colour for core in side.wiring.cores()) for _, side, _ in sides}
    if len(colours) < len(sides):
        raise Refused([Problem(Mark(), "E413", f"No core of this circuit has another colour in "
                               f"{' than in '.join(SETS)} colours.", "Leave --colours both out.")])
    return sides


def handout_of(text: bytes | str, look: Look, style: Style, wish: Wish = Wish(), source: str = "") -> Handout:
    """The circuit with and without its conductors, and the questions about it; in both colour sets where asked for.
    Refused in the harder form where an end is not known: nobody could find where it is to go."""
    sides, handout = _sides(text, look, wish), None
    if wish.harder:
        whole_description(sides[0][1].wiring)
    for i, (name, shown, reading) in reversed(list(enumerate(sides))):
        job, open_drawings = _drawn(shown, reading, style, wish.harder)
        job = replace(job, source=source, fingerprint=fingerprint(text))
        kinds = [k for k in (HARDER if wish.harder else KINDS) if not i or k in OF_COLOURS]
        versions = versions_of(Lookup(job), wiring_to_solution, wish.versions, wish.seed, kinds, i * wish.versions)
        title = style.sets[name].title if len(sides) > 1 else ""
        handout = Handout(job, open_drawings, versions, wish.harder, title, handout)
    assert handout is not None
    return handout


def _drawn(circuit: Circuit, reading: Reading, style: Style, harder: bool) -> tuple[Job, tuple[Drawing, ...]]:
    """The circuit with its drawings, and the drawings to be filled in."""
    wiring = circuit.wiring
    layout = _with_room(wiring, style)
    drawings = layout_to_drawing(layout, wiring, reading, style)
    job = Job(wiring, circuit.solution, reading, drawings=drawings, sets=style.sets,
              legends=tuple(legend(wiring, reading, style, sheet=drawing) for drawing in drawings))
    open_drawings = layout_to_drawing(layout, wiring, reading, style, Show(conductors=False))
    return job, tuple(map(_without_rows, open_drawings)) if harder else open_drawings


def _with_room(wiring: Wiring, style: Style) -> Layout:
    """The layout with room in every rose to draw its conductors by hand. What is too large so is laid as usual."""
    wide = replace(style, measures={**style.measures, **BY_HAND})
    try:
        layout = wiring_to_layout(wiring, wide)
        while (short := ROOM - _narrowest(layout, wiring)) > 0:
            wide = replace(wide, measures={**wide.measures, "edge": wide.measures["edge"] + (short + 1) // 2})
            layout = wiring_to_layout(wiring, wide)
    except DoesNotFit:
        return wiring_to_layout(wiring, style)
    return layout


def _narrowest(layout: Layout, wiring: Wiring) -> int:
    """The least width that a rose has beside its terminals; without a rose, as much as is wanted."""
    roses = {accessory.hangs_from for accessory in wiring.accessories}
    return min((place.frame.width - (max(t.frame.x + t.frame.width for t in place.terminals)
                                     - min(t.frame.x for t in place.terminals))
                for sheet in layout.sheets for place in sheet.accessories if place.name in roses and place.terminals),
               default=ROOM)


def _without_rows(drawing: Drawing) -> Drawing:
    """Without the marks of the rows of a terminal: as many as conductors end in it."""
    kept = tuple(s for s in drawing.shapes if not (isinstance(s, Line) and s.role == "row line"))
    return replace(drawing, shapes=kept)


def _style(look: Look, wish: Wish) -> Style:
    style = style_of(replace(look, colours=""))
    return enlarged(style) if wish.large else style


def enlarged(style: Style) -> Style:
    """The style with all its text larger, but for the query that stands in a disc of fixed size."""
    letterings = {role: replace(lettering, size=round(lettering.size * (LARGE if role != "unknown" else 1), 1))
                  for role, lettering in style.letterings.items()}
    return replace(style, letterings=letterings)


def fault_sheets(text: bytes | str, look: Look, wish: Wish = Wish(), source: str = "") -> tuple[bytes, bytes]:
    """A fault for a class to find, one for each version: what is handed out and what is kept, a PDF each."""
    from sheetgen.pages.handout_fault import compose as fault_pages
    from sheetgen.teach.fault_tasks import fault_tasks

    style = _style(look, wish)
    sides, jobs, tasks = _sides(text, look, wish), [], []
    for _, circuit, reading in sides:
        drawings = drawings_of(circuit.wiring, reading, style)
        jobs.append(Job(circuit.wiring, circuit.solution, reading, drawings=drawings, sets=style.sets, source=source,
                        fingerprint=fingerprint(text)))
        tasks.append(fault_tasks(circuit, wish.versions, wish.seed, ranked_in=sides[0][1]))
    titles = [style.sets[name].title if len(sides) > 1 else "" for name, _, _ in sides]
    return _bound(fault_pages(tuple(zip(titles, jobs, tasks, strict=True))), jobs, style)
