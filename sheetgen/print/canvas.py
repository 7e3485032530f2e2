"""Paints a drawing on a ReportLab canvas; text stays text."""

from __future__ import annotations

from functools import cache
from typing import IO, Any

from reportlab import rl_config
from reportlab.lib.colors import Color, toColor
from reportlab.lib.rl_accel import fp_str
from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfgen.textobject import PDFTextObject

from sheetgen.draw.inking import bands, outline, strokes
from sheetgen.draw.typeface import font, font_name
from sheetgen.model.drawing import Area, Box, Circle, Drawing, Line, Point, Shape, Text
from sheetgen.model.geometry import PT
from sheetgen.model.style import Style

rl_config.useA85 = 0  # streams as bytes: smaller, and quicker to write


AnyColour = Color | tuple[float, float, float, float] | tuple[float, float, float] | list[float] | str


class WrittenText(PDFTextObject):
    """A text object of which the code is known already."""

    def __init__(self, code: str):
        self.code = code

    def getCode(self) -> str:
        """As the text object has it."""
        return self.code


class SheetCanvas(Canvas):
    """Writes a font, a colour or a weight only where it changes, and works a text out in a font once: smaller files,

    written in less time.
    """

    def __init__(self, *args: Any, **options: Any):
        self._known: dict[str, object] = {}
        self._endings: dict[tuple[str, object], str] = {}  # text and font -> what stands behind its place
        super().__init__(*args, **options)

    def _changed(self, what: str, value: object) -> bool:
        if self._known.get(what) == value:
            return False
        self._known[what] = value
        return True

    def _forget(self) -> None:
        self._known = {}

    def drawString(self, x: float, y: float, text: str, *rest: Any, **options: Any) -> None:
        """As the canvas does."""
        if rest or options or "font" not in self._known:
            super().drawString(x, y, text, *rest, **options)
            return
        key = text, self._known["font"]
        ending = self._endings.get(key)
        if ending is None:
            lettered = self.beginText()
            lettered.textLine(text)
            ending = self._endings[key] = lettered.getCode().partition(" Tm ")[2]
        self.drawText(WrittenText(f"BT 1 0 0 1 {fp_str(x, y)} Tm {ending}"))

    def setFont(self, psfontname: str, size: float, leading: float | None = None) -> None:
        """As the canvas does."""
        if self._changed("font", (psfontname, size, leading)):
            super().setFont(psfontname, size, leading)

    def setFillColor(self, aColor: AnyColour, alpha: float | None = None) -> None:
        """As the canvas does; colours come from `colour`, which gives one object for each paint."""
        if self._changed("fill", id(aColor)):
            super().setFillColor(aColor, alpha)

    def setStrokeColor(self, aColor: AnyColour, alpha: float | None = None) -> None:
        """As the canvas does."""
        if self._changed("stroke", id(aColor)):
            super().setStrokeColor(aColor, alpha)

    def setLineWidth(self, width: float) -> None:
        """As the canvas does."""
        if self._changed("weight", width):
            super().setLineWidth(width)

    def restoreState(self) -> None:
        """What was set since is undone."""
        super().restoreState()
        self._forget()

    def showPage(self) -> None:
        """A page begins with nothing set."""
        super().showPage()
        self._forget()


def new_canvas(out: IO[bytes], pagesize: tuple[float, float] = (0, 0), drawn_on: str = "") -> Canvas:
    """A canvas in the typeface of the sheets. The only date in it is that of the job, or none: not a clock's."""
    first = font_name("regular")  # else ReportLab lists its own first font in the file, not embedded
    canvas = SheetCanvas(out, pagesize, invariant=1, lang="en-GB", initialFontName=first)
    canvas.setDateFormatter(lambda *_: pdf_date(drawn_on))
    return canvas


def pdf_date(iso: str) -> str:
    """A date as PDF has it (ISO 32000-1, 7.9.4); nothing for a job without one."""
    return f"D:{iso.replace('-', '')}" if iso else ""


@cache
def colour(paint: str) -> Color:
    """A colour of the style, '#rrggbb', as ReportLab has it."""
    return toColor(paint)


def paint_drawing(canvas: Canvas, drawing: Drawing, style: Style, x: float, y: float, scale: float = 1.0) -> None:
    """Paint the drawing with its top left corner at (x, y), in points as the canvas counts, enlarged by `scale`."""
    canvas.saveState()
    canvas.setLineJoin(1)
    painter = _Painter(canvas, style, x, y, scale / PT)
    for shape in drawing.shapes:
        painter.paint(shape)
    canvas.restoreState()


class _Painter:
    def __init__(self, canvas: Canvas, style: Style, x: float, y: float, unit: float):
        self.canvas, self.style, self.x, self.y, self.unit = canvas, style, x, y, unit

    def paint(self, shape: Shape) -> None:
        """One shape."""
        if isinstance(shape, Line):
            self._line(shape)
        elif isinstance(shape, Text):
            self._text(shape)
        else:
            self._closed(shape)

    def _at(self, point: Point) -> tuple[float, float]:
        return self.x + point[0] * self.unit, self.y - point[1] * self.unit

    def _stroke(self, paint: str, width: int, dash: tuple[int, ...]) -> None:
        self.canvas.setStrokeColor(colour(paint))
        self.canvas.setLineWidth(width * self.unit)
        if dash:
            self.canvas.setDash([part * self.unit for part in dash])

    def _line(self, line: Line) -> None:
        for stroke in strokes(line, self.style):
            self._stroke(stroke.colour, stroke.width, stroke.dash)
            if len(line.points) == 2:
                self.canvas.line(*self._at(line.points[0]), *self._at(line.points[1]))
            else:
                self._path(line.points, stroke=1, fill=0)
            if stroke.dash:
                self.canvas.setDash([])

    def _path(self, points: tuple[Point, ...], stroke: int, fill: int, closed: bool = False) -> None:
        path = self.canvas.beginPath()
        path.moveTo(*self._at(points[0]))
        for point in points[1:]:
            path.lineTo(*self._at(point))
        if closed:
            path.close()
        self.canvas.drawPath(path, stroke=stroke, fill=fill)

    def _rect(self, box: Box, stroke: int, fill: int) -> None:
        x, y = self._at((box.x, box.y + box.height))
        width, height = box.width * self.unit, box.height * self.unit
        if box.radius:
            self.canvas.roundRect(x, y, width, height, box.radius * self.unit, stroke=stroke, fill=fill)
        else:
            self.canvas.rect(x, y, width, height, stroke=stroke, fill=fill)

    def _closed(self, shape: Box | Circle | Area) -> None:
        paint = outline(shape, self.style)
        if paint.fill:
            self.canvas.setFillColor(colour(paint.fill))
        if paint.stroke:
            self._stroke(paint.stroke, paint.width, paint.dash)
        stroke, fill = int(bool(paint.stroke)), int(bool(paint.fill))
        if isinstance(shape, Box):
            self._box(shape, stroke, fill)
        elif isinstance(shape, Circle):
            self.canvas.circle(*self._at((shape.x, shape.y)), shape.radius * self.unit, stroke=stroke, fill=fill)
        else:
            self._path(shape.points, stroke, fill, closed=True)
        if paint.stroke and paint.dash:
            self.canvas.setDash([])

    def _box(self, box: Box, stroke: int, fill: int) -> None:
        """A box, with the bands of a sleeve of two colours below its edge."""
        stripes = bands(box, self.style)
        if not stripes:
            self._rect(box, stroke, fill)
            return
        self._rect(box, stroke=0, fill=1)
        for stripe, paint in stripes:
            self.canvas.setFillColor(colour(paint))
            self._rect(stripe, stroke=0, fill=1)
        self._rect(box, stroke, fill=0)

    def _text(self, text: Text) -> None:
        lettering = self.style.letterings[text.role]
        size = lettering.size * self.unit * PT
        x, y = self._at((text.x, text.y))
        if text.anchor != "start":
            x -= font(lettering.weight).stringWidth(text.text, size) / (2 if text.anchor == "middle" else 1)
        self.canvas.setFont(font_name(lettering.weight), size)
        self.canvas.setFillColor(colour(lettering.paint))
        self.canvas.drawString(x, y, text.text)
