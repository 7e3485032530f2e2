"""Paints a drawing on a ReportLab canvas; text stays text."""

from __future__ import annotations

from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfgen.pathobject import PDFPathObject

from sheetgen.draw.inking import bands, outline, strokes
from sheetgen.draw.typeface import font_name
from sheetgen.model.drawing import Area, Box, Circle, Drawing, Line, Shape, Text
from sheetgen.model.geometry import PT
from sheetgen.model.style import Style


def paint_drawing(canvas: Canvas, drawing: Drawing, style: Style, x: float, y: float, scale: float = 1.0) -> None:
    """Paint the drawing with its top left corner at (x, y), in points as the canvas counts, enlarged by `scale`."""
    canvas.saveState()
    canvas.translate(x, y)
    canvas.scale(scale / PT, -scale / PT)
    canvas.setLineJoin(1)
    for shape in drawing.shapes:
        _paint(canvas, shape, style)
    canvas.restoreState()


def _paint(canvas: Canvas, shape: Shape, style: Style) -> None:
    if isinstance(shape, Line):
        _line(canvas, shape, style)
    elif isinstance(shape, Text):
        _text(canvas, shape, style)
    else:
        _closed(canvas, shape, style)


def _line(canvas: Canvas, line: Line, style: Style) -> None:
    for stroke in strokes(line, style):
        canvas.setStrokeColor(stroke.colour)
        canvas.setLineWidth(stroke.width)
        canvas.setDash(list(stroke.dash))
        canvas.drawPath(_path(canvas, line.points), stroke=1, fill=0)
    canvas.setDash([])


def _path(canvas: Canvas, points: tuple[tuple[int, int], ...], closed: bool = False) -> PDFPathObject:
    path = canvas.beginPath()
    path.moveTo(*points[0])
    for point in points[1:]:
        path.lineTo(*point)
    if closed:
        path.close()
    return path


def _closed(canvas: Canvas, shape: Box | Circle | Area, style: Style) -> None:
    paint = outline(shape, style)
    stripes = bands(shape, style) if isinstance(shape, Box) else ()
    if paint.fill:
        canvas.setFillColor(paint.fill)
    if paint.stroke:
        canvas.setStrokeColor(paint.stroke)
        canvas.setLineWidth(paint.width)
        canvas.setDash(list(paint.dash))
    how = {"stroke": int(bool(paint.stroke)), "fill": int(bool(paint.fill))}
    if isinstance(shape, Box) and stripes:
        canvas.rect(shape.x, shape.y, shape.width, shape.height, stroke=0, fill=1)
        for stripe, colour in stripes:
            canvas.setFillColor(colour)
            canvas.rect(stripe.x, stripe.y, stripe.width, stripe.height, stroke=0, fill=1)
        canvas.rect(shape.x, shape.y, shape.width, shape.height, stroke=how["stroke"], fill=0)
    elif isinstance(shape, Box) and shape.radius:
        canvas.roundRect(shape.x, shape.y, shape.width, shape.height, shape.radius, **how)
    elif isinstance(shape, Box):
        canvas.rect(shape.x, shape.y, shape.width, shape.height, **how)
    elif isinstance(shape, Circle):
        canvas.circle(shape.x, shape.y, shape.radius, **how)
    else:
        canvas.drawPath(_path(canvas, shape.points, closed=True), **how)
    canvas.setDash([])


def _text(canvas: Canvas, text: Text, style: Style) -> None:
    lettering = style.letterings[text.role]
    canvas.saveState()
    canvas.translate(text.x, text.y)
    canvas.scale(PT, -PT)
    canvas.setFont(font_name(lettering.face), lettering.size)
    canvas.setFillColor(lettering.paint)
    {"start": canvas.drawString, "middle": canvas.drawCentredString, "end": canvas.drawRightString}[text.anchor](
        0, 0, text.text
    )
    canvas.restoreState()
