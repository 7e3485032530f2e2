"""What the role and the colour of a shape come to: the strokes and fills that the writers put down, in order."""

from __future__ import annotations

from dataclasses import dataclass

from sheetgen.model.drawing import Area, Box, Circle, Line
from sheetgen.model.style import Paint, Style

CASING, HEAVY_CASING, SHEATH_CASING = 32, 44, 60  # so much wider than what lies on it, hundredths of a millimetre


@dataclass(frozen=True)
class Stroke:
    """One pass along a path. Lengths in hundredths of a millimetre."""

    colour: str
    width: int
    dash: tuple[int, ...] = ()


def strokes(line: Line, style: Style) -> tuple[Stroke, ...]:
    """The passes of a line, lowest first: casing, second colour, the colour itself, the line along the middle."""
    role = style.roles[line.role]
    if role.stroke:
        casing = (Stroke(role.casing, role.width + SHEATH_CASING),) if role.casing else ()
        middle = (Stroke(role.centre, max(role.width // 5, 10)),) if role.centre else ()
        return (*casing, Stroke(role.stroke, role.width, role.dash), *middle)
    paint = style.colours[line.colour]
    beside = max(CASING, min(HEAVY_CASING, role.width * 7 // 10))
    passes = [Stroke(role.casing, role.width + beside)] if role.casing else []
    if paint.second:
        passes.append(Stroke(paint.second, role.width))
    passes.append(Stroke(paint.stroke, role.width, paint.dash))
    if paint.centre:
        passes.append(Stroke(paint.centre, max(role.width // 3, 10)))
    return tuple(passes)


def outline(shape: Box | Circle | Area, style: Style) -> Paint:
    """Fill and edge of a closed shape. Where the role leaves one open, the colour fills it."""
    role = style.roles[shape.role]
    if not _coloured(shape, role):
        return Paint(stroke=role.stroke, fill=role.fill, width=role.width, dash=role.dash)
    return Paint(stroke=role.stroke, fill=style.colours[shape.colour].stroke, width=role.width, dash=role.dash)


def bands(box: Box, style: Style) -> tuple[tuple[Box, str], ...]:
    """Bands across a sleeve whose colour is two: every other one in the second colour."""
    role = style.roles[box.role]
    if not _coloured(box, role):
        return ()
    paint = style.colours[box.colour]
    if paint.second:
        part = box.width // 4
        return tuple((Box(box.x + part * i, box.y, part, box.height, box.role), paint.second) for i in (1, 3))
    if paint.centre:
        third = box.height // 3
        return ((Box(box.x, box.y + third, box.width, third, box.role), paint.centre),)
    return ()


def brightness(colour: str) -> float:
    """How light a paint looks: 0 is black, 1 is white."""
    red, green, blue = (int(colour[i:i + 2], 16) for i in (1, 3, 5))
    return (0.299 * red + 0.587 * green + 0.114 * blue) / 255


def _coloured(shape: Box | Circle | Area, role: Paint) -> bool:
    return not role.fill and shape.role.startswith("sleeve")
