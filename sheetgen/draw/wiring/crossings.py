"""Where conductors cross: the level one passes over the upright one with a gap; no crossing may read as a joint."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from sheetgen.model.drawing import Line

REACH = 130  # from the crossing, along the upper conductor
WIDE_REACH = 190  # where a sheath takes part
WIDE = ("sheath", "flex", "trunk")


def bridges(lines: Sequence[Line], ground: Callable[[int, int], str]) -> list[Line]:
    """A gap and a piece of the upper line for every crossing. `ground` gives the role of the gap at a place."""
    pieces = [(a, b, line) for line in lines for a, b in zip(line.points, line.points[1:], strict=False)]
    level = [(a[1], min(a[0], b[0]), max(a[0], b[0]), line) for a, b, line in pieces if a[1] == b[1]]
    upright = [(a[0], min(a[1], b[1]), max(a[1], b[1]), line) for a, b, line in pieces if a[0] == b[0]]
    upright.sort(key=lambda u: u[:3])
    found: list[Line] = []
    for y, left, right, over in sorted(level, key=lambda u: u[:3]):
        crossed = [(x, under) for x, top, low, under in upright
                   if left < x < right and top < y < low and over is not under]
        for together in _neighbours(crossed):
            found += _bridge(y, left, right, over, together, ground)
    return found


Crossed = list[tuple[int, Line]]


def _reach(under: Line) -> int:
    return WIDE_REACH if under.role in WIDE else REACH


def _neighbours(crossed: Crossed) -> list[Crossed]:
    """Crossings so near that one piece of the upper line spans them all: two pieces would lie on one another."""
    groups: list[Crossed] = []
    for x, under in crossed:
        if groups and x - _reach(under) <= groups[-1][-1][0] + _reach(groups[-1][-1][1]):
            groups[-1].append((x, under))
        else:
            groups.append([(x, under)])
    return groups


def _bridge(
    y: int, left: int, right: int, over: Line, crossed: Crossed, ground: Callable[[int, int], str]
) -> list[Line]:
    gaps = [
        Line(((max(left, x - _reach(under) + 25), y), (min(right, x + _reach(under) - 25), y)),
             f"{over.role} gap" if over.role in WIDE else ground(x, y))
        for x, under in crossed
    ]
    start = max(left, min(x - _reach(under) for x, under in crossed))
    end = min(right, max(x + _reach(under) for x, under in crossed))
    return [*gaps, Line(((start, y), (end, y)), over.role, over.colour, (*over.about, ("bridge", "over")))]
