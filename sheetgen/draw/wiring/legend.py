"""The legend of a drawing: only what occurs in it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

from sheetgen.circuit.conduit import passed_by
from sheetgen.draw.typeface import text_width
from sheetgen.draw.wiring.dangers import danger_mark
from sheetgen.draw.wiring.sheet import loose_end, moved, unknown_end
from sheetgen.draw.wiring.sleeves import SHORT, as_found, code_in, sleeve_shapes
from sheetgen.draw.wiring.symbols import load_symbol
from sheetgen.judge.in_danger import in_danger
from sheetgen.judge.sleeves import taken_as_fitted
from sheetgen.model.drawing import Area, Box, Drawing, Line, Shape, Text
from sheetgen.model.geometry import MM
from sheetgen.model.layout import Frame
from sheetgen.model.reading import Reading, Sleeve, Standing
from sheetgen.model.style import Style
from sheetgen.model.wiring import Cable, Core, Status, Wiring

SAMPLE, GAP, LINE = 700, 130, 440
BETWEEN = 450
SINGLE = "single, with its name"
PROPOSED, TAKEN = "sleeve of the proposal, to be fitted", " or assumed"
RADIUS = 150
LOADS = {"fan": "motor of a fan", "electronics": "electronics"}
LegendEntry = tuple[list[Shape], str, str]  # sample, code, words
SLEEVES = {
    Standing.FITTED: "sleeve, fitted",
    Standing.MISSING: "sleeve to be fitted",
    Standing.NEEDLESS: "sleeve not needed",
    Standing.WRONG: "sleeve of the wrong colour",
}


def legend(
    wiring: Wiring, reading: Reading | None, style: Style, width: int | None = None, marks: bool = False,
    sheet: Drawing | None = None,
) -> Drawing:
    """The legend, in lines no longer than `width` (by default not quite half the paper's).

    `marks`: the drawing goes on from sheet to sheet. `sheet`: only what occurs on this one of its drawings.
    """
    marked = in_danger(reading, wiring)
    passing, hidden = bool(passed_by(wiring)), False
    if sheet:
        passing = any(name == "passes" for shape in sheet.shapes for name, _ in shape.about)
        hidden = any(shape.role == "symbol hidden" for shape in sheet.shapes)
        wiring, reading, marks = _narrowed(sheet, wiring, reading)
    width = width or (style.paper.width - 2 * style.paper.margin) * MM // 2 - 4 * MM
    entries = [*_colours(wiring, style), *_sleeves(wiring, reading, style), *_others(wiring, marks, passing),
               *_symbols(wiring, hidden), *_dangers(marked, wiring, style)]
    shapes: list[Shape] = []
    x, y = 0, LINE // 2
    for sample, code, words in entries:
        parts = [(code, "legend code")] if code else []
        parts.append((words, "legend"))
        needed = SAMPLE + sum(GAP + text_width(text, style.letterings[role]) for text, role in parts)
        if x and x + needed > width:
            x, y = 0, y + LINE
        shapes += [moved(shape, x, y) for shape in sample]
        at = x + SAMPLE
        for text, role in parts:
            shapes.append(Text(at + GAP, y + 88, text, role, "start", (("legend", code or words),)))
            at += GAP + text_width(text, style.letterings[role])
        x = at + BETWEEN
    return Drawing(width, y + LINE // 2, tuple(shapes), f"Legend: {wiring.job}")


def _narrowed(sheet: Drawing, wiring: Wiring, reading: Reading | None) -> tuple[Wiring, Reading | None, bool]:
    """What of a wiring and its reading is to be seen on one sheet; whether the sheet has a continuation mark."""
    abouts = [dict(shape.about) for shape in sheet.shapes]
    names = {about["accessory"] for about in abouts if "accessory" in about}
    cables = {about["core"].rpartition("/")[0] for about in abouts if "core" in about}
    ends = ends_on(sheet)
    shown = tuple(_ends_here(cable, ends) for cable in wiring.cables if cable.name in cables)
    here = replace(wiring, accessories=tuple(a for a in wiring.accessories if a.name in names), cables=shown)
    if reading:
        sleeves = tuple(s for s in reading.sleeves if (s.core, s.end) in ends)
        reading = replace(reading, sleeves=sleeves)
    return here, reading, any(shape.role == "mark" for shape in sheet.shapes)


def ends_on(sheet: Drawing) -> frozenset[tuple[str, int]]:
    """The core ends that are drawn on a sheet, as core and end."""
    abouts = (dict(shape.about) for shape in sheet.shapes)
    return frozenset((about["core"], int(about["end"])) for about in abouts if "core" in about and "end" in about)


def _ends_here(cable: Cable, ends: frozenset[tuple[str, int]]) -> Cable:
    """The cable as its sheet shows it: of an end on another sheet nothing is said."""
    cores = []
    for core in cable.cores:
        a, b = (end if (core.key, i) in ends else replace(end, terminal="elsewhere", sleeve=None, unknown=False)
                for i, end in enumerate(core.ends))
        cores.append(replace(core, ends=(a, b)))
    return replace(cable, cores=tuple(cores))


def _colours(wiring: Wiring, style: Style) -> Iterator[LegendEntry]:
    """Every conductor colour that occurs, in the order of the colour codes, a bare core last."""
    used = {core.colour for core in wiring.cores()}
    for code in [c for c in style.colours if c in used]:
        sample: list[Shape] = [Line(((0, 0), (SAMPLE, 0)), "conductor", code)]
        yield sample, code or "bare", style.names.get(code, "core without insulation")


def _sleeves(wiring: Wiring, reading: Reading | None, style: Style) -> Iterator[LegendEntry]:
    """Every kind of sleeve that occurs, shown on the first core that has one, best one whose code is written in it."""
    sleeves = reading.sleeves if reading else tuple(as_found(wiring).values())
    cores = {core.key: core for core in wiring.cores()}
    length, height = style.measures["sleeve"], style.measures["sleeve height"]
    frame = Frame((SAMPLE - length) // 2, -height // 2, length, height)
    for standing, words in SLEEVES.items():
        those = sorted((s for s in sleeves if s.standing is standing), key=lambda s: not code_in(s, frame, style))
        if those:
            line = Line(((0, 0), (SAMPLE, 0)), "conductor", cores[those[0].core].colour)
            if standing is Standing.FITTED:
                words = _there([cores[s.core] for s in those], wiring)
            yield [line, *sleeve_shapes(those[0], frame, (), style)], "", words + _long_codes(those, frame, style)


def _there(cores: Sequence[Core], wiring: Wiring) -> str:
    """What is said of sleeves that the description has: on a proposal none is there, and some are only taken to be."""
    if wiring.status is Status.PROPOSED:
        return PROPOSED
    taken = [taken_as_fitted(core, wiring) for core in cores]
    return "sleeve, assumed fitted" if all(taken) else f"{SLEEVES[Standing.FITTED]}{TAKEN if any(taken) else ''}"


def _long_codes(sleeves: Sequence[Sleeve], frame: Frame, style: Style) -> str:
    """How a sleeve shows a colour whose code is too long to be written in it."""
    for sleeve in sleeves:
        if sleeve.colour in SHORT and sleeve.standing in (Standing.FITTED, Standing.MISSING):
            code = code_in(sleeve, frame, style)
            colour = style.names[sleeve.colour]
            return f"; {code}: {colour}" if code else f"; banded: {colour}"
    return ""


def _dangers(marked: frozenset[str], wiring: Wiring, style: Style) -> Iterator[LegendEntry]:
    if any(a.name in marked for a in wiring.accessories):
        yield danger_mark(SAMPLE // 2, 140, style), "", "danger: see the findings"


def _others(wiring: Wiring, marks: bool, passing: bool) -> Iterator[LegendEntry]:
    half = SAMPLE // 2
    if any(len(c.cores) > 1 and not c.flex for c in wiring.cables):
        yield [Line(((0, 0), (SAMPLE, 0)), "sheath")], "", "cable, with its name"
    if any(len(c.cores) > 1 and c.flex for c in wiring.cables):
        yield [Line(((0, 0), (SAMPLE, 0)), "flex")], "", "flexible cord"
    singles = [c for c in wiring.cables if c.single]
    if singles:
        core = singles[0].cores[0]
        yield [Line(((0, 0), (SAMPLE, 0)), "conductor", core.colour)], f"{core.label} {core.cable}", SINGLE
    together = Counter((c.run_in, frozenset(c.ends)) for c in singles if not c.link)
    trunks = [bool(run_in) for (run_in, _), count in together.items() if run_in or count > 1]
    if trunks:
        yield [Line(((0, 0), (SAMPLE, 0)), "trunk")], "", _of_trunks(trunks)
    if passing:
        core = next(c for c in singles if c.run_in and not c.link).cores[0]
        box = Box(100, -150, SAMPLE - 200, 300, "enclosure", 50)
        yield [box, Line(((0, 0), (SAMPLE, 0)), "conductor", core.colour)], "", "single that passes a box uncut"
    if any(t.connector for a in wiring.accessories for t in a.kind.terminals):
        yield [Box(50, -110, SAMPLE - 100, 220, "connector", 50)], "", "connector, not part of the accessory"
    if any(end.nothing for core in wiring.cores() for end in core.ends):
        yield loose_end(half, 0, ()), "", "core that ends in nothing"
    if wiring.unknown_ends:
        yield unknown_end(half, 0, ()), "", "end not known: treat it as live"
    if marks:
        points = ((50, -150), (SAMPLE - 200, -150), (SAMPLE - 50, 0), (SAMPLE - 200, 150), (50, 150))
        yield [Area(points, "mark")], "", "goes on where the same number stands"


def _symbols(wiring: Wiring, hidden: bool) -> Iterator[LegendEntry]:
    """Of what stands for a load only what is no lamp, which everybody knows; `hidden`: something passes behind."""
    half = SAMPLE // 2
    drawn = {load.what for a in wiring.accessories for load in a.kind.loads}
    for what, words in LOADS.items():
        if what in drawn:
            yield load_symbol(what, half, 0, RADIUS), "", words
    if hidden:
        yield [Line(((half, -150), (half, 150)), "symbol hidden")], "", "joined within it, behind the terminal"


def _of_trunks(enclosed: Sequence[bool]) -> str:
    """What singles drawn as one are: each entry says of a trunk whether it is in conduit or trunking."""
    if all(enclosed):
        return "conduit or trunking with its singles, from box to box"
    return f"singles that run together{', or in conduit' if any(enclosed) else ''}"
