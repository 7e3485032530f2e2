"""Writes a drawing as SVG: millimetres, text as text, every shape with what it stands for in data attributes."""

from __future__ import annotations

from html import escape

from sheetgen.draw.inking import bands, outline, strokes
from sheetgen.draw.typeface import FAMILY
from sheetgen.model.drawing import Area, Box, Circle, Drawing, Line, Shape, Text
from sheetgen.model.geometry import MM, PT
from sheetgen.model.style import Paint, Style

_UNPRINTABLE = dict.fromkeys((*range(32), 127), " ")


def drawing_to_svg(drawing: Drawing, style: Style, description: str = "") -> str:
    """The drawing as an SVG document of its own size."""
    width, height = _mm(drawing.width), _mm(drawing.height)
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm"'
        f' viewBox="0 0 {width} {height}" role="img" font-family="{FAMILY}, DejaVu Sans, sans-serif"'
        ' fill="none" stroke-linejoin="round">',
        f"<title>{_clean(drawing.title or 'Wiring drawing')}</title>",
        f"<desc>{_clean(description or 'Every conductor, from terminal to terminal.')}</desc>",
        f'<rect width="{width}" height="{height}" fill="#ffffff"/>',
        *(_shape(shape, style) for shape in drawing.shapes),
        "</svg>",
    ]
    return "\n".join(lines) + "\n"


def _clean(text: str) -> str:
    return escape(text.translate(_UNPRINTABLE), quote=False)


def _mm(length: int) -> str:
    return f"{length / MM:.2f}".rstrip("0").rstrip(".")


def _about(shape: Shape) -> str:
    colour = "" if isinstance(shape, Text) else shape.colour
    pairs = (("role", shape.role), *((("colour", colour),) if colour else ()), *shape.about)
    return "".join(f' data-{key}="{escape(value.translate(_UNPRINTABLE))}"' for key, value in pairs)


def _shape(shape: Shape, style: Style) -> str:
    if isinstance(shape, Line):
        return _line(shape, style)
    if isinstance(shape, Text):
        return _text(shape, style)
    return _closed(shape, style)


def _points(points: tuple[tuple[int, int], ...]) -> str:
    return " ".join(f"{_mm(x)},{_mm(y)}" for x, y in points)


def _dash(dash: tuple[int, ...]) -> str:
    return f' stroke-dasharray="{" ".join(map(_mm, dash))}"' if dash else ""


def _line(line: Line, style: Style) -> str:
    path = f'points="{_points(line.points)}"'
    passes = "".join(
        f'<polyline {path} stroke="{s.colour}" stroke-width="{_mm(s.width)}"{_dash(s.dash)}/>'
        for s in strokes(line, style)
    )
    return f"<g{_about(line)}>{passes}</g>"


def _ink(paint: Paint) -> str:
    fill = f' fill="{paint.fill}"' if paint.fill else ""
    edge = f' stroke="{paint.stroke}" stroke-width="{_mm(paint.width)}"{_dash(paint.dash)}' if paint.stroke else ""
    return fill + edge


def _closed(shape: Box | Circle | Area, style: Style) -> str:
    paint = outline(shape, style)
    if isinstance(shape, Circle):
        return f'<circle{_about(shape)} cx="{_mm(shape.x)}" cy="{_mm(shape.y)}" r="{_mm(shape.radius)}"{_ink(paint)}/>'
    if isinstance(shape, Area):
        return f'<polygon{_about(shape)} points="{_points(shape.points)}"{_ink(paint)}/>'
    stripes = bands(shape, style)
    if not stripes:
        return f"<rect{_about(shape)} {_corners(shape)}{_ink(paint)}/>"
    inner = "".join(f'<rect {_corners(stripe)} fill="{colour}"/>' for stripe, colour in stripes)
    edge = f"<rect {_corners(shape)}{_ink(Paint(stroke=paint.stroke, width=paint.width))}/>"
    return f"<g{_about(shape)}><rect {_corners(shape)}{_ink(Paint(fill=paint.fill))}/>{inner}{edge}</g>"


def _corners(box: Box) -> str:
    rounded = f' rx="{_mm(box.radius)}"' if box.radius else ""
    return f'x="{_mm(box.x)}" y="{_mm(box.y)}" width="{_mm(box.width)}" height="{_mm(box.height)}"{rounded}'


def _text(text: Text, style: Style) -> str:
    lettering = style.letterings[text.role]
    weight = ' font-weight="bold"' if lettering.weight == "bold" else ""
    return (
        f'<text{_about(text)} x="{_mm(text.x)}" y="{_mm(text.y)}" text-anchor="{text.anchor}"'
        f' font-size="{_mm(round(lettering.size * PT))}"{weight} fill="{lettering.paint}">{_clean(text.text)}</text>'
    )
