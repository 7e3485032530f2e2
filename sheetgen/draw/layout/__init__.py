"""Lays a wiring out on sheets of paper: the passes, in the order in which they run on every sheet."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from typing import NamedTuple

from sheetgen.draw.layout.arrangements import find_arrangements
from sheetgen.draw.layout.assemble import assemble, band_width, size_of, width_of_gutters
from sheetgen.draw.layout.channels import set_levels
from sheetgen.draw.layout.choose import choose
from sheetgen.draw.layout.facing import face_forwards
from sheetgen.draw.layout.order import put_in_order
from sheetgen.draw.layout.oversize import first_parting, in_parts, may_be_parted, under_their_names
from sheetgen.draw.layout.overview import OverviewWiring, overview_scene
from sheetgen.draw.layout.scene import Scene, SheetPlace
from sheetgen.draw.layout.sheets import (
    CostsMore,
    DoesNotFit,
    MostAllowed,
    Parting,
    least_width,
    may_fit,
    number_marks,
    part_over_sheets,
)
from sheetgen.draw.layout.straighten import slide_mouths
from sheetgen.draw.layout.strips import Strip, in_strips, strips_of
from sheetgen.draw.layout.through import in_stretches, joined
from sheetgen.draw.layout.weighing import drawbacks_of
from sheetgen.draw.layout.wiring_to_scene import IndexedWiring, wiring_to_scene
from sheetgen.draw.paper import drawing_space
from sheetgen.model.geometry import MM
from sheetgen.model.layout import Layout
from sheetgen.model.style import Style
from sheetgen.model.wiring import Wiring

ALMOST = 108  # per cent of a sheet's width that may be brought onto it by moving enclosures nearer to one another
STACKED = 190  # mm: on lower paper two bands with roses never stand above one another
OVERVIEW_LANES = 2  # that the cables between the rows of an overview take as a rule
LARGER = 130, 120, 110  # per cent: how much larger several sheets may be printed, for one scale, if filled evenly
DEARER = 6.0  # what that may cost: no more than a cable cut and a little
FORCED = 2  # crossings more than each enclosure needs by itself that are put up with for the width of the paper
FEW = 60  # accessories: of more there is no such sheet to spare
IN_ORDER = 2  # passes after which the order of both rows stands
PASSES = (find_arrangements, put_in_order, choose, face_forwards, set_levels, slide_mouths)


def wiring_to_layout(wiring: Wiring, style: Style, space: tuple[int, int] | None = None) -> Layout:
    """The layout on one sheet, or on several where it does not fit.

    `space` is the width and height that a sheet leaves the drawing, in hundredths of a millimetre; by default what the
    style's paper leaves beside its margins, title and legend. An accessory too large for a sheet is drawn in parts;
    raises DoesNotFit where one cable alone is too large.
    """
    width, height = space or drawing_space(style)
    wiring = in_stretches(wiring)
    parting = first_parting(wiring, style, width)
    while True:
        parts, parting = in_parts(wiring, parting)
        try:
            return under_their_names(joined(_normal_or_tight(parts, style, width, height)), parting)
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


def _closer(style: Style) -> Style:
    """The same style with enclosures nearer to one another: where that saves a band or a sheet."""
    return replace(style, measures={**style.measures, "between": style.measures["between close"]})


def _layout(wiring: Wiring, style: Style, width: int, height: int) -> Layout:
    nowhere: dict[str, int] = {}
    everything = dict.fromkeys((a.name for a in wiring.accessories), SheetPlace(1))

    indexed = IndexedWiring(wiring)
    scene = wiring_to_scene(indexed, style, everything, SheetPlace(1), nowhere, width)
    strips = strips_of(scene)
    scene = find_arrangements(in_strips(scene, strips))
    for nearer in (scene, replace(scene, style=_closer(style))):
        if may_fit(nearer):
            band = _laid(nearer)
            wide, high = size_of((band,))
            if wide <= width and high <= height:
                return Layout((assemble((_less_crossed(band, width, height),), wiring),))
            if wide > width * ALMOST // 100 or high > height:
                break
    whole = _Whole(scene, indexed, style, width, height, strips)
    found = whole.over_sheets()
    if height >= STACKED * MM and indexed.hanging:
        other = wiring_to_scene(indexed, style, everything, SheetPlace(1), nowhere, width, beside=True)
        other = find_arrangements(in_strips(other, strips))
        beside = _Whole(other, indexed, style, width, height, strips, beside=True)
        whole, found = min([(whole, found), (beside, beside.over_sheets())], key=lambda tried: tried[1].cost)
    return _evenly_filled(whole, found).layout


def _less_crossed(band: Scene, width: int, height: int) -> Scene:
    """The same band with enclosures narrower and nearer, where only the width of the paper has cores cross in them."""
    crossings = sum(way.crossings for way in band.inside.values())
    if crossings <= sum(min(way.crossings for way in ways) for ways in band.choices.values()) + FORCED:
        return band
    m = band.style.measures
    style = replace(band.style, measures={**m, "between": m["between least"], "edge": m["edge least"]})
    other = _laid(find_arrangements(Scene(band.number, style, band.width, band.enclosures)))
    wide, high = size_of((other,))
    fits = wide <= width and high <= height
    return other if fits and drawbacks_of(other).crossings < drawbacks_of(band).crossings - FORCED else band


def wiring_to_overview(wiring: Wiring, layout: Layout, style: Style, space: tuple[int, int] | None = None) -> Layout:
    """What stands on which sheet of a layout: accessories as boxes, and cables; no sheets where the layout has one."""
    if len(layout.sheets) == 1:
        return Layout(())
    width, height = space or drawing_space(style)
    shown = OverviewWiring(in_stretches(wiring), layout)

    def scene(places: Mapping[str, SheetPlace], here: SheetPlace, marks: Mapping[str, int]) -> Scene:
        return overview_scene(shown, style, places, here, marks, width)

    everything = dict.fromkeys((a.name for a in shown.wiring.accessories), SheetPlace(1))
    whole = find_arrangements(scene(everything, SheetPlace(1), {}))
    return joined(_over_sheets(whole, shown.wiring, width, height, scene, OVERVIEW_LANES).layout)


def _laid(scene: Scene, passes: int = len(PASSES)) -> Scene:
    """A scene through those of the first so many passes that it has not been through: its order stands, whatever lies
    between."""
    done = IN_ORDER if scene.order else 1 if scene.choices else 0
    for run_pass in PASSES[done:passes]:
        scene = run_pass(scene)
    return scene


def _brought_onto_paper(scene: Scene) -> Scene:
    """A band laid out, its enclosures nearer to one another where it is almost narrow enough."""
    ordered = _laid(scene, IN_ORDER)
    almost = scene.width * ALMOST // 100
    nearer = replace(ordered, style=_closer(scene.style))
    if scene.width < least_width(ordered) <= almost:
        return _laid(nearer)
    band = _laid(ordered)
    return _laid(nearer) if scene.width < band_width(band) <= almost else band


class _Spread(NamedTuple):
    """A layout over several sheets, or over the bands of one."""

    layout: Layout
    cost: float  # to its reader, by what is cut
    crossings: int
    backwards: int  # ends of runs

    @property
    def height(self) -> int:
        """Of all sheets, one upon another."""
        return sum(sheet.height for sheet in self.layout.sheets)

    def no_worse_than(self, other: _Spread) -> bool:
        """Whether nothing crosses more, and no page that stands below a drawing has less room."""
        return (self.crossings <= other.crossings and self.backwards <= other.backwards
                and self.height <= other.height)


@dataclass(frozen=True)
class _Whole:
    """A whole wiring that is to be laid out over sheets of one size."""

    scene: Scene
    indexed: IndexedWiring
    style: Style
    width: int
    height: int
    strips: Mapping[str, Strip]
    beside: bool = False  # lampholders stand beside the drops

    def over_sheets(self, within: MostAllowed | None = None) -> _Spread:
        """The wiring over as few sheets as can be."""
        return _over_sheets(self.scene, self.indexed.wiring, self.width, self.height, self._part, within=within)

    def larger(self, percent: int) -> _Whole:
        """Likewise over sheets so much smaller, so that the drawing may be printed larger."""
        around = 2 * self.style.measures["drawing margin"]
        width, height = ((length + around) * 100 // percent - around for length in (self.width, self.height))
        return replace(self, width=width, height=height)

    def _part(self, places: Mapping[str, SheetPlace], here: SheetPlace, marks: Mapping[str, int]) -> Scene:
        scene = wiring_to_scene(self.indexed, self.style, places, here, marks, self.width, self.beside)
        return in_strips(scene, self.strips)


def _evenly_filled(whole: _Whole, found: _Spread) -> _Spread:
    """The same on as many sheets, none of them full, where that costs little and crosses no more.

    All sheets of a job are printed in one scale, which the fullest sets.
    """
    if len(whole.indexed.wiring.accessories) <= FEW:
        within = MostAllowed(found.cost + DEARER, len(found.layout.sheets))
        for percent in LARGER:
            with suppress(DoesNotFit, CostsMore):
                even = whole.larger(percent).over_sheets(within)
                if even.no_worse_than(found):
                    return even
    return found


def _over_sheets(
    whole: Scene, wiring: Wiring, width: int, height: int,
    scene_of: Callable[[Mapping[str, SheetPlace], SheetPlace, Mapping[str, int]], Scene], lanes: int = 0,
    within: MostAllowed | None = None,
) -> _Spread:
    done: dict[object, Scene] = {}

    def lay(parts: Parting, i: int) -> tuple[Scene, ...]:
        places, marks = number_marks(parts, whole)
        scenes = [scene_of(places, SheetPlace(i + 1, j + 1), marks) for j in range(len(parts[i]))]
        room = width - width_of_gutters(scenes)
        bands = []
        for scene in scenes:
            key = (scene.number, room, tuple(scene.enclosures.values()))
            if key not in done:
                done[key] = _brought_onto_paper(replace(scene, width=room))
            bands.append(done[key])
        return tuple(bands)

    cost, parts = part_over_sheets(whole, width, height, lay, lanes, within)
    sheets = [lay(parts, i) for i in range(len(parts))]
    against = [drawbacks_of(band) for bands in sheets for band in bands]
    return _Spread(Layout(tuple(assemble(bands, wiring) for bands in sheets)), cost,
                   sum(a.crossings for a in against), sum(a.backwards for a in against))


__all__ = ["PASSES", "DoesNotFit", "drawing_space", "wiring_to_layout", "wiring_to_overview"]
