"""A class draws by hand: every rose leaves it 40 mm beside its terminals, and is 40 mm high, measured on the sheet."""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path

import pytest
from method_catalogue import Combination
from pdfminer.high_level import extract_pages
from pdfminer.layout import LTCurve, LTPage, LTTextLine

from sheetgen.pipeline import Look
from sheetgen.pipeline.handout import Wish, handout_sheets

EXAMPLES = Path(__file__).parents[2] / "examples"
MM = 72 / 25.4
LEAST = 40 * MM - 0.05
Box = tuple[float, float, float, float]


def inside(inner: Box, outer: Box) -> bool:
    return outer[0] <= inner[0] and outer[1] <= inner[1] and inner[2] <= outer[2] and inner[3] <= outer[3]


def parts(found: object, kind: type) -> Iterator[object]:
    if isinstance(found, kind):
        yield found
    for part in getattr(found, "_objs", ()):
        yield from parts(part, kind)


def roses(page: LTPage) -> Iterator[tuple[Box, list[Box]]]:
    """The enclosure of every rose drawn on a sheet, and its terminals: the outlines about a terminal's name."""
    texts = [(t.get_text().strip(), t.bbox) for t in parts(page, LTTextLine)]
    outlines = sorted({c.bbox for c in parts(page, LTCurve)}, key=lambda b: (b[2] - b[0]) * (b[3] - b[1]))
    for said, at in texts:
        if said != "ceiling rose":
            continue
        enclosure = next(o for o in outlines if inside(at, o))
        yield enclosure, [next(o for o in outlines if inside(name, o)) for word, name in texts
                          if word in ("N", "E", "SL", "loop") and inside(name, enclosure)]


def measured(text: bytes | str, **asked: bool) -> int:
    """How many roses there are, each with room enough."""
    count = 0
    for page in extract_pages(io.BytesIO(handout_sheets(text, Look(), Wish(**asked))[0])):
        for enclosure, terminals in roses(page):
            assert len(terminals) >= 3 and enclosure not in terminals
            taken = max(t[2] for t in terminals) - min(t[0] for t in terminals)
            assert enclosure[2] - enclosure[0] - taken >= LEAST
            assert enclosure[3] - enclosure[1] >= LEAST
            count += 1
    return count


@pytest.mark.parametrize(("name", "number"), [
    ("bungalow", 4), ("joint-boxes", 1), ("by-method", 1), ("three-switches", 2), ("two-way-line-at-switch", 2)])
def test_every_rose_has_room(name: str, number: int) -> None:
    assert measured((EXAMPLES / f"{name}.yaml").read_bytes()) == number


@pytest.mark.parametrize("combination", [
    Combination("at the switch", "one-way", 1, False), Combination("at a joint box", "conversion", 2, False),
    Combination("line at the switches", "one-way", 1, True), Combination("at the rose", "two strappers", 6, True),
], ids=str)
def test_every_rose_that_a_method_lays_has_room(combination: Combination) -> None:
    assert measured(combination.text(3)) == 3


def test_large_text_leaves_as_much_room() -> None:
    assert measured((EXAMPLES / "two-way-conversion.yaml").read_bytes(), large=True) == 1
