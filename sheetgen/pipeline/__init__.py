"""The way through, one call for each stage. Pure: text in, values and bytes out; only commands open files and print."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache

from sheetgen.model.drawing import Drawing
from sheetgen.model.job import Diagram, Job
from sheetgen.model.reading import Finding, Reading
from sheetgen.model.solution import Solution
from sheetgen.model.style import Style
from sheetgen.model.wiring import Wiring


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


def wiring_of(text: bytes | str) -> Wiring:
    """Read and understand a description; Refused with every problem."""
    from sheetgen.read.description_to_wiring import description_to_wiring
    from sheetgen.read.text_to_description import text_to_description

    return description_to_wiring(text_to_description(text), style_of().sets)


def written_out(text: bytes | str) -> str:
    """The description with everything that methods lay written out core by core, with comments."""
    from sheetgen.read.description_to_text import description_to_text
    from sheetgen.read.description_to_wiring.by_method import written_out
    from sheetgen.read.text_to_description import text_to_description

    content, laid = written_out(text_to_description(text), style_of().sets)
    return description_to_text(content, laid.comments, laid.sections)


def solution_of(text: bytes | str) -> Solution:
    """The state of everything in every setting."""
    from sheetgen.solve.wiring_to_solution import wiring_to_solution

    return wiring_to_solution(wiring_of(text))


def understood(text: bytes | str, colours: str = "") -> tuple[Wiring, Solution, Reading]:
    """Wiring, solution and reading, in the colour set asked for; "" is as found."""
    from sheetgen.solve.wiring_to_solution import wiring_to_solution

    wiring = wiring_of(text)
    solution = wiring_to_solution(wiring)
    reading = reading_of(wiring, solution)
    if colours:
        wiring = _recoloured(wiring, solution, reading, colours)
        reading = reading_of(wiring, solution)
    return wiring, solution, reading


def reading_of(wiring: Wiring, solution: Solution) -> Reading:
    """What a solved wiring means: roles, sleeves, findings; the method of each circuit; what is at each accessory."""
    from sheetgen.judge import solution_to_reading
    from sheetgen.judge.methods import recognise, what_is_where

    reading = solution_to_reading(wiring, solution, style_of().sets)
    return replace(
        reading,
        circuits=recognise(wiring, solution),
        places=what_is_where(wiring, solution, reading.roles, reading.ways),
    )


def _recoloured(wiring: Wiring, solution: Solution, reading: Reading, colours: str) -> Wiring:
    from sheetgen.circuit.recolour import wiring_to_recoloured, with_sleeves
    from sheetgen.judge import solution_to_reading

    sets = style_of().sets
    bare = wiring_to_recoloured(wiring, reading.roles, sets[colours])
    return with_sleeves(bare, solution_to_reading(bare, solution, sets).sleeves, reading.sleeves)


def findings_of(text: bytes | str) -> tuple[Finding, ...]:
    """What the check noticed, most serious first."""
    return understood(text)[2].findings


def drawings_of(wiring: Wiring, reading: Reading, style: Style) -> tuple[Drawing, ...]:
    """The wiring drawing, one for each sheet it needs."""
    from sheetgen.draw.layout import wiring_to_layout
    from sheetgen.draw.wiring import layout_to_drawing

    return layout_to_drawing(wiring_to_layout(wiring, style), wiring, reading, style)


def diagrams_for(wiring: Wiring, solution: Solution, style: Style) -> tuple[Diagram, ...]:
    """The circuit diagram of each group, and its live paths in ink and in words."""
    from sheetgen.draw.diagram import rows_to_tell, wiring_to_diagrams
    from sheetgen.tell.story import stories_of

    return wiring_to_diagrams(wiring, solution, style, stories_of(wiring, solution, rows_to_tell))


def plots_for(wiring: Wiring, solution: Solution, reading: Reading, style: Style) -> tuple[Drawing, ...]:
    """The volt drop to each lamp, where lengths are given and some lamp loses enough to be seen."""
    from sheetgen.draw.plots import drop_plots, profiles_of, worth_plotting
    from sheetgen.judge.figures import reckon

    drops = reckon(wiring, solution, reading.ways).drops
    return drop_plots(profiles_of(wiring, solution, drops), style) if worth_plotting(drops) else ()


def job_of(text: bytes | str, look: Look, source: str = "") -> Job:
    """Everything a job sheet prints."""
    from sheetgen.draw.wiring import legend

    style = style_of(look)
    wiring, solution, reading = understood(text, look.colours)
    drawings = drawings_of(wiring, reading, style)
    return Job(
        wiring, solution, reading,
        drawings=drawings,
        legend=legend(wiring, reading, style, marks=len(drawings) > 1),
        legends=tuple(legend(wiring, reading, style, sheet=drawing) for drawing in drawings),
        diagrams=diagrams_for(wiring, solution, style),
        plots=plots_for(wiring, solution, reading, style),
        sets=style.sets,
        source=source,
        fingerprint=fingerprint(text),
    )


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
    wiring, solution, reading = understood(text, look.colours)
    if diagram:
        from sheetgen.draw.diagram import diagrams_of

        drawings = diagrams_of(wiring, solution, reading, style)
    else:
        drawings = drawings_of(wiring, reading, style)
    if form == "svg":
        from sheetgen.print.svg import drawing_to_svg

        contents = [drawing_to_svg(d, style).encode() for d in drawings]
    else:
        from sheetgen.print.pdf import drawings_to_pdf

        contents = [drawings_to_pdf(drawings, style, title=wiring.job)]
        if form == "png":
            contents = pdf_to_png(contents[0])
    for number, content in enumerate(contents, 1):
        yield (f"-{number}" if len(contents) > 1 else ""), content


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


def schema() -> dict:
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
