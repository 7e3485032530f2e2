"""The catalogue of accessories: one line for each, one file for each family. See DEVELOPERS.md, "a new accessory"."""

from __future__ import annotations

import re

from sheetgen.catalogue.accessories import (
    ceiling_rose,
    electronic,
    fans,
    joints,
    lamps,
    outlets,
    plate,
    pull_cord,
    switches,
)
from sheetgen.catalogue.accessories.entry import BadOption, Entry

CATALOGUE: tuple[Entry, ...] = (
    ceiling_rose.ENTRY,
    lamps.LAMPHOLDER,
    lamps.BATTEN,
    lamps.FITTING,
    switches.ONE_WAY,
    switches.TWO_WAY,
    switches.INTERMEDIATE,
    plate.ENTRY,
    pull_cord.ENTRY,
    fans.DOUBLE_POLE,
    electronic.DIMMER,
    electronic.SENSOR,
    electronic.RELAY,
    fans.FAN,
    fans.TIMER_FAN,
    fans.ISOLATOR,
    electronic.EMERGENCY,
    electronic.FLOODLIGHT,
    outlets.FUSED_UNIT,
    outlets.SOCKET,
    joints.JOINT_BOX,
    joints.CONNECTOR,
    joints.LOOSE_END,
    joints.NOT_SEEN,
)


def find(word: str) -> Entry | None:
    """The entry whose name or everyday spelling this is, or None. Hyphens, case and a last 'switch' are no matter."""
    return _SPELLINGS.get(_folded(word)) or _SPELLINGS.get(_folded(word).removesuffix(" switch"))


NUMBERS = {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, **{str(n): n for n in range(1, 13)}}
_GANGS = re.compile(r"(?P<gangs>\w+) gang(?:s)?(?: (?P<ways>\w+) way)?(?: (?:light )?(?:switch|plate))?")
_PLATES = re.compile(r"(?P<blocks>2|two|3|three) (?:plate|block|terminal)s? (?:ceiling )?rose")


def understood(word: str) -> tuple[Entry | None, dict[str, object]]:
    """The entry, and the options that the words themselves give: '2 gang 2 way' is a plate with `gangs: 2`."""
    folded = _folded(word)
    if entry := find(word):
        return entry, {}
    if (found := _GANGS.fullmatch(folded)) and found["gangs"] in NUMBERS and NUMBERS.get(found["ways"] or "1", 9) < 3:
        switching = "two-way" if NUMBERS[found["ways"] or "1"] == 2 else "one-way"
        return plate.ENTRY, {"gangs": str(NUMBERS[found["gangs"]]), "switching": switching}
    if found := _PLATES.fullmatch(folded):
        return ceiling_rose.ENTRY, {"blocks": found["blocks"]}
    return None, {}


def _folded(word: str) -> str:
    return " ".join(word.casefold().replace("-", " ").replace("_", " ").split())


_SPELLINGS = {_folded(word): entry for entry in reversed(CATALOGUE) for word in (*entry.also, entry.name)}


def names() -> tuple[str, ...]:
    """Every name and spelling known, names first."""
    return tuple(e.name for e in CATALOGUE) + tuple(w for e in CATALOGUE for w in e.also)


__all__ = ["CATALOGUE", "BadOption", "Entry", "find", "names", "understood"]
