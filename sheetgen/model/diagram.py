"""A circuit diagram: symbols between the rails, the conductors that join their pins, and where everything stands.

First what is joined (`Schematic`), then places in whole columns and rows (`DiagramPlan`). A pin is a terminal of the
wiring; where a core ends in nothing, its pin is `nothing(core, end)`, a terminal that no accessory has.
"""

from __future__ import annotations

from dataclasses import dataclass

from sheetgen.model.accessory import Terminal
from sheetgen.model.reading import Role

# Kinds of a rail that is none of the board, as they are said: what nothing supplies but through loads, by the role that
# its cores have; what may lead anywhere; what only a switch supplies.
CUT_OFF, BETWEEN_LAMPS, NOT_TRACED, SWITCHED = Role.CUT_OFF.value, Role.BETWEEN_LAMPS.value, "not traced", "switched"
POINTS = ("joint", "end", "unknown")  # kinds of symbol that are one point
Pairs = tuple[tuple[Terminal, Terminal], ...]


@dataclass(frozen=True)
class Rung:
    """One of several loads in parallel: what it is, its name, its words, and its terminals on the two sides."""

    what: str
    load: str
    words: str
    ends: tuple[Terminal, Terminal]
    labels: tuple[str, str]


@dataclass(frozen=True)
class Symbol:
    """A contact, a load, a joint or a loose end, with the pins on its two sides from top to bottom.

    `kind` is "make", "changeover", "intermediate", "contacts" (any other set of contacts), "lamp", "fan",
    "electronics", "joint" (one terminal, a pin on both sides), "end" (a core that ends in nothing) or "unknown" (one
    whose end nobody knows).
    """

    kind: str
    name: str
    a: tuple[Terminal, ...]
    b: tuple[Terminal, ...] = ()
    switch: str = ""
    load: str = ""
    joins: tuple[tuple[str, Pairs], ...] = ()  # of each position of the switch: the pins joined
    labels: tuple[str, ...] = ()  # of a, then b: what stands beside each pin
    rungs: tuple[Rung, ...] = ()  # of loads in parallel that stand below one another, with this symbol's pins for all
    note: str = ""  # which loads one symbol stands for

    @property
    def pins(self) -> tuple[Terminal, ...]:
        """Every pin, each once."""
        return tuple(dict.fromkeys((*self.a, *self.b)))


def rungs_of(symbol: Symbol) -> tuple[Rung, ...]:
    """The rungs that are drawn; none where one load stands for all."""
    return () if symbol.note else symbol.rungs


@dataclass(frozen=True)
class Connection:
    """What joins two pins: a core, or cores through terminals that only join; or a lead within an accessory.

    `cores` has each core with its two ends, as they follow from the first pin to the second; none for a lead.
    """

    cores: tuple[tuple[str, Terminal, Terminal], ...]
    ends: tuple[Terminal, Terminal]
    label: str

    @property
    def core(self) -> str:
        """The key of its first core; "" for a lead."""
        return self.cores[0][0] if self.cores else ""


@dataclass(frozen=True)
class SupplyRail:
    """A rail, and the terminals that stand for it: those joined to it before any pin of the diagram is met.

    Or what is drawn as one though nothing supplies it, or only through a switch: conductors that several symbols share.
    """

    terminal: Terminal
    kind: str  # "line", "neutral", "earth", CUT_OFF, BETWEEN_LAMPS, NOT_TRACED or SWITCHED
    name: str  # of its way, as printed
    taps: tuple[Terminal, ...]
    said: tuple[str, ...]  # the taps as printed
    left: bool  # it stands at the left of the symbols

    def heads(self, tap: Terminal) -> bool:
        """Whether a tap is the rail's own terminal, whose name stands at its head already."""
        return tap == self.terminal and self.supplied

    @property
    def supplied(self) -> bool:
        """It is a rail of the board."""
        return self.kind in ("line", "neutral", "earth")


@dataclass(frozen=True)
class Schematic:
    """What one group of switches and lamps joins, taken from the wiring as it is."""

    switches: tuple[str, ...]
    symbols: tuple[Symbol, ...]
    wires: tuple[Connection, ...]
    rails: tuple[SupplyRail, ...]

    def rail_of(self, terminal: Terminal) -> SupplyRail | None:
        """The rail that a terminal stands for, or None where it is the pin of a symbol."""
        return next((r for r in self.rails if terminal in r.taps), None)


@dataclass(frozen=True)
class SymbolPlace:
    """Where a symbol stands: its column, its first row, the rows of its pins from there, and which way round.

    `pins` are those on the left and on the right, as numbered on their side of the symbol. Rows are half as high as
    a line of text needs.
    """

    column: int
    row: int
    pins: tuple[tuple[int, ...], tuple[int, ...]]
    turned: bool = False  # side a on the right
    over: bool = False  # upside down


@dataclass(frozen=True)
class ChannelRun:
    """A stretch of a wire through one channel (channel k lies left of column k), from one end to the other.

    `sides` says on which edge of the channel each end lies: 0 left, 1 right. `track` is that of its upright stretch,
    counted from the left; -1 where it runs straight through.
    """

    channel: int
    sides: tuple[int, int]
    rows: tuple[int, int]
    track: int = -1


@dataclass(frozen=True)
class DiagramPlan:
    """A schematic with a place for everything. Places run parallel to its symbols, routes to its wires.

    A route runs from the wire's first end to its second.
    """

    schematic: Schematic
    places: tuple[SymbolPlace, ...]
    routes: tuple[tuple[ChannelRun, ...], ...]
    columns: int
    crossings: int = 0


def nothing(core: str, end: int) -> Terminal:
    """The pin of a core's end that ends in nothing, or nobody knows where."""
    return Terminal("", f"{core} end {end + 1}")


def inner(terminal: Terminal, number: int) -> Terminal:
    """A pin of a symbol within an accessory that shares its terminal with another symbol."""
    return Terminal(terminal.accessory, f"{terminal.name}\n{number}")


def outer(pin: Terminal) -> Terminal:
    """The terminal of the accessory that a pin stands for."""
    return Terminal(pin.accessory, pin.name.partition("\n")[0])


Point = tuple[int, int]
PinPoints = tuple[tuple[Point, ...], tuple[Point, ...]]  # of a symbol's pins on the left and on the right


@dataclass(frozen=True)
class Bar:
    """A rail on paper: an upright, and the points at which wires leave it with the terminal of each."""

    rail: SupplyRail
    x: int
    top: int
    bottom: int
    taps: tuple[tuple[Point, Terminal], ...]


@dataclass(frozen=True)
class Label:
    """A text on paper at its baseline, and what it belongs to: a core's key, or a name of a symbol or a rail."""

    at: Point
    text: str
    role: str
    anchor: str = "middle"
    core: str = ""


@dataclass(frozen=True)
class Figure:
    """A plan in hundredths of a millimetre. Symbols and wires run parallel to the schematic's.

    `pins` has for each symbol the points of its pins on the left and on the right, as numbered on their sides.
    """

    plan: DiagramPlan
    width: int
    height: int
    pins: tuple[PinPoints, ...]
    paths: tuple[tuple[Point, ...], ...]
    bars: tuple[Bar, ...]
    labels: tuple[Label, ...]
