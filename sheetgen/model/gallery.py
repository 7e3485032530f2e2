"""The gallery: every arrangement that the catalogue of methods lays, drawn and told."""

from __future__ import annotations

from dataclasses import dataclass

from sheetgen.model.drawing import Drawing


@dataclass(frozen=True)
class GalleryPiece:
    """One arrangement of the gallery."""

    chapter: str  # where line and neutral loop, or that there are three switches
    name: str
    says: str  # a paragraph
    drawing: Drawing
    beside: Drawing | None = None  # the same for half the width of a sheet, where it fits there
    low: bool = False  # whether the whole sheet's leaves room for a paragraph in half its width above it
