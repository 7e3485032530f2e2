"""A pull-cord switch: at the ceiling, one-way or two-way (`switching: two-way`)."""

from __future__ import annotations

from collections.abc import Mapping

from sheetgen.catalogue.accessories.entry import Entry, choice
from sheetgen.catalogue.accessories.switches import SPELLINGS, one_gang
from sheetgen.model.accessory import AccessoryKind, Level

WORDS = {word: what for what in ("one-way", "two-way") for word in (what, *SPELLINGS[what])}


def build(options: Mapping[str, object]) -> AccessoryKind:
    """As the plate switch of the same kind."""
    what = str(choice(options, "switching", WORDS, "one-way"))
    return one_gang(what, level=Level.CEILING, name=f"{what} pull-cord switch", flags=frozenset({"pull-cord"}))


ENTRY = Entry(
    "pull-cord switch", build, ("pull cord", "pull cord switch", "pull-cord", "ceiling switch", "cord switch"),
    ("switching",), "as one-way or two-way, at the ceiling",
)
