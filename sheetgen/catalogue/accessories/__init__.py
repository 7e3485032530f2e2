"""The catalogue of accessories: one line for each, one file for each family. See DEVELOPERS.md, "a new accessory"."""

from __future__ import annotations

from sheetgen.catalogue.accessories import ceiling_rose, electronic, fans, joints, lamps, plate, pull_cord, switches
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
    joints.JOINT_BOX,
    joints.CONNECTOR,
    joints.LOOSE_END,
    joints.NOT_SEEN,
)


def find(word: str) -> Entry | None:
    """The entry whose name or everyday spelling this is, or None. Hyphens, case and a last 'switch' are no matter."""
    return _SPELLINGS.get(_folded(word)) or _SPELLINGS.get(_folded(word).removesuffix(" switch"))


def _folded(word: str) -> str:
    return " ".join(word.casefold().replace("-", " ").replace("_", " ").split())


_SPELLINGS = {_folded(word): entry for entry in reversed(CATALOGUE) for word in (*entry.also, entry.name)}


def names() -> tuple[str, ...]:
    """Every name and spelling known, names first."""
    return tuple(e.name for e in CATALOGUE) + tuple(w for e in CATALOGUE for w in e.also)


__all__ = ["CATALOGUE", "BadOption", "Entry", "find", "names"]
