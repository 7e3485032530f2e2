"""A printed page as a backend-neutral value: blocks in reading order. The writers turn blocks into marks on paper."""

from __future__ import annotations

from dataclasses import dataclass

from sheetgen.model.drawing import Drawing


@dataclass(frozen=True)
class Heading:
    """A heading; level 1 is the page's own."""

    text: str
    level: int = 2


@dataclass(frozen=True)
class Words:
    """A paragraph. `tone` is "plain", "caution", "danger", "notice", "small"."""

    text: str
    tone: str = "plain"


@dataclass(frozen=True)
class Items:
    """A list; numbered or not."""

    items: tuple[str, ...]
    numbered: bool = False


@dataclass(frozen=True)
class Swatch:
    """A short piece of conductor or sleeve in a table cell, drawn in the conductor's paint."""

    colour: str
    text: str = ""
    sleeve: str = ""
    missing: bool = False  # the sleeve is needed and not there


Cell = str | Swatch


@dataclass(frozen=True)
class Table:
    """A table; the head repeats on a new sheet. `shares` are relative column widths; `tones` one per row."""

    head: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    shares: tuple[float, ...] = ()
    tones: tuple[str, ...] = ()
    boxes: tuple[int, ...] = ()  # columns that are blank boxes to write in


@dataclass(frozen=True)
class Picture:
    """A drawing at its own size (never shrunk unless `scale` says so; then it must hold no text)."""

    drawing: Drawing
    scale: float = 1.0
    caption: str = ""


@dataclass(frozen=True)
class Row:
    """Blocks side by side, widths by share."""

    blocks: tuple[tuple["Block", ...], ...]
    shares: tuple[float, ...] = ()


Block = Heading | Words | Items | Table | Picture | Row


@dataclass(frozen=True)
class Page:
    """One page kind of a job sheet; may run on over several sheets of paper."""

    kind: str  # "card", "wiring", ...
    title: str
    blocks: tuple[Block, ...]
    frame: str = "full"  # "full", or "a5" with cut marks
