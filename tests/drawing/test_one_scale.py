"""The wiring sheets of one job are printed at one scale, read from the PDF."""

from __future__ import annotations

from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

from pdfminer.high_level import extract_pages
from pdfminer.layout import LTChar, LTComponent, LTContainer

from sheetgen.pipeline import Look, job_sheet


def chars(part: LTComponent) -> Iterator[LTChar]:
    """Every character below a part of a page."""
    if isinstance(part, LTChar):
        yield part
    elif isinstance(part, LTContainer):
        for child in part:
            yield from chars(child)


def test_the_names_of_accessories_are_of_one_size_on_every_wiring_sheet():
    """Alone, the smaller drawing of the two would be enlarged more."""
    text = (Path(__file__).parents[2] / "examples" / "outbuildings.yaml").read_bytes()
    pages = list(extract_pages(BytesIO(job_sheet(text, Look(), "outbuildings", ("wiring",)))))
    sizes = [{round(c.size, 2) for c in chars(page) if c.get_text() == "W"} for page in pages[1:]]  # after the overview
    assert len(sizes) == 2 and sizes[0] == sizes[1] and sizes[0]
