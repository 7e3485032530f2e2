"""The way through, one call for each stage. Pure: text in, values and bytes out; only commands open files and print."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from typing import TYPE_CHECKING

from sheetgen.model.drawing import Drawing, Text
from sheetgen.model.job import Diagram, Job
from sheetgen.model.reading import Finding, Reading
from sheetgen.model.solution import Solution
from sheetgen.model.style import Style
from sheetgen.model.wiring import Status, Wiring

if TYPE_CHECKING:
    from sheetgen.circuit import Circuit


LAID_ALONE = "Laid by a method. Once you have changed it to what is there, write 'status: as found'."


@dataclass(frozen=True)
class Look:
    """How the sheet is asked for: colour set ("" as found), print style, paper."""

    colours: str = ""
    mono: bool = False
    paper: str = "a4"


@cache
def style_of(look: Look = Look()) -> Style:
    """The style for a look."""
    from sheetgen.read.style_from_yaml import load_style

    return load_style("mono" if look.mono else "colour", look.paper)


def wiring_of(text: bytes | str, to_teach: bool = False) -> Wiring:
    """Read and understand a description; Refused with every problem. `to_teach`: bad practice is laid too, with its
    warning; of what comes of it every sheet says so."""
    from sheetgen.read.description_to_wiring import description_to_wiring
    from sheetgen.read.text_to_description import text_to_description

    return description_to_wiring(text_to_description(text), style_of().sets, to_teach)


def written_out(text: bytes | str) -> str:
    """The description with everything that methods lay written out core by core, with comments."""
    from sheetgen.read.description_to_text import description_to_text
    from sheetgen.read.description_to_wiring.by_method import written_out
    from sheetgen.read.text_to_description import text_to_description

    content, laid = written_out(text_to_description(text), style_of().sets)
    opening = LAID_ALONE if content.status == Status.BY_METHOD.value else ""
    return description_to_text(content, laid.comments, laid.sections, opening)


def solution_of(text: bytes | str) -> Solution:
    """The state of everything in every setting."""
    from sheetgen.solve.wiring_to_solution import wiring_to_solution

    return wiring_to_solution(wiring_of(text))


def circuit_of(text: bytes | str, to_teach: bool = False) -> Circuit:
    """The solved circuit, as found; `to_teach` as of `wiring_of`."""
    from sheetgen.circuit import circuit_of

    return circuit_of(wiring_of(text, to_teach))


def judged(text: bytes | str, colours: str = "") -> tuple[Circuit, Reading]:
    """The solved circuit and what is to be said of it, in the colour set asked for; "" is as found."""
    return shown_in(circuit_of(text), colours)


def shown_in(circuit: Circuit, colours: str) -> tuple[Circuit, Reading]:
    """A solved circuit in a colour set, and its reading; as it is where it is in that set already. Solved once, for
    colours change nothing of that."""
    from sheetgen.circuit import Circuit
    from sheetgen.judge import judge
    from sheetgen.judge.recolour import as_found, wiring_to_recoloured, with_sleeves

    sets = style_of().sets
    reading = judge(circuit, sets)
    if not colours:
        return circuit, reading
    bare = wiring_to_recoloured(circuit.wiring, reading.roles, sets[colours])
    if as_found(circuit.wiring, bare):
        return circuit, reading
    sleeves = judge(Circuit(bare, circuit.solution), sets, cures=False).sleeves
    wiring = with_sleeves(bare, sleeves, reading.sleeves_as_it_is, circuit.wiring, sets)
    circuit = Circuit(wiring, circuit.solution)
    return circuit, judge(circuit, sets)


def understood(text: bytes | str, colours: str = "") -> tuple[Wiring, Solution, Reading]:
    """Wiring, solution and reading, in the colour set asked for; "" is as found."""
    circuit, reading = judged(text, colours)
    return circuit.wiring, circuit.solution, reading


def reading_of(wiring: Wiring, solution: Solution) -> Reading:
    """What a solved wiring means."""
    from sheetgen.circuit import Circuit
    from sheetgen.judge import judge

    return judge(Circuit(wiring, solution), style_of().sets)


def findings_of(text: bytes | str) -> tuple[Finding, ...]:
    """What the check noticed, most serious first."""
    return judged(text)[1].findings


def drawings_of(wiring: Wiring, reading: Reading, style: Style) -> tuple[Drawing, ...]:
    """The wiring drawing, one for each sheet it needs."""
    from sheetgen.draw.layout import wiring_to_layout
    from sheetgen.draw.wiring import layout_to_drawing

    return layout_to_drawing(wiring_to_layout(wiring, style), wiring, reading, style)


def drawings_with_overview(
    wiring: Wiring, reading: Reading, style: Style,
) -> tuple[tuple[Drawing, ...], tuple[Drawing, ...]]:
    """The wiring drawing, and what is drawn on which sheet of it: nothing where there is one sheet."""
    from sheetgen.draw.layout import wiring_to_layout, wiring_to_overview
    from sheetgen.draw.wiring import layout_to_drawing

    layout = wiring_to_layout(wiring, style)
    overview = wiring_to_overview(wiring, layout, style)
    return layout_to_drawing(layout, wiring, reading, style), layout_to_drawing(overview, wiring, reading, style)


def diagrams_for(circuit: Circuit, style: Style) -> tuple[Diagram, ...]:
    """The circuit diagram of each group, and its live paths in ink and in words."""
    from sheetgen.draw.diagram import rows_to_tell, wiring_to_diagrams
    from sheetgen.tell.story import stories_of

    return wiring_to_diagrams(circuit, style, stories_of(circuit, rows_to_tell))


def plots_for(circuit: Circuit, reading: Reading, style: Style) -> tuple[Drawing, ...]:
    """The volt drop to each lamp, where lengths are given and some lamp loses enough to be seen."""
    from sheetgen.draw.plots import drop_plots, profiles_of, worth_plotting

    drops = reading.figures.drops
    return drop_plots(profiles_of(circuit, drops), style) if worth_plotting(drops) else ()


def job_of(text: bytes | str, look: Look, source: str = "") -> Job:
    """Everything a job sheet prints."""
    from sheetgen.draw.wiring import legend

    style = style_of(look)
    circuit, reading = judged(text, look.colours)
    drawings, overview = drawings_with_overview(circuit.wiring, reading, style)
    return Job(
        circuit.wiring, circuit.solution, reading,
        drawings=drawings,
        overview=overview,
        legend=legend(circuit.wiring, reading, style, marks=len(drawings) > 1),
        legends=tuple(legend(circuit.wiring, reading, style, sheet=drawing) for drawing in drawings),
        diagrams=diagrams_for(circuit, style),
        plots=plots_for(circuit, reading, style),
        sets=style.sets,
        source=source,
        fingerprint=fingerprint(text),
    )


def undrawn_job(text: bytes | str, source: str = "") -> Job:
    """A job as far as it is judged, for those who draw nothing."""
    circuit, reading = judged(text)
    return Job(circuit.wiring, circuit.solution, reading, sets=style_of().sets, source=source,
               fingerprint=fingerprint(text))


def job_sheet(text: bytes | str, look: Look, source: str = "", kinds: tuple[str, ...] | None = None) -> bytes:
    """The whole job sheet, as PDF."""
    return sheet_of(job_of(text, look, source), look, kinds)


def sheet_of(job: Job, look: Look, kinds: tuple[str, ...] | None = None) -> bytes:
    """The pages of a job asked for, or all, as PDF."""
    from sheetgen.pages.job_to_pages import job_to_pages
    from sheetgen.print.pdf import info_of, pages_to_pdf

    return pages_to_pdf(job_to_pages(job, kinds), style_of(look), info_of(job))


def drawing_files(text: bytes | str, look: Look, form: str, *, diagram: bool = False,
                  source: str = "") -> Iterator[tuple[str, bytes]]:
    """(ending of the name, content) for every file of a drawing: one SVG or PNG a sheet, or one PDF."""
    style = style_of(look)
    circuit, reading = judged(text, look.colours)
    if diagram:
        from sheetgen.draw.diagram import diagrams_of

        drawings = diagrams_of(circuit, style)
    else:
        drawings = drawings_of(circuit.wiring, reading, style)
    if circuit.wiring.recoloured:
        drawings = tuple(map(_not_as_found, drawings))
    if form == "svg":
        from sheetgen.print.svg import drawing_to_svg

        contents = [drawing_to_svg(d, style).encode() for d in drawings]
    else:
        from sheetgen.print.pdf import drawings_to_pdf

        contents = [drawings_to_pdf(drawings, style, title=circuit.wiring.job)]
        if form == "png":
            contents = pdf_to_png(contents[0])
    for number, content in enumerate(contents, 1):
        yield (f"-{number}" if len(contents) > 1 else ""), content


def _not_as_found(drawing: Drawing) -> Drawing:
    """The drawing with the words beneath it that its colours are not as found: it may be passed on by itself."""
    from sheetgen.model.words import NOT_AS_FOUND, NOT_AS_FOUND_SHORT

    lines = (("tag", NOT_AS_FOUND), ("mark words", NOT_AS_FOUND_SHORT))
    words = tuple(Text(300, drawing.height + 350 * i, text, role, "start") for i, (role, text) in enumerate(lines, 1))
    return replace(drawing, height=drawing.height + 900, shapes=(*drawing.shapes, *words))


def pdf_to_png(pdf: bytes, dots_per_inch: int = 200) -> list[bytes]:
    """Every page of a PDF as a PNG."""
    import io

    import pypdfium2

    pages = []
    for page in pypdfium2.PdfDocument(pdf):
        out = io.BytesIO()
        page.render(scale=dots_per_inch / 72).to_pil().save(out, "PNG")
        pages.append(out.getvalue())
    return pages


def fingerprint(text: bytes | str) -> str:
    """A short mark of a description's bytes, so that paper and file can be matched."""
    data = text.encode() if isinstance(text, str) else text
    return hashlib.sha256(data).hexdigest()[:8]


def schema() -> dict[str, object]:
    """The JSON Schema of a description, with the words of the catalogues for an editor to offer."""
    from sheetgen.catalogue.accessories import CATALOGUE
    from sheetgen.catalogue.cables import TYPES
    from sheetgen.model.description import json_schema

    value = json_schema()
    accessory = value["$defs"]["AccessoryText"]["properties"]
    accessory["kind"] = {"type": "string", "description": "kind of accessory", "examples": [e.name for e in CATALOGUE]}
    for entry in CATALOGUE:
        for option in entry.options:
            accessory.setdefault(option, {"description": f"of a {entry.name}"})
    cable = value["$defs"]["CableText"]["properties"]
    cable["type"] = {**cable["type"], "type": "string", "examples": [f"{t.name} 1.0" for t in TYPES]}
    return value
