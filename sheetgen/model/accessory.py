"""What an accessory is: terminals, contacts for each position, loads, face. Facts only, no behaviour."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction
from typing import NamedTuple

from sheetgen.model.problems import Mark


class Level(StrEnum):
    """Where an accessory stands in the drawing."""

    BOARD = "board"
    CEILING = "ceiling"
    PENDANT = "pendant"  # hangs from a ceiling accessory by its flex
    WALL = "wall"


class Meant(StrEnum):
    """What the maker of the accessory means a terminal for."""

    LINE = "line"
    NEUTRAL = "neutral"
    EARTH = "earth"
    LOOP = "loop"  # permanent line looped through a rose
    SWITCHED = "switched line"
    CONTACT = "contact"  # of a switch
    SIGNAL = "signal"  # tells the electronics inside what to do
    ANY = "any"


class Terminal(NamedTuple):
    """A terminal of one accessory of a wiring; the nodes of the electrical solution."""

    accessory: str
    name: str

    def __str__(self) -> str:
        return f"{self.accessory} {self.name}"


@dataclass(frozen=True)
class TerminalKind:
    """One terminal: canonical name, what it is meant for, how many conductors it takes."""

    name: str
    meant: Meant = Meant.ANY
    ways: int = 3  # conductors it takes
    rows: int = 1  # rows drawn at least: a block of a rose shows its holes, a screw terminal one row
    aliases: tuple[str, ...] = ()
    connector: bool = False  # a lone connector lying in the enclosure, not part of the accessory
    to_be_empty: bool = False  # nothing may be connected here (a blanked or parking terminal)
    inner: bool = False  # a point within the accessory that no hand can reach: for the solution only, never shown


@dataclass(frozen=True)
class Position:
    """One position of a switch: its name and the pairs of terminals it joins."""

    name: str
    joins: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class SwitchKind:
    """A part of an accessory that changes what is joined: by hand, cord, sensor or timer.

    `name` is empty where the accessory has only one; a gang's name on a plate of several.
    """

    positions: tuple[Position, ...]
    name: str = ""
    what: str = "one-way"
    """Known: "one-way", "two-way", "intermediate", "double-pole", "isolator", "dimmer", "sensor", "timer", "relay"."""
    by_hand: bool = True  # False: a sensor or a timer changes it ("idle", "triggered")


@dataclass(frozen=True)
class LoadKind:
    """A load between two terminals of an accessory, in watts at the nominal voltage."""

    a: str  # the live contact, as the maker means it
    b: str
    watts: Fraction
    name: str = ""  # empty where the accessory has only one
    what: str = "lamp"  # "lamp", "fan", "electronics"
    screw: bool = False  # Edison screw: b is the outer contact
    assumed: bool = False  # the watts are the usual ones: the description does not give them


@dataclass(frozen=True)
class AccessoryKind:
    """A kind of accessory with its options applied (blocks, gangs, lamp, connectors): all a stage may ask."""

    name: str
    level: Level
    terminals: tuple[TerminalKind, ...]
    face: tuple[tuple[str, ...], ...] = ()  # rows from top to bottom; two names where a row has a left and a right
    switches: tuple[SwitchKind, ...] = ()
    loads: tuple[LoadKind, ...] = ()
    rails: tuple[tuple[str, str], ...] = ()  # board way only: terminal -> "line" | "neutral" | "earth"
    ports: tuple[tuple[str, str], ...] = ()  # port of a wiring method -> terminal
    letter: str = "X"  # class letter of IEC 81346-2
    fuse: Fraction | None = None  # ampere, of a fuse of its own (fused connection unit)
    fuse_assumed: bool = False  # the usual one: the description does not give it
    flags: frozenset[str] = field(default_factory=frozenset)
    """Known flags: "dimmer", "sensor", "electronics" (a test could harm it), "three-pole isolator", "fan",
    "class I", "metal", "class II", "pull-cord", "emergency", "joint box", "loose end",
    "not seen" (stands for an accessory that nobody has found yet), "no lamp" (a lamp has its place here and is out),
    "fused" (has a fuse of its own), "socket"."""

    def terminal(self, name: str) -> TerminalKind:
        """The terminal of that canonical name; KeyError if there is none."""
        for terminal in self.terminals:
            if terminal.name == name:
                return terminal
        raise KeyError(name)

    def takes_cpc(self, name: str) -> bool:
        """A cpc may end on the terminal: it is meant for earth, or for nothing that carries current."""
        meant, port = self.terminal(name).meant, {terminal: port for port, terminal in self.ports}.get(name, "")
        return meant is Meant.EARTH or (meant is Meant.ANY and port not in ("line", "neutral", "switched line"))

    def port(self, name: str) -> str:
        """The terminal behind a port of a wiring method; KeyError if this kind lacks it."""
        return dict(self.ports)[name]


@dataclass(frozen=True)
class Accessory:
    """One accessory of a wiring."""

    name: str
    kind: AccessoryKind
    room: str = ""
    labels: tuple[tuple[str, str], ...] = ()  # canonical terminal -> the name the user gave it
    hangs_from: str = ""  # for level PENDANT: the accessory it hangs from
    note: str = ""
    at: Mark = Mark()
    opened: bool = True  # False: the user has not looked inside; what is landed in it may be more than is written
    holds: tuple[str, ...] = ()  # other accessories in its enclosure; their terminals are its own: 'Relay.S1'
    assumed: bool = False  # the description does not name it: the lamp that a rose is taken to have

    @property
    def seen(self) -> bool:
        """It has been found; False for one that stands for the other end of a cable that nobody has followed."""
        return "not seen" not in self.kind.flags

    def label(self, terminal: str) -> str:
        """The terminal's name as the user gave it, else the canonical one."""
        return dict(self.labels).get(terminal, terminal)

    def gang(self, terminal: str) -> str:
        """The gang of a plate that a terminal belongs to; "" where there are no gangs."""
        gang, dot, _ = terminal.partition(".")
        return gang if dot and gang in {switch.name for switch in self.kind.switches} else ""

    def printed_label(self, terminal: str) -> str:
        """A terminal's name as printed beside its accessory: 'L1', on a plate 'landing L1'."""
        gang = self.gang(terminal)
        return f"{gang} {self.label(terminal).removeprefix(f'{gang}.')}" if gang else self.label(terminal)

    def terminal(self, name: str) -> Terminal:
        """The node for a canonical terminal name."""
        return Terminal(self.name, name)

    def switch_name(self, switch: SwitchKind) -> str:
        """What the state table calls a switch: the accessory, and the gang where there are several."""
        return f"{self.name}.{switch.name}" if switch.name else self.name

    def load_name(self, load: LoadKind) -> str:
        """What the state table calls a load."""
        return f"{self.name}.{load.name}" if load.name else self.name
