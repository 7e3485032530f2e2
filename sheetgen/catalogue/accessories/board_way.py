"""A way of the board: its line, neutral and earth are the rails of the circuit."""

from __future__ import annotations

from dataclasses import replace

from sheetgen.catalogue.accessories.entry import EARTH, LINE, NEUTRAL
from sheetgen.model.accessory import AccessoryKind, Level

KIND = AccessoryKind(
    "board way", Level.BOARD,
    terminals=(LINE, NEUTRAL, replace(EARTH)), face=(("L",), ("N",), ("E",)),
    rails=(("L", "line"), ("N", "neutral"), ("E", "earth")),
    ports=(("line", "L"), ("neutral", "N"), ("earth", "E")), letter="F",
)
"""Not in the catalogue: a description names it 'way 4', the board makes it."""
