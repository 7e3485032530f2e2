"""How far the shapes of a drawing reach on paper, and where it can be cut with nothing but rails lying across."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from sheetgen.draw.typeface import cap_height, text_width
from sheetgen.model.drawing import Area, Box, Circle, Drawing, Line, Shape, Text
from sheetgen.model.geometry import MM, PT
from sheetgen.model.style import Style

Extent = tuple[int, int, int, int]  # left, top, right, bottom; hundredths of a millimetre
BELOW_BASELINE = 0.25  # of a letter's size
THROUGH = 3  # an upright line longer than a third of the drawing is a rail: it goes on on the next part


def extents_of(drawing: Drawing, style: Style) -> tuple[Extent, ...]:
    """Of every shape."""
    return tuple(_extent(shape, style) for shape in drawing.shapes)


def _extent(shape: Shape, style: Style) -> Extent:
    match shape:
        case Line() | Area():
            xs, ys = [x for x, _ in shape.points], [y for _, y in shape.points]
            return min(xs), min(ys), max(xs), max(ys)
        case Box():
            return shape.x, shape.y, shape.x + shape.width, shape.y + shape.height
        case Circle():
            return shape.x - shape.radius, shape.y - shape.radius, shape.x + shape.radius, shape.y + shape.radius
        case Text():
            lettering = style.letterings[shape.role]
            width = text_width(shape.text, lettering)
            left = shape.x - {"start": 0, "middle": width // 2, "end": width}[shape.anchor]
            below = round(lettering.size * PT * BELOW_BASELINE)
            return left, shape.y - cap_height(lettering), left + width, shape.y + below


def height_of_heads(extents: Sequence[Extent], height: int) -> int:
    """How far down reaches what stands above the rails of a drawing so high and says what they are; 0 without rails."""
    begin = min((extent[1] for extent in extents if _is_rail(extent, height)), default=0)
    return max((bottom for _, top, _, bottom in extents if top < begin and bottom < begin + MM), default=0)


def _is_rail(extent: Extent, height: int) -> bool:
    left, top, right, bottom = extent
    return left == right and (bottom - top) * THROUGH >= height


def clear_height(extents: Iterable[Extent], height: int, least: int, most: int) -> int | None:
    """The middle of the widest strip from `least` to `most` that only rails cross, of several the lowest; or None.

    The widest, so that a name stays with its symbol. `height`: of the whole drawing.
    """
    across = sorted((extent[1], extent[3]) for extent in extents if not _is_rail(extent, height))
    widest, found, free_from = 0, None, least
    for top, bottom in (*across, (most, most)):
        to = min(top, most)
        if to - free_from >= widest and to > free_from:
            widest, found = to - free_from, (free_from + to) // 2
        free_from = max(free_from, bottom)
    return found


def shown_in(drawing: Drawing, extents: tuple[Extent, ...], part: Extent) -> tuple[Shape, ...]:
    """The shapes of which a part of the drawing shows any; texts only where their whole height is in it, straight lines
    no further than it reaches.

    Parts that are cut through something overlap by more than the height of a text.
    """
    left, top, right, bottom = part
    shown: list[Shape] = []
    for shape, (a, b, c, d) in zip(drawing.shapes, extents, strict=True):
        if a > right or c < left or b > bottom or d < top:
            continue
        if isinstance(shape, Line) and (a == c or b == d):
            shown.append(replace(shape, points=tuple(
                (min(max(x, left), right), min(max(y, top), bottom)) for x, y in shape.points)))
        elif not isinstance(shape, Text) or (top <= b and d <= bottom):
            shown.append(shape)
    return tuple(shown)
