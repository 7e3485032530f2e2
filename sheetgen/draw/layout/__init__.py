"""Lays a wiring out on sheets of paper: the passes, in the order in which they run on every sheet."""

from __future__ import annotations

from dataclasses import replace

from sheetgen.draw.layout.arrangements import find_arrangements
from sheetgen.draw.layout.assemble import assemble
from sheetgen.draw.layout.channels import set_levels
from sheetgen.draw.layout.choose import choose
from sheetgen.draw.layout.order import put_in_order
from sheetgen.draw.layout.oversize import first_parting, in_parts, may_be_parted, under_their_names
from sheetgen.draw.layout.scene import Scene
from sheetgen.draw.layout.sheets import DoesNotFit, may_fit, number_marks, part_over_sheets
from sheetgen.draw.layout.straighten import straighten
from sheetgen.draw.layout.wiring_to_scene import wiring_to_scene
from sheetgen.draw.paper import drawing_space
from sheetgen.model.layout import Layout, Sheet
from sheetgen.model.style import Style
from sheetgen.model.wiring import Wiring

PASSES = (find_arrangements, put_in_order, choose, straighten, set_levels)


def wiring_to_layout(wiring: Wiring, style: Style, space: tuple[int, int] | None = None) -> Layout:
    """The layout on one sheet, or on several where it does not fit.

    `space` is the width and height that a sheet leaves the drawing, in hundredths of a millimetre; by default what the
    style's paper leaves beside its margins, title and legend. An accessory too large for a sheet is drawn in parts;
    raises DoesNotFit where one cable alone is too large.
    """
    width, height = space or drawing_space(style)
    parting = first_parting(wiring, style, width)
    while True:
        parts, parting = in_parts(wiring, parting)
        try:
            return under_their_names(_normal_or_tight(parts, style, width, height), parting)
        except DoesNotFit as refused:
            if not may_be_parted(wiring, parting, refused.accessory):
                raise
            parting = parting.further(refused.accessory)


def _normal_or_tight(wiring: Wiring, style: Style, width: int, height: int) -> Layout:
    try:
        return _layout(wiring, style, width, height)
    except DoesNotFit:
        return _layout(wiring, _tight(style), width, height)


def _tight(style: Style) -> Style:
    """The same style with rows nearer to one another; no text is smaller."""
    m = style.measures
    closer = {"row": m["row tight"], "terminal gap": m["terminal gap tight"]}
    return replace(style, measures={**m, **closer})


def _layout(wiring: Wiring, style: Style, width: int, height: int) -> Layout:
    scene = find_arrangements(wiring_to_scene(wiring, style, {a.name: 1 for a in wiring.accessories}, 1, {}, width))
    if may_fit(scene):
        sheet = _lay(scene, wiring)
        if sheet.width <= width and sheet.height <= height:
            return Layout((sheet,))
    return _several(scene, wiring, style, width, height)


def _lay(scene: Scene, wiring: Wiring) -> Sheet:
    for run_pass in PASSES[bool(scene.choices):]:
        scene = run_pass(scene)
    return assemble(scene, wiring)


def _several(whole: Scene, wiring: Wiring, style: Style, width: int, height: int) -> Layout:
    done: dict[object, Sheet] = {}

    def lay(parts: tuple[tuple[str, ...], ...], i: int) -> Sheet:
        sheet_of, marks = number_marks(parts, whole)
        scene = replace(wiring_to_scene(wiring, style, sheet_of, i + 1, marks, width), known=whole.known)
        key = (scene.number, tuple(scene.enclosures.values()))
        if key not in done:
            done[key] = _lay(scene, wiring)
        return done[key]

    def fits(sheet: Sheet) -> bool:
        return sheet.width <= width and sheet.height <= height

    parts = part_over_sheets(whole, width, height, lay, fits)
    return Layout(tuple(lay(parts, i) for i in range(len(parts))))


__all__ = ["PASSES", "DoesNotFit", "drawing_space", "wiring_to_layout"]
