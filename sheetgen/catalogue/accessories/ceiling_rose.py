"""A ceiling rose with three terminal blocks (loop, neutral, switched line) or two (no loop), and its earth terminal.

How many holes a block has differs between makers: three in each block, from memory.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from sheetgen.catalogue.accessories.entry import EARTH, NEUTRAL, Entry, choice
from sheetgen.model.accessory import AccessoryKind, Level, Meant, TerminalKind

N = replace(NEUTRAL, ways=3, rows=3)
LOOP = TerminalKind("loop", Meant.LOOP, ways=3, rows=3, aliases=("L", "line", "live", "permanent line", "loop in"))
SL = TerminalKind(
    "SL", Meant.SWITCHED, ways=3, rows=2,
    aliases=("switched line", "switched live", "switch line", "SW", "S/L", "switch wire"),
)
SL_TWO = replace(SL, aliases=(*SL.aliases, "L", "line", "live"))
BLOCKS = {"two": 2, "2": 2, "two-plate": 2, "three": 3, "3": 3, "three-plate": 3}


def build(options: Mapping[str, object]) -> AccessoryKind:
    """Loop in the middle and the switched line last, nearest the flex: as on a real rose."""
    three = choice(options, "blocks", BLOCKS, "three") == 3
    terminals = (N, LOOP, EARTH, SL) if three else (N, EARTH, SL_TWO)
    ports = (("neutral", "N"), ("switched line", "SL"), ("earth", "E"))
    return AccessoryKind(
        name=f"ceiling rose, {'three' if three else 'two'} terminal blocks",
        level=Level.CEILING,
        terminals=terminals,
        face=tuple((t.name,) for t in terminals),
        ports=ports + ((("line", "loop"),) if three else ()),
        letter="X",
        flags=frozenset({"rose"}),
    )


ENTRY = Entry(
    "ceiling rose", build, (
        "rose", "ceiling-rose", "pendant rose"), ("blocks", "lamp", "flex"),
    "loop, neutral, switched line, earth; `blocks: two` has no loop",
)
