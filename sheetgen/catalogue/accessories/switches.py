"""Plate switches of one gang and what they are made of; plates of several gangs are built from the same parts."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from sheetgen.catalogue.accessories.entry import EARTH, Entry
from sheetgen.model.accessory import AccessoryKind, Level, Meant, Position, SwitchKind, TerminalKind

# Names met on real switches: reference facts, "Accessory terminals".
COM = TerminalKind("COM", Meant.CONTACT, aliases=("C", "common", "com"))
L1 = TerminalKind("L1", Meant.CONTACT, aliases=("1", "1 way", "1way", "A1", "way 1"))
L2 = TerminalKind("L2", Meant.CONTACT, aliases=("2", "2 way", "2way", "A2", "way 2"))
I1 = TerminalKind("L1", Meant.CONTACT, aliases=("A1", "1"))
I2 = TerminalKind("L2", Meant.CONTACT, aliases=("A2", "2"))
I3 = TerminalKind("L3", Meant.CONTACT, aliases=("B1", "C1", "3"))
I4 = TerminalKind("L4", Meant.CONTACT, aliases=("B2", "C2", "4"))

# kind -> (terminals, positions, face, ports)
PARTS = {
    "one-way": (
        (COM, L1),
        (Position("off"), Position("on", (("COM", "L1"),))),
        (("COM",), ("L1",)),
        (("common", "COM"), ("out", "L1")),
    ),
    "two-way": (
        (COM, L1, L2),
        (Position("L1", (("COM", "L1"),)), Position("L2", (("COM", "L2"),))),
        (("COM",), ("L1",), ("L2",)),
        (("common", "COM"), ("out", "L1"), ("strap 1", "L1"), ("strap 2", "L2")),
    ),
    "intermediate": (
        (I1, I2, I3, I4),
        (Position("straight", (("L1", "L3"), ("L2", "L4"))), Position("crossed", (("L1", "L4"), ("L2", "L3")))),
        (("L1", "L3"), ("L2", "L4")),
        (("straps in 1", "L1"), ("straps in 2", "L2"), ("straps out 1", "L3"), ("straps out 2", "L4")),
    ),
}
SPELLINGS = {
    "one-way": (
        "1-way", "one way", "1 way", "single pole", "one-way switch", "1 gang", "1 gang 1 way", "one gang",
        "one gang one way"),
    "two-way": ("2-way", "two way", "2 way", "two-way switch", "1 gang 2 way", "one gang two way"),
    "intermediate": ("intermediate switch", "crossover", "inter"),
}


def one_gang(what: str, *, level: Level = Level.WALL, name: str = "",
             flags: frozenset[str] = frozenset()) -> AccessoryKind:
    """A switch of one gang."""
    terminals, positions, face, ports = PARTS[what]
    return AccessoryKind(
        name=name or (what if what == "intermediate" else f"{what} switch"),
        level=level,
        terminals=(*terminals, EARTH),
        face=(*face, ("E",)),
        switches=(SwitchKind(positions, what=what),),
        ports=(*ports, ("earth", "E")),
        letter="Q",  # IEC 81346-2: controlled switching of a flow of energy
        flags=flags,
    )


def _build(what: str) -> Callable[[Mapping[str, object]], AccessoryKind]:
    def build(options: Mapping[str, object]) -> AccessoryKind:
        return one_gang(what)

    return build


ONE_WAY = Entry(
    "one-way switch", _build("one-way"), SPELLINGS["one-way"] + ("switch", "light switch"), (),
    "COM and L1; closed when on",
)
TWO_WAY = Entry(
    "two-way switch", _build("two-way"), SPELLINGS["two-way"] + ("changeover switch",), (), "COM on L1 or on L2"
)
INTERMEDIATE = Entry(
    "intermediate switch",
    lambda options: one_gang("intermediate", name="intermediate switch"),
    SPELLINGS["intermediate"] + ("intermediate",),
    (),
    "L1 L2 to L3 L4, straight or crossed",
)
