"""Where conductors cross: the level one passes over the upright one with a gap; no crossing may read as a joint."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from sheetgen.model.drawing import Line

REACH = 130  # from the crossing, along the upper conductor
WIDE_REACH = 190  # where a sheath takes part
WIDE = ("sheath", "flex")


def bridges(lines: Sequence[Line], ground: Callable[[int, int], str]) -> list[Line]:
    """A gap and a piece of the upper line for every crossing. `ground` gives the role of the gap at a place."""
    pieces = [(a, b, line) for line in lines for a, b in zip(line.points, line.points[1:], strict=False)]
    level = [(a[1], min(a[0], b[0]), max(a[0], b[0]), line) for a, b, line in pieces if a[1] == b[1]]
    upright = [(a[0], min(a[1], b[1]), max(a[1], b[1]), line) for a, b, line in pieces if a[0] == b[0]]
    upright.sort(key=lambda u: u[:3])
    found: list[Line] = []
    for y, left, right, over in sorted(level, key=lambda u: u[:3]):
        for x, top, low, under in upright:
            if x <= left:
                continue
            if x >= right:
                break
            if top < y < low and over is not under:
                found += _bridge(x, y, left, right, over, under, ground)
    return found


def _bridge(x: int, y: int, left: int, right: int, over: Line, under: Line, ground) -> list[Line]:
    reach = WIDE_REACH if under.role in WIDE else REACH
    points = ((max(left, x - reach), y), (min(right, x + reach), y))
    gap = f"{over.role} gap" if over.role in WIDE else ground(x, y)
    inner = ((max(left, x - reach + 25), y), (min(right, x + reach - 25), y))
    return [Line(inner, gap), Line(points, over.role, over.colour, (*over.about, ("bridge", "over")))]
