"""The bare structure of a schematic, in numbers: what the arranging looks at. Equal structures are arranged once."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from sheetgen.model.accessory import Terminal
from sheetgen.model.diagram import POINTS, Schematic, rungs_of

LEFT, RIGHT = 0, 1  # the edges of a channel; a symbol's left pins lie on the right edge of the channel before it
A, B, ANY = 0, 1, 2  # the side of a symbol that a wire ends on; ANY at a joint, which has every side
LINE_RAIL, NEUTRAL_RAIL = -1, -2
End = tuple[int, int, int]  # symbol or rail, side, number of the pin on that side


@dataclass(frozen=True)
class Structure:
    """The kind of each symbol, its pins on each side, how many rungs it has, and the two ends of each wire."""

    kinds: tuple[str, ...]
    pins: tuple[tuple[int, int], ...]
    rungs: tuple[int, ...]
    ends: tuple[tuple[End, End], ...]

    @cached_property
    def contacts(self) -> tuple[bool, ...]:
        """Which symbols are contacts of a switch."""
        return tuple(kind in ("make", "changeover", "intermediate", "contacts") for kind in self.kinds)

    @cached_property
    def branches(self) -> tuple[int, ...]:
        """For each symbol a number that it shares with all that wires join it to without a rail between."""
        number = list(range(len(self.kinds)))
        for (a, _, _), (b, _, _) in self.ends:
            if a >= 0 and b >= 0 and number[a] != number[b]:
                number = [number[a] if n == number[b] else n for n in number]
        return tuple(number)


def structure_of(schematic: Schematic) -> Structure:
    """The structure of a schematic."""
    at: dict[Terminal, End] = {}
    for i, symbol in enumerate(schematic.symbols):
        for side, pins in enumerate((symbol.a, symbol.b)):
            for number, pin in enumerate(pins):
                at[pin] = (i, ANY, 0) if symbol.kind in POINTS else (i, side, number)
    for rail in schematic.rails:
        for tap in rail.taps:
            at.setdefault(tap, (LINE_RAIL if rail.left else NEUTRAL_RAIL, ANY, 0))
    return Structure(
        tuple(symbol.kind for symbol in schematic.symbols),
        tuple((len(symbol.a), len(symbol.b)) for symbol in schematic.symbols),
        tuple(len(rungs_of(symbol)) for symbol in schematic.symbols),
        tuple((at[a], at[b]) for a, b in (wire.ends for wire in schematic.wires)),
    )
