"""Words meant to be run, in every field of a description: in SVG and PDF they are words and nothing else."""

from __future__ import annotations

import io
from collections.abc import Iterator
from xml.etree import ElementTree

import pytest
from pdfminer.pdfdocument import PDFDocument
from pdfminer.pdfparser import PDFParser
from pdfminer.pdftypes import PDFStream
from pdfminer.psparser import PSLiteral
from pdfminer.utils import decode_text

from sheetgen.pipeline import Look, drawing_files, job_sheet

PAYLOADS = (
    "<img src=x onerror=\"document.title='run'\">", "<script>window.run=1</script>",
    "</text><script>window.run=1</script>", "<svg onload=window.run=1>", "]]><script>window.run=1</script>",
    "&lt;script&gt;", "javascript:window.run=1", "<a href=javascript:run=1>x</a>", "{{ 7*7 }}", "{% raw %}", "${7*7}",
    "<para><font size=99>x</font>", "<link href='http://sheet.invalid/x'>", "http://sheet.invalid/",
    "' onmouseover='run=1", '" onmouseover="run=1',
    ") /OpenAction << /S /JavaScript /JS (app.alert(1)) >> (", ")>> endobj 99 0 obj << /S /URI /URI (http://x.invalid",
    "\\) Tj ET (\\", "endstream endobj trailer << /Root 99 0 R >> startxref %%EOF",
)
ACTING = {"JavaScript", "JS", "OpenAction", "AA", "Launch", "URI", "GoToR", "GoToE", "SubmitForm", "ImportData",
          "EmbeddedFile", "EmbeddedFiles", "RichMedia", "Rendition", "AcroForm", "XFA", "Annots", "A"}
INK = {"svg", "title", "desc", "g", "style", "defs", "rect", "circle", "polyline", "polygon", "path", "line", "text"}


def attacked(payload: str) -> str:
    """A light and its switch, with the words in every field that takes words of the reader's own."""
    words = "'" + payload.replace("'", "''") + "'"
    return f"""
job: {words}
place: {words}
drawn: {{by: {words}, on: 2026-02-02}}
report: {{number: {words}, date: 2026-01-02}}
board:
  name: {words}
  where: {words}
  ways:
    2: {{serves: {words}, device: type B 6 A, rcd: 30 mA}}
colours: current
accessories:
  Study: {{kind: ceiling rose, room: {words}, lamp: 10 W, note: {words}, labels: {{loop: {words}}}}}
  {words}: {{kind: one-way switch, room: {words}, note: {words}}}
cables:
  W1: {{type: twin and earth 1.0, from: way 2, to: Study, note: {words},
       cores: {{brown: [L, {words}], blue: [N, N], cpc: [E, E]}}}}
  W2: {{type: twin and earth 1.0, from: Study, to: {words}, in: {words}, note: {words},
       cores: {{brown: [{words}, COM], blue: [SL, L1], cpc: [E, E]}}, sleeved: [blue]}}
notes: [{words}]
"""


def keys_of(value: object) -> Iterator[str]:
    """Every key of every dictionary in a value of a PDF."""
    if isinstance(value, PDFStream):
        value = value.attrs
    if isinstance(value, dict):
        for key, inner in value.items():
            yield key.name if isinstance(key, PSLiteral) else str(key)
            yield from keys_of(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from keys_of(inner)


@pytest.mark.parametrize("payload", PAYLOADS)
def test_a_pdf_holds_words_and_no_deed(payload: str) -> None:
    document = PDFDocument(PDFParser(io.BytesIO(job_sheet(attacked(payload), Look(), payload, ("card", "wiring")))))
    numbers = [number for table in document.xrefs for number in table.get_objids()]
    keys = {key for number in numbers for key in keys_of(document.getobj(number))}
    assert {"Pages", "Outlines", "FontFile2"} <= keys and not keys & ACTING
    (said,) = document.info
    assert decode_text(said["Author"]) == payload
    assert decode_text(said["Title"]).count(payload) == 2  # job and place
    assert len(numbers) == max(numbers), "an object that the program did not number"


@pytest.mark.parametrize("payload", PAYLOADS)
def test_an_svg_holds_words_and_no_deed(payload: str) -> None:
    for diagram in (False, True):
        ((_, content),) = drawing_files(attacked(payload), Look(), "svg", diagram=diagram)
        root = ElementTree.fromstring(content)
        assert {element.tag.rpartition("}")[2] for element in root.iter()} <= INK
        names = {name for element in root.iter() for name in element.attrib}
        assert not [name for name in names if name.startswith("on") or "href" in name]
        assert payload in "\n".join(root.itertext())
