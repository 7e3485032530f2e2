"""Crossings of cables as drawn, against those that a layered engine of another's making gives for the same cables.

    PYTHONPATH=.:tests python tests/layout/against_layered.py [--each]

Needs `dot` of Graphviz on the path; without it there is nothing to compare with, and it says so. Both are counted from
geometry: dot's from the curves that it drew. A circuit is taken if we draw it on one sheet. An accessory is a box as
large as in our drawing; a cable is one line, and so are the singles that run together, or one alone.

dot is asked twice. Free, it may put any accessory anywhere and lead a cable into it anywhere: it knows no terminals,
and few cables ever have to cross. With entries kept, the cables stand along the upper and the lower edge of each
accessory as they do in our drawing, where the terminals behind them want them; the accessories it may put anywhere.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Iterable, Iterator
from itertools import combinations, pairwise
from typing import NamedTuple

from layout.measure import at_random, by_method, crossings_of, examples

from sheetgen.draw.layout import wiring_to_layout
from sheetgen.model.layout import Sheet
from sheetgen.model.style import Style
from sheetgen.model.wiring import Wiring
from sheetgen.read.style_from_yaml import load_style

Place = tuple[float, float]
PIECES = 16  # straight pieces that stand for a curve
INCH, POINT = 2540, 35.28  # hundredths of a millimetre


class Compared(NamedTuple):
    """A circuit, and the crossings of its cables in both drawings."""

    name: str
    several: bool  # ways on one sheet
    singles: bool
    ours: int
    free: int
    kept: int


class Line(NamedTuple):
    """A cable in our drawing: at both ends its accessory, whether it is on the lower edge, and where along it."""

    ends: tuple[tuple[int, bool, int], tuple[int, bool, int]]


def compared(name: str, wiring: Wiring, style: Style) -> Compared | None:
    """Both counts; None where we need several sheets."""
    sheets = wiring_to_layout(wiring, style).sheets
    if len(sheets) > 1:
        return None
    found = crossings_of(sheets[0])
    singles = any(cable.single and not cable.link for cable in wiring.cables)
    lines = list(_lines(sheets[0]))
    free, kept = (crossed(curves_of(told)) for told in (_free(lines, sheets[0]), _kept(lines, sheets[0])))
    return Compared(name, len(wiring.board.ways) > 1, singles, found["sheaths"] + found["outside"], free, kept)


def _lines(sheet: Sheet) -> Iterator[Line]:
    """The cables, trunks and lone singles of a sheet that run from one accessory to another."""
    routes = [s.points for s in sheet.sheaths]
    routes += [c.points[c.inside[0] - 1:len(c.points) - c.inside[1] + 1] for c in sheet.conductors
               if 0 < c.inside[0] < len(c.points) and c.inside[1]]
    for points in routes:
        a, b = (_end(points[i], points[j], sheet) for i, j in ((0, 1), (-1, -2)))
        if a[0] != b[0]:
            yield Line((a, b))


def _end(at: tuple[int, int], beyond: tuple[int, int], sheet: Sheet) -> tuple[int, bool, int]:
    """The accessory in or at whose edge a line ends; it leaves by the lower edge if it goes down."""
    away = [max(f.x - at[0], at[0] - f.x - f.width, 0) + max(f.y - at[1], at[1] - f.y - f.height, 0)
            for f in (a.frame for a in sheet.accessories)]
    return away.index(min(away)), beyond[1] > at[1], at[0]


def _free(lines: list[Line], sheet: Sheet) -> list[str]:
    boxes = [f'n{i} [label="" width={a.frame.width / INCH:.3f} height={a.frame.height / INCH:.3f}]'
             for i, a in enumerate(sheet.accessories)]
    return [*boxes, *(f"n{a} -- n{b}" for (a, _, _), (b, _, _) in (line.ends for line in lines))]


def _kept(lines: list[Line], sheet: Sheet) -> list[str]:
    told = []
    for i, accessory in enumerate(sheet.accessories):
        width, height = accessory.frame.width / POINT, accessory.frame.height / POINT
        rows = ""
        for lower in (False, True):
            places = sorted({x for line in lines for n, low, x in line.ends if (n, low) == (i, lower)})
            cells = "".join(f'<TD PORT="p{int(lower)}x{x}" WIDTH="{width / len(places):.0f}" HEIGHT="{height / 2:.0f}">'
                            "</TD>" for x in places) or f'<TD WIDTH="{width:.0f}" HEIGHT="{height / 2:.0f}"></TD>'
            rows += f'<TR><TD><TABLE BORDER="0" CELLBORDER="0" CELLSPACING="0"><TR>{cells}</TR></TABLE></TD></TR>'
        told.append(f'n{i} [label=<<TABLE BORDER="0" CELLBORDER="0" CELLSPACING="0">{rows}</TABLE>>]')
    for line in lines:
        a, b = (f"n{n}:p{int(low)}x{x}:{'s' if low else 'n'}" for n, low, x in line.ends)
        told.append(f"{a} -- {b}")
    return told


def curves_of(told: list[str]) -> list[list[Place]]:
    """The cables as dot draws them."""
    text = "\n".join(["graph {", "node [shape=box margin=0]", *told, "}"])
    done = subprocess.run(["dot", "-Tplain"], input=text, capture_output=True, text=True, check=True)
    return [_curve(line) for line in done.stdout.replace("\\\n", "").splitlines() if line.startswith("edge ")]


def _curve(line: str) -> list[Place]:
    """A line of dot's about one edge (edge, tail, head, n, x y ...): cubic curves one after another, as points."""
    words = line.split()
    numbers = [float(word) for word in words[4:4 + 2 * int(words[3])]]
    knots = list(zip(numbers[::2], numbers[1::2], strict=True))
    points = [knots[0]]
    for i in range(0, len(knots) - 1, 3):
        points += [_on_curve(knots[i:i + 4], j / PIECES) for j in range(1, PIECES + 1)]
    return points


def _on_curve(knots: list[Place], t: float) -> Place:
    weights = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t ** 3)
    x, y = (sum(w * knot[i] for w, knot in zip(weights, knots, strict=True)) for i in (0, 1))
    return x, y


def crossed(curves: Iterable[list[Place]]) -> int:
    """How often curves cross one another; where they only touch, as at an accessory, they do not."""
    return sum(_cross(p, q) for a, b in combinations(curves, 2) for p in pairwise(a) for q in pairwise(b))


def _cross(p: tuple[Place, Place], q: tuple[Place, Place]) -> bool:
    return _turn(*p, q[0]) * _turn(*p, q[1]) < 0 and _turn(*q, p[0]) * _turn(*q, p[1]) < 0


def _turn(a: Place, b: Place, c: Place) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def circuits() -> Iterator[tuple[str, Wiring]]:
    """Examples, what the methods lay, and random ones."""
    yield from examples()
    yield from by_method()
    yield from at_random()


def main(arguments: list[str]) -> None:
    """Print both counts, over all and over what is hard."""
    if not shutil.which("dot"):
        print("no dot here: nothing to compare with")
        return
    style = load_style()
    found = [done for name, wiring in circuits() if (done := compared(name, wiring, style))]
    several, singles = [c for c in found if c.several], [c for c in found if c.singles]
    for what, those in (("all", found), ("several ways", several), ("singles", singles)):
        more = sorted((c for c in those if c.ours > c.kept), key=lambda c: c.kept - c.ours)
        print(f"{what:13}{len(those)} circuits on one sheet: ours {sum(c.ours for c in those)}; layered, entries kept "
              f"{sum(c.kept for c in those)}, free {sum(c.free for c in those)}; than with entries kept ours more in "
              f"{len(more)}, fewer in {sum(c.ours < c.kept for c in those)}")
        if "--each" in arguments:
            print("\n".join(f"    {c.name}: {c.ours} against {c.kept}, free {c.free}" for c in more))


if __name__ == "__main__":
    main(sys.argv[1:])
