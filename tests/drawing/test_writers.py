"""SVG and PDF of drawings: valid, escaped, text as text, the same bytes every time."""

from __future__ import annotations

import io
from xml.etree import ElementTree

import pytest
from pdfminer.high_level import extract_pages, extract_text
from pdfminer.layout import LTChar, LTTextBox
from reportlab.pdfgen.canvas import Canvas

from sheetgen.draw.inking import brightness, outline, strokes
from sheetgen.draw.typeface import font_name
from sheetgen.model.drawing import Area, Box, Circle, Drawing, Line, Text
from sheetgen.print.canvas import SheetCanvas, new_canvas, paint_drawing
from sheetgen.print.svg import drawing_to_svg
from sheetgen.read.style_from_yaml import load_style

STYLE = load_style()
NASTY = "<b>&\"'</b> Größe\x0b"
SHAPES = (
    Box(100, 100, 3000, 2000, "enclosure", 150, "", (("accessory", NASTY),)),
    Line(((200, 300), (900, 300), (900, 800)), "conductor", "GNYE", (("core", "W1/1"),)),
    Line(((200, 400), (900, 400)), "sheath"),
    Circle(200, 300, 60, "port"), Area(((0, 0), (100, 0), (50, 80)), "mouth"),
    Box(300, 250, 260, 150, "sleeve", 20, "GNYE", (("sleeve", "fitted"),)),
    Text(500, 900, NASTY, "title", "start", (("accessory", NASTY),)),
)
DRAWING = Drawing(3200, 2200, SHAPES, NASTY)
SVG = "{http://www.w3.org/2000/svg}"


def pdf(style=STYLE, scale: float = 1.0) -> bytes:
    """The drawing on a page."""
    stream = io.BytesIO()
    canvas = Canvas(stream, pagesize=(400, 300), invariant=1)
    paint_drawing(canvas, DRAWING, style, 50, 250, scale)
    canvas.showPage()
    canvas.save()
    return stream.getvalue()


def test_svg_is_valid_and_keeps_every_word():
    root = ElementTree.fromstring(drawing_to_svg(DRAWING, STYLE, NASTY))
    words = NASTY.replace("\x0b", " ")
    assert root.find(f"{SVG}title").text == words and root.find(f"{SVG}desc").text == words
    assert [t.text for t in root.iter(f"{SVG}text")] == [words]
    assert root.get("width") == "32mm" and root.get("viewBox") == "0 0 32 22"


def test_svg_says_what_every_shape_stands_for():
    root = ElementTree.fromstring(drawing_to_svg(DRAWING, STYLE))
    said = [e.attrib for e in root.iter() if "data-role" in e.attrib]
    assert [s["data-role"] for s in said] == [shape.role for shape in SHAPES]
    assert {"data-core", "data-colour"} <= set(said[1]) and said[5]["data-sleeve"] == "fitted"


def test_pdf_is_the_same_every_time_and_its_text_is_text():
    assert pdf() == pdf()
    assert "Größe" in extract_text(io.BytesIO(pdf()))


@pytest.mark.parametrize("scale", [1.0, 1.3])
def test_text_is_printed_at_its_size(scale):
    (page,) = extract_pages(io.BytesIO(pdf(scale=scale)))
    lines = [line for box in page if isinstance(box, LTTextBox) for line in box]
    chars = [c for line in lines for c in line if isinstance(c, LTChar)]
    assert chars
    for char in chars:
        assert abs(char.size - STYLE.letterings["title"].size * scale) < 0.01


@pytest.mark.parametrize("name", ["colour", "mono"])
def test_every_conductor_has_a_dark_casing(name):
    """Yellow and white must print: whatever lies on top, something dark lies wider beneath."""
    style = load_style(name)
    for role in ("conductor", "conductor heavy"):
        for code in style.colours:
            lowest, *rest = strokes(Line(((0, 0), (1, 0)), role, code), style)
            assert int(lowest.colour[1:3], 16) < 0x40 and all(s.width < lowest.width for s in rest)


@pytest.mark.parametrize("name", ["colour", "mono"])
def test_a_sleeve_to_fit_is_louder_than_any_other(name):
    """Its edge is more than twice as heavy, and no core has its paints. Printed in grey it is light in a dark edge, and
    the sleeves in the colours of lines and neutrals dark; in mono it is black, and no other is."""
    style = load_style(name)
    to_fit = outline(Box(0, 0, 260, 150, "sleeve to fit", 0, "BN"), style)
    if name == "mono":
        assert to_fit.fill == "#000000"
    else:
        dark = [brightness(style.colours[code].stroke) for code in ("BN", "BU", "RD", "BK")]
        assert brightness(to_fit.fill) > 0.75 and brightness(to_fit.stroke) < 0.35 and max(dark) < 0.45
    for code in style.colours:
        there = outline(Box(0, 0, 260, 150, "sleeve", 0, code), style)
        assert to_fit.width > 2 * there.width and to_fit.fill != there.fill
        assert to_fit.stroke not in (there.stroke, style.colours[code].stroke) or name == "mono"
        assert to_fit.stroke not in (there.stroke, style.colours[code].stroke) or name == "mono"
        assert there.fill == ("#ffffff" if name == "mono" else style.colours[code].stroke)


def test_a_text_written_again_is_written_as_the_library_writes_it(monkeypatch) -> None:
    def file() -> bytes:
        out = io.BytesIO()
        canvas = new_canvas(out, (300, 300))
        for page in range(2):
            for i, text in enumerate(("Hall (old)", "a\\b", "Küche ①", "Hall (old)", "", " ", "Hall (old)")):
                for face, size in (("regular", 9.0), ("bold", 9.0), ("regular", 7.25)):
                    canvas.setFont(font_name(face), size)
                    canvas.drawString(10.125 + page, 20 * i + 1 / 3, text)
            canvas.showPage()
        canvas.save()
        return out.getvalue()

    ours = file()
    monkeypatch.delattr(SheetCanvas, "drawString")
    assert ours == file()
