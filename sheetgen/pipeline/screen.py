"""The way through to a sheet for the screen: the same stages as a job sheet, in every look, with every setting."""

from __future__ import annotations

from dataclasses import replace

from sheetgen.circuit import Circuit
from sheetgen.circuit.current import flow_of
from sheetgen.draw.diagram import diagrams_in
from sheetgen.draw.layout import wiring_to_layout
from sheetgen.draw.wiring import layout_to_drawing
from sheetgen.model.drawing import Drawing, Line, Shape
from sheetgen.model.layout import CoreEndPlace, Layout, MarkPlace, PassingPlace, TextPlace
from sheetgen.model.reading import Reading
from sheetgen.model.screen import Screen, View
from sheetgen.model.solution import Solution
from sheetgen.model.wiring import Wiring
from sheetgen.pipeline import Look, fingerprint, judged, shown_in, style_of
from sheetgen.print.screen import screen_to_html
from sheetgen.tell.story import stories_of

MOST_TOLD = 64  # settings of a group up to which each is told in words


def screen_sheet(text: bytes | str, source: str = "") -> str:
    """The whole sheet, as HTML."""
    return screen_to_html(*screen_of(text, source))


def screen_of(text: bytes | str, source: str = "") -> tuple[Screen, Solution]:
    """The drawings in every look, the sentences and flows of every setting; and the solution."""
    circuit, reading = judged(text)
    layout = wiring_to_layout(circuit.wiring, style_of())  # one for all looks: nothing moves when another is put on
    views = [_view("found", "As found", layout, circuit, reading, Look())]
    for name in style_of().sets:
        recoloured, read = shown_in(circuit, name)
        labelled = _relabelled(layout, circuit.wiring, recoloured.wiring)
        views.append(_view(name, f"All {name}", labelled, recoloured, read, Look(name)))
    views.append(_view("mono", "Black and white", layout, circuit, reading, Look(mono=True)))
    flows = {
        group.switches or group.lamps: {
            row.setting: tuple(name for kind, name in flow_of(circuit, group, row).steps() if kind == "core")
            for row in group.rows
        }
        for group in circuit.solution.groups
    }
    return Screen(tuple(views), flows, source, fingerprint(text)), circuit.solution


def _relabelled(layout: Layout, before: Wiring, after: Wiring) -> Layout:
    """The same places with the colour codes of another colour set: 'RD W1' becomes 'BN W1'."""
    renamed = {core.key: core.label for core in after.cores()}
    code_of = {core.key: (core.label, renamed[core.key]) for core in before.cores()}
    single_of = {f"{core.label} {core.cable}": f"{renamed[core.key]} {core.cable}" for core in before.cores()}

    def code(place: CoreEndPlace | PassingPlace) -> TextPlace:
        old, new = code_of[place.core]
        return replace(place.code, text=f"{new}{place.code.text.removeprefix(old)}")

    def mark(place: MarkPlace) -> MarkPlace:
        return replace(place, words=tuple(replace(w, text=single_of.get(w.text, w.text)) for w in place.words))

    return Layout(tuple(
        replace(sheet, core_ends=tuple(replace(e, code=code(e)) for e in sheet.core_ends),
                passing=tuple(replace(p, code=code(p)) for p in sheet.passing), marks=tuple(map(mark, sheet.marks)))
        for sheet in layout.sheets
    ))


def _view(name: str, title: str, layout: Layout, circuit: Circuit, reading: Reading, look: Look) -> View:
    wiring = circuit.wiring
    style = style_of(look)
    sheets = layout_to_drawing(layout, wiring, reading, style)
    for position in range(1, _most_positions(wiring)):
        moved = layout_to_drawing(layout, turned(wiring, position), reading, style)
        sheets = tuple(_with_blades(a, b, wiring, position) for a, b in zip(sheets, moved, strict=True))
    sheets = tuple(replace(sheet, shapes=tuple(_named(s, wiring, 0) for s in sheet.shapes)) for sheet in sheets)
    stories = stories_of(circuit, lambda group: group.rows if len(group.rows) <= MOST_TOLD else ())
    return View(name, title, wiring, reading, style, sheets, diagrams_in(circuit, style), stories)


def _most_positions(wiring: Wiring) -> int:
    return max((len(switch.positions) for _, _, switch in wiring.switches()), default=1)


def turned(wiring: Wiring, position: int) -> Wiring:
    """The same wiring with that position of every switch named first, which is the one that is drawn."""
    accessories = tuple(
        replace(a, kind=replace(a.kind, switches=tuple(
            replace(s, positions=(*s.positions[position:], *s.positions[:position])) for s in a.kind.switches
        )))
        for a in wiring.accessories
    )
    return replace(wiring, accessories=accessories)


def _is_blade(shape: Shape) -> bool:
    return isinstance(shape, Line) and shape.role == "symbol" and "switch" in dict(shape.about)


def _named(shape: Shape, wiring: Wiring, position: int) -> Shape:
    """A blade that says which switch it belongs to and in which position it stands so; a lamp that says its load."""
    about = dict(shape.about)
    accessory = next((a for a in wiring.accessories if a.name == about.get("accessory")), None)
    if accessory is None or "moves" in about:
        return shape
    if _is_blade(shape):
        for switch in accessory.kind.switches:
            if about["switch"] == (switch.name or switch.what) and position < len(switch.positions):
                more = (("moves", accessory.switch_name(switch)), ("position", switch.positions[position].name))
                return replace(shape, about=(*shape.about, *more))
    if shape.role == "symbol fill" and "switch" not in about and accessory.kind.loads:
        return replace(shape, about=(*shape.about, ("load", accessory.load_name(accessory.kind.loads[0]))))
    return shape


def _with_blades(sheet: Drawing, moved: Drawing, wiring: Wiring, position: int) -> Drawing:
    """A drawing with the blades of another position added, each beside those of its switch."""
    blades: dict[tuple[str, str], list[Shape]] = {}
    for shape in moved.shapes:
        if _is_blade(shape) and "moves" in dict((named := _named(shape, wiring, position)).about):
            blades.setdefault(_whose(shape), []).append(named)
    shapes: list[Shape] = []
    for shape in sheet.shapes:
        if "switch" in dict(shape.about):
            shapes += blades.pop(_whose(shape), [])
        shapes.append(shape)
    return replace(sheet, shapes=tuple(shapes))


def _whose(shape: Shape) -> tuple[str, str]:
    about = dict(shape.about)
    return about["accessory"], about["switch"]
