"""How good the drawings are: crossings, jogs, sheets and their use, over examples, methods, random circuits and houses.

    PYTHONPATH=.:tests python tests/layout/measure.py [--each] [--houses] [--backwards]

Crossings are counted from the layout's points alone: a level stretch of one line within an upright one of another.

The use of a sheet is that of the printed one: a drawing is printed larger than its own size, all sheets of a job in one
scale, as far as the fullest allows. At its own size a drawing of three accessories cannot fill a sheet, and should not.
"""

from __future__ import annotations

import sys
import time
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import combinations, pairwise, product
from pathlib import Path
from statistics import mean

from circuits import wirings
from houses import house
from hypothesis import HealthCheck, Phase, given, seed, settings
from method_catalogue import accepted

from sheetgen.draw.layout import PASSES, wiring_to_layout
from sheetgen.draw.layout.arrangements import _all_ways
from sheetgen.draw.layout.assemble import assemble
from sheetgen.draw.layout.channels import set_levels
from sheetgen.draw.layout.place import place
from sheetgen.draw.layout.scene import CableEntry, Enclosure, Scene, SheetPlace
from sheetgen.draw.layout.straighten import straighten
from sheetgen.draw.layout.strip_measuring import WayIn
from sheetgen.draw.layout.strip_measuring import measured as way_measured
from sheetgen.draw.layout.strips import in_strips, strips_of
from sheetgen.draw.layout.through import in_stretches
from sheetgen.draw.layout.wiring_to_scene import IndexedWiring, wiring_to_scene
from sheetgen.draw.paper import drawing_space, enlargement
from sheetgen.model.drawing import Drawing
from sheetgen.model.layout import Layout, Sheet
from sheetgen.model.style import Style
from sheetgen.model.wiring import Wiring
from sheetgen.pipeline import wiring_of
from sheetgen.read.style_from_yaml import load_style

JOG = 600  # hundredths of a millimetre: a shorter level piece between two upright ones is a jog
METHODS, RANDOM = 300, 60
TURNED, LONGER = (20, 8), 1.1  # ways into one accessory, and into each of two; how much longer cables may be
SMALL, SMALL_ONES = 8, 110  # accessories of a small circuit, and how many such circuits on one sheet are a set
Stretch = tuple[int, int, int, str, int]  # at, low, high, kind of line, number of line


@dataclass(frozen=True)
class Measured:
    """What one layout costs its reader."""

    crossings: Counter[str]  # "sheaths", "outside": a single outside enclosures, "inside": cores within one
    jogs: int
    backwards: int
    sheets: int
    used: tuple[float, ...]  # of each sheet as it is printed: what its ink spans, against what the paper leaves
    scale: float  # in which all its sheets are printed

    @property
    def total(self) -> int:
        """All crossings."""
        return sum(self.crossings.values())


def measured(layout: Layout, style: Style) -> Measured:
    """Count everything in a layout."""
    width, height = drawing_space(style)
    crossings = sum((crossings_of(sheet) for sheet in layout.sheets), Counter())
    jogs = sum(_jogs(sheet) for sheet in layout.sheets)
    around = 2 * style.measures["drawing margin"]
    scale = min(enlargement(Drawing(s.width + around, s.height + around, ()), style) for s in layout.sheets)
    used = tuple(s.width * s.height * scale ** 2 / (width * height) for s in layout.sheets)
    return Measured(crossings, jogs, sum(map(backwards, layout.sheets)), len(layout.sheets), used, scale)


def crossings_of(sheet: Sheet) -> Counter[str]:
    """Crossings of one sheet by what crosses."""
    level, upright = _stretches(sheet)
    frames = [a.frame for a in sheet.accessories]
    found: Counter[str] = Counter()
    for y, left, right, kind, line in level:
        for x, top, low, its, other in upright:
            if line != other and left < x < right and top < y < low:
                if "sheath" in (kind, its):
                    found["sheaths" if kind == its else "outside"] += 1
                else:
                    inside = any(f.x < x < f.x + f.width and f.y < y < f.y + f.height for f in frames)
                    found["inside" if inside else "outside"] += 1
    return found


def _lines(sheet: Sheet) -> Iterator[tuple[str, tuple[tuple[int, int], ...]]]:
    yield from (("core", piece.points) for piece in sheet.conductors)
    yield from (("sheath", sheath.points) for sheath in sheet.sheaths)


def _stretches(sheet: Sheet) -> tuple[list[Stretch], list[Stretch]]:
    level: list[Stretch] = []
    upright: list[Stretch] = []
    for number, (kind, points) in enumerate(_lines(sheet)):
        for (x, y), (to_x, to_y) in pairwise(points):
            if y == to_y:
                level.append((y, min(x, to_x), max(x, to_x), kind, number))
            else:
                upright.append((x, min(y, to_y), max(y, to_y), kind, number))
    return level, upright


def _jogs(sheet: Sheet) -> int:
    """Level pieces between two upright ones that go on in the same direction, shorter than JOG."""
    count = 0
    runs = [sheath.points for sheath in sheet.sheaths]
    runs += [piece.points for piece in sheet.conductors if piece.inside[0] < len(piece.points)]
    for points in runs:
        for a, b, c, d in zip(points, points[1:], points[2:], points[3:], strict=False):
            onward = a[0] == b[0] and c[0] == d[0] and (b[1] - a[1]) * (d[1] - c[1]) > 0
            count += onward and 0 < abs(c[0] - b[0]) < JOG
    return count


def backwards(sheet: Sheet) -> int:
    """Ends of bent runs that leave an enclosure and pass back over its middle, on their first level stretch."""
    count = 0
    runs = [sheath.points for sheath in sheet.sheaths]
    runs += [p.points[p.inside[0] - 1:len(p.points) - max(p.inside[1] - 1, 0)] for p in sheet.conductors
             if p.inside[0] < len(p.points)]  # a lone single
    for points in (way for run in runs if len(run) > 2 for way in (run, run[::-1])):
        (x, y), to = points[0], points[2][0]
        frames = [a.frame for a in sheet.accessories if a.frame.x <= x <= a.frame.x + a.frame.width
                  and a.frame.y <= y <= a.frame.y + a.frame.height]
        middles = [f.x + f.width // 2 for f in frames]
        count += any(x < middle < to or to < middle < x for middle in middles)
    return count


def examples() -> Iterator[tuple[str, Wiring]]:
    """Every example."""
    for path in sorted((Path(__file__).parents[2] / "examples").glob("*.yaml")):
        yield path.stem, wiring_of(path.read_text(encoding="utf-8"))


def by_method(most: int = METHODS) -> Iterator[tuple[str, Wiring]]:
    """What the methods lay, one light to four."""
    texts = [(f"{c} x{n}", c.text(n)) for n in (1, 2, 3, 4) for c in accepted()]
    yield from ((name, wiring_of(text)) for name, text in texts[:most])


def at_random(most: int = RANDOM, number: int = 1) -> list[tuple[str, Wiring]]:
    """Random circuits, for each number the same every time, some with mistakes."""
    found: list[tuple[str, Wiring]] = []

    @seed(number)
    @settings(max_examples=most, database=None, deadline=None, phases=[Phase.generate],
              suppress_health_check=list(HealthCheck))
    @given(wirings(max_rooms=4))
    def collect(wiring: Wiring) -> None:
        found.append((f"random {len(found)}", wiring))

    collect()
    return found


def small_ones(style: Style) -> list[tuple[str, Wiring, int]]:
    """The small circuits that are drawn on one sheet, with the crossings of each: examples, random ones, by method."""
    found: list[tuple[str, Wiring, int]] = []
    for name, wiring in (*examples(), *at_random(), *by_method()):
        if len(wiring.accessories) <= SMALL and len(found) < SMALL_ONES:
            layout = wiring_to_layout(wiring, style)
            if len(layout.sheets) == 1:
                found.append((name, wiring, sum(crossings_of(layout.sheets[0]).values())))
    return found


def fewest_inside(wiring: Wiring, style: Style) -> int:
    """No order of the rows has fewer crossings than this: those within enclosures, each by itself brought in best.

    Every way in is measured, with every parting of the cores of its innermost cables.
    """
    wiring = in_stretches(wiring)
    places = {a.name: SheetPlace(1) for a in wiring.accessories}
    scene = wiring_to_scene(IndexedWiring(wiring), style, places, SheetPlace(1), {}, drawing_space(style)[0])
    enclosures = in_strips(scene, strips_of(scene)).enclosures.values()
    return sum(_fewest_in(e, style) for e in enclosures if e.groups)


def _fewest_in(enclosure: Enclosure, style: Style) -> int:
    ways = [way for way in _all_ways(enclosure) if enclosure.split or not way.places[2] or way.places[0]]
    fewest = min(way_measured(enclosure, way, style).crossings for way in ways)
    for way in ways if fewest and not enclosure.split else ():
        for parted in product(*(_partings(enclosure, way, edge) for edge in (0, 1))):
            across = frozenset(key for keys in parted for key in keys)
            fewest = min(fewest, way_measured(enclosure, way._replace(across=across), style).crossings)
    return fewest


def _partings(enclosure: Enclosure, way: WayIn, edge: int) -> Iterator[tuple[tuple[str, int], ...]]:
    """Sets of cores of an innermost cable, but never all of it."""
    yield ()
    inner: list[CableEntry] = [enclosure.entries[p[0]] for p in (way.places[edge], way.places[edge + 2]) if p]
    for entry in inner:
        keys = [s.key for s in entry.terminations] if entry.sheathed else []
        for many in range(1, len(keys)):
            yield from combinations(keys, many)


def needless(wiring: Wiring, style: Style) -> tuple[int, int]:
    """Ends that leave backwards on a circuit's one sheet, and of these the most that another way does without.

    Another way: one accessory, or two with a cable between them, turned in any way that the layout knows, all laid out
    again, with no more crossings inside or between enclosures, cables a tenth longer at most, and as wide a sheet.
    """
    wiring = in_stretches(wiring)
    places = {a.name: SheetPlace(1) for a in wiring.accessories}
    scene = wiring_to_scene(IndexedWiring(wiring), style, places, SheetPlace(1), {}, drawing_space(style)[0])
    scene = in_strips(scene, strips_of(scene))
    for run_pass in PASSES:
        scene = run_pass(scene)
    drawn = assemble((scene,), wiring)
    before, least = backwards(drawn), backwards(drawn)
    for keys in [(key,) for key in scene.standing] + _sharing(scene) if before else ():
        for ways in product(*(scene.choices[key][:TURNED[len(keys) - 1]] for key in keys)):
            turned = replace(scene, inside={**scene.inside, **dict(zip(keys, ways, strict=True))})
            sheet = assemble((set_levels(straighten(place(turned))),), wiring)
            if backwards(sheet) < least and _no_worse(sheet, drawn, drawing_space(style)[0]):
                least = backwards(sheet)
    return before, before - least


def _sharing(scene: Scene) -> list[tuple[str, ...]]:
    pairs = {tuple(sorted((key, entry.partner))) for key in scene.standing for entry in scene.enclosures[key].entries}
    return sorted(pair for pair in pairs if set(pair) <= set(scene.standing))


def _no_worse(sheet: Sheet, drawn: Sheet, width: int) -> bool:
    ours, its = crossings_of(drawn), crossings_of(sheet)
    between = [found["sheaths"] + found["outside"] for found in (ours, its)]
    lengths = [sum(abs(x - to_x) + abs(y - to_y) for s in each.sheaths for (x, y), (to_x, to_y) in pairwise(s.points))
               for each in (drawn, sheet)]
    return (its.total() <= ours.total() and between[1] <= between[0] and lengths[1] <= LONGER * lengths[0]
            and sheet.width <= max(width, drawn.width))


def print_needless(name: str, wirings_: Iterable[tuple[str, Wiring]], style: Style) -> None:
    """The ends that leave backwards though another way is near, over the circuits that are drawn on one sheet."""
    lone = [(circuit, wiring) for circuit, wiring in wirings_ if len(wiring_to_layout(wiring, style).sheets) == 1]
    found = [(circuit, *needless(wiring, style)) for circuit, wiring in lone]
    print(f"{name:10} {len(lone)} circuits on one sheet: {sum(back for _, back, _ in found)} ends backwards, "
          f"{sum(less for *_, less in found)} needless: {', '.join(circuit for circuit, _, less in found if less)}")


def print_small(style: Style) -> None:
    """The small circuits against the fewest crossings there can be."""
    found = [(name, drawn, fewest_inside(wiring, style)) for name, wiring, drawn in small_ones(style)]
    most, name = max((d - f, name) for name, d, f in found)
    drawn = sum(d for _, d, _ in found)
    print(f"small      {style.paper.name}: {len(found)} circuits on one sheet, {drawn} crossings; "
          f"fewest inside enclosures {sum(f for *_, f in found)}; at most {most} above that ({name}), "
          f"{sum(d == f for _, d, f in found)} not above it")


def print_set(name: str, wirings_: Iterator[tuple[str, Wiring]], style: Style, each: bool = False) -> None:
    """One line for a set of circuits."""
    start, count, sheets, jogs, back = time.process_time(), 0, 0, 0, 0
    crossings: Counter[str] = Counter()
    used: list[float] = []
    scales: list[float] = []
    lone: list[float] = []
    emptiest: list[float] = []
    for circuit, wiring in wirings_:
        result = measured(wiring_to_layout(wiring, style), style)
        count, sheets, jogs = count + 1, sheets + result.sheets, jogs + result.jogs
        crossings += result.crossings
        back += result.backwards
        used += result.used
        scales.append(result.scale)
        (lone if result.sheets == 1 else emptiest).append(min(result.used))
        if each:
            print(f"    {circuit}: {result.total} {dict(result.crossings)}, {result.sheets} sheets")
    print(f"{name:10} {style.paper.name}: {count} circuits, {sum(crossings.values())} crossings "
          f"({', '.join(f'{kind} {n}' for kind, n in sorted(crossings.items()))}), {jogs} jogs, {back} ends backwards, "
          f"{sheets} sheets, mean use {mean(used):.0%} (where there is one {mean(lone):.0%}, the emptiest of several "
          f"{mean(emptiest):.0%}), scale {mean(scales):.2f}; {time.process_time() - start:.1f} s CPU")


def print_houses() -> None:
    """How long a house takes, and how many sheets."""
    for rooms in (20, 50, 100):
        wiring = wiring_of(house(rooms))
        for paper in ("a4", "a3"):
            style = load_style("colour", paper)
            start = time.process_time()
            result = measured(wiring_to_layout(wiring, style), style)
            print(f"house of {3 * rooms} accessories, {paper}: {time.process_time() - start:.2f} s CPU, "
                  f"{result.sheets} sheets, {result.total} crossings, mean use {mean(result.used):.0%}")


def main(arguments: list[str]) -> None:
    """Print every set."""
    style = load_style()
    each = "--each" in arguments
    print_set("examples", examples(), style, each)
    print_set("methods", by_method(), style, each)
    print_set("random", iter(at_random()), style, each)
    print_small(style)
    if "--backwards" in arguments:
        for name, circuits in (("examples", examples()), ("methods", by_method()), ("random", at_random())):
            print_needless(name, circuits, style)
    if "--houses" in arguments:
        print_houses()


if __name__ == "__main__":
    main(sys.argv[1:])
