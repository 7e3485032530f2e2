"""What the description would have to give for every figure to be worked out."""

from __future__ import annotations

from collections.abc import Iterable

from sheetgen.model.page import Block, Words
from sheetgen.words import joined

NO_TABLE = "rating"  # kind of a missing thing that the user cannot give


def asked_for(figures: Iterable) -> list[Block]:
    """Asks for what these figures lack, things of one kind together; and says which ratings no table at hand has."""
    things: dict[str, list[str]] = {}
    for missing in dict.fromkeys(m for f in figures for m in f.missing):
        kind, _, of = missing.partition(" of ")
        things.setdefault(kind, []).append(of)
    unknown = things.pop(NO_TABLE, [])
    blocks: list[Block] = []
    if things:
        asked = (f"{kind} of {joined(of)}" if any(of) else kind for kind, of in things.items())
        blocks.append(Words("; ".join(asked) + ".", "quiet", "Not given, and needed for the figures left out:"))
    if unknown:
        blocks.append(Words(f"{joined(unknown)}.", "quiet", "No table at hand for the rating of"))
    return blocks
