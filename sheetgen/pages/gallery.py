"""The gallery on paper: contents, then every arrangement with its name, a paragraph and its drawing.

Two stand side by side on a sheet where both fit; what is left over, or too wide, has a sheet to itself.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from sheetgen.model.drawing import Drawing
from sheetgen.model.gallery import GalleryPiece
from sheetgen.model.page import Block, Columns, Heading, Page, Picture, SideBySide, Table, Words
from sheetgen.model.words import CAUTION_SHORT

TITLE = "Wiring methods"
FIRST = 2  # the sheet after the contents
INTRODUCTION = (
    "Where line and neutral loop, times how the switches are joined: each arrangement with as few switches as it "
    "takes, and at the end each join that takes three with three. Every core was laid by the method, and every circuit "
    "was solved: working any one switch changes the lamp. The command new writes the description of any of them, "
    "handout makes questions of it, and compare says how to get from one to another."
)


def compose(shown: Sequence[GalleryPiece], legend: Drawing, room: int) -> tuple[Page, ...]:
    """Contents and a sheet for each pair of arrangements, or for one. `room`: what two drawings may take of a sheet's
    width together."""
    sheets = [(chapter, sheet) for chapter, group in groupby(shown, key=lambda each: each.chapter)
              for sheet in _sheets(list(group), room)]
    return _contents(sheets, legend), *_drawn(sheets)


Sheet = tuple[str, tuple[GalleryPiece, ...]]


def _sheets(chapter: list[GalleryPiece], room: int) -> Iterator[tuple[GalleryPiece, ...]]:
    while chapter:
        pair = tuple(chapter[:2])
        taken = 2 if len(pair) == 2 and (_halves(pair) or _together(pair, room)) else 1
        yield pair[:taken]
        chapter = chapter[taken:]


def _halves(pair: Sequence[GalleryPiece]) -> bool:
    return all(each.beside for each in pair)


def _together(pair: Sequence[GalleryPiece], room: int) -> bool:
    """Whether both are low enough to have a paragraph above them, and one leaves the other the room that it takes."""
    return all(each.low for each in pair) and sum(each.drawing.width for each in pair) <= room


def _contents(sheets: Sequence[Sheet], legend: Drawing) -> Page:
    groups: list[tuple[Block, ...]] = []
    numbered = [(chapter, each.name, str(number)) for number, (chapter, sheet) in enumerate(sheets, FIRST)
                for each in sheet]
    for chapter, lines in groupby(numbered, key=lambda line: line[0]):
        rows = tuple((name, page) for _, name, page in lines)
        groups.append((Heading(chapter, 3), Table(("Arrangement", "Page"), rows, (8, 1))))
    return Page("gallery", "Contents", (
        Words(INTRODUCTION), Columns(tuple(groups)),
        SideBySide(((Picture(legend),), (Words(CAUTION_SHORT, "caution", "Caution."),))),
    ))


def _drawn(sheets: Sequence[Sheet]) -> Iterator[Page]:
    before = ""
    for chapter, sheet in sheets:
        marks = tuple((1, each.name) for each in sheet)
        opens = ((0, chapter),) if chapter != before else ()
        before = chapter
        yield Page("gallery", chapter, (_one(sheet[0]) if len(sheet) == 1 else _beside(sheet)), bookmarks=opens + marks)


def _one(shown: GalleryPiece) -> tuple[Block, ...]:
    return Heading(shown.name), Words(shown.says), Picture(shown.drawing, enlarge=True)


def _beside(sheet: tuple[GalleryPiece, ...]) -> tuple[Block, ...]:
    drawings = [(_halves(sheet) and each.beside) or each.drawing for each in sheet]
    shares = () if _halves(sheet) else tuple(float(drawing.width) for drawing in drawings)
    return (SideBySide(tuple((Heading(each.name), Words(each.says), Picture(drawing))
                             for each, drawing in zip(sheet, drawings, strict=True)), shares),)
