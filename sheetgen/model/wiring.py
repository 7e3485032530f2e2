"""A wiring: what there is and what each core joins, every name resolved. Comparable and printable."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from enum import StrEnum
from fractions import Fraction
from functools import cached_property

from sheetgen.model.accessory import Accessory, LoadKind, SwitchKind, Terminal
from sheetgen.model.finding_out import Seen, TakenReading
from sheetgen.model.problems import Mark


class Told(StrEnum):
    """What the description tells of a thing that may be there: what it is, that there is none, or nothing."""

    GIVEN = "given"
    NONE = "none"
    UNKNOWN = "unknown"  # written as unknown, or not written at all: the two are one


class Status(StrEnum):
    """What a job shows: the circuit that is there, one that is to be made, or one that only a method has laid."""

    AS_FOUND = "as found"
    PROPOSED = "proposed"
    BY_METHOD = "by method"  # nobody found it anywhere, and nobody drew it


@dataclass(frozen=True)
class Size:
    """A conductor size as printed on the cable: '1.0' (mm2) or '3/.029' (strands / inch)."""

    text: str
    area: Fraction  # mm2

    @property
    def imperial(self) -> bool:
        """An old imperial size."""
        return "/" in self.text


@dataclass(frozen=True)
class CoreEnd:
    """One end of a core: the accessory it comes out in, the terminal it is landed on, the sleeve it carries.

    Where nobody knows the terminal, `terminal` is None and `unknown` is true: it may be any, and is never "nothing".
    """

    accessory: str
    terminal: str | None  # canonical name; None: the core ends in nothing, or, with `unknown`, nobody knows where
    sleeve: str | None = None  # colour code of a sleeve that is there; None: no sleeve
    unknown: bool = False  # written '?', or at an end of the cable that was not seen

    @property
    def nothing(self) -> bool:
        """It was seen to end in nothing."""
        return self.terminal is None and not self.unknown

    @cached_property
    def node(self) -> Terminal | None:
        """The terminal as a node, or None where the core ends in nothing or its terminal is not known."""
        return Terminal(self.accessory, self.terminal) if self.terminal is not None else None


@dataclass(frozen=True)
class Core:
    """One conductor of a cable. `ends[0]` is at the cable's first accessory, `ends[1]` at its second."""

    cable: str
    index: int  # 1, 2, ... in the cable's order; does not change with the colours
    colour: str  # IEC 60757 code of the insulation; "" for a bare core
    ends: tuple[CoreEnd, CoreEnd]
    mark: str = ""  # what tells it from another core of the same colour
    cpc: bool = False  # it is the cable's protective core by construction (bare, or green-and-yellow)

    @cached_property
    def key(self) -> str:
        """Identity that survives a change of colours: 'W2/3'."""
        return f"{self.cable}/{self.index}"

    @property
    def label(self) -> str:
        """What is written beside it on paper: the colour code and the mark ('RD', 'RD 1', 'bare')."""
        return f"{self.colour or 'bare'} {self.mark}".strip()

    def with_ends(self, change: Callable[[int, CoreEnd], CoreEnd]) -> Core:
        """The core with what `change` makes of each end; it is given the end's number, 0 or 1, as well."""
        return replace(self, ends=(change(0, self.ends[0]), change(1, self.ends[1])))

    def __str__(self) -> str:
        return f"{self.cable} {self.label}"


@dataclass(frozen=True)
class Cable:
    """A cable, flex or single between two accessories (which may be the same one: a link).

    Of a cable seen at one accessory only (`at_one_end`) the second end is an accessory made for it, of the kind "end
    not seen", which stands for one that nobody has found yet and may be any; all its core ends there are unknown.
    """

    name: str
    type: str  # canonical type name: "twin and earth", "single", "two-core flex", ...
    size: Size | None
    cores: tuple[Core, ...]
    ends: tuple[str, str]  # names of the accessories
    colours: str = "legacy"  # colour set its cores are in
    cpc_size: Size | None = None  # None where it has no cpc
    sheath: str = "sheathed"  # "sheathed", "unsheathed", "flex"
    run_in: str = ""  # the conduit or trunking it runs in, as the user names it; "" where none
    method: str = ""  # installation method of BS 7671 appendix 4: "C", "100", ...; "" where not given
    length: Fraction | None = None  # metres
    note: str = ""
    at: Mark = Mark()
    at_one_end: bool = False  # seen at its first accessory only
    assumed: bool = field(default=False, compare=False)  # nobody told of it: laid by a method, or the flex of a pendant

    @property
    def single(self) -> bool:
        """A cable of one core."""
        return self.type in ("single", "unsheathed single")

    @property
    def flex(self) -> bool:
        """A flexible cord, whose colours are no part of the fixed wiring's."""
        return self.sheath == "flex"

    @property
    def link(self) -> bool:
        """Both ends in one accessory."""
        return self.ends[0] == self.ends[1]


@dataclass(frozen=True)
class Device:
    """The protective device of a way: 'type B 6 A', 'BS 3036 5 A'."""

    type: str  # name of its entry in the catalogue of devices: "B", "BS 3036", ...
    rating: Fraction  # ampere

    def __str__(self) -> str:
        name = f"type {self.type}" if len(self.type) == 1 else self.type
        return f"{name} {float(self.rating):g} A"


@dataclass(frozen=True)
class Way:
    """One outgoing circuit of the board. `accessory` is the accessory that stands for it in the wiring."""

    accessory: str  # "way 4"
    number: str  # "4"; "" where nobody told it
    serves: str = ""
    device: Device | None = None
    rcd: Fraction | None = None  # mA; None: none, or not known: see `rcd_told`
    isolated_by: str = ""  # what isolates it, where the user says so
    at: Mark = Mark()
    no_device: bool = False  # the user says that there is none
    no_rcd: bool = False  # the user says that there is none
    off: bool = False  # found switched off, or its fuse withdrawn

    @property
    def printed(self) -> str:
        """'circuit 4': what an electrician calls it, and so everything that is read, whatever the file calls it.

        'the circuit' where its number was not told: a number that nobody gave could have the wrong one switched off.
        """
        return f"circuit {self.number}" if self.number else "the circuit"

    @property
    def titled(self) -> str:
        """'Circuit 4', as a title; 'Circuit, number not given'."""
        return f"Circuit {self.number}" if self.number else "Circuit, number not given"

    @property
    def device_told(self) -> Told:
        """Whether its device is given, there is none, or nobody knows."""
        return _told(self.device is not None, self.no_device)

    @property
    def rcd_told(self) -> Told:
        """Whether its RCD is given, there is none, or nobody knows."""
        return _told(self.rcd is not None, self.no_rcd)


def _told(given: bool, none: bool) -> Told:
    return Told.GIVEN if given else Told.NONE if none else Told.UNKNOWN


@dataclass(frozen=True)
class Board:
    """The consumer unit or fuse board."""

    name: str = "Consumer unit"
    ways: tuple[Way, ...] = ()
    earthing: str = ""  # "TN-S", "TN-C-S", "TT", "" where not given
    ze: Fraction | None = None  # ohm
    voltage: Fraction = Fraction(230)
    where: str = ""  # where it is in the house

    def opens_by_rcd(self, way: Way) -> bool:
        """Whether its RCD has to open at a fault to earth, for which the electrode of a TT supply lets too little
        through to open a device."""
        return self.earthing == "TT" and bool(way.rcd)


@dataclass(frozen=True)
class Report:
    """The last inspection report of a dwelling, as its owner files it; dates as written, "" where not given."""

    number: str = ""
    date: str = ""
    next_due: str = ""


@dataclass(frozen=True)
class Wiring:
    """Everything about one job, resolved. Accessories and cables keep the order of the description."""

    job: str
    accessories: tuple[Accessory, ...]
    cables: tuple[Cable, ...]
    board: Board = Board()
    place: str = ""
    drawn_by: str = ""
    drawn_on: str = ""  # ISO date as written, "" where not given
    colours: str = "legacy"  # the default colour set of the description
    recoloured: str = ""  # set by `--colours`: colours are not as found
    notes: tuple[str, ...] = ()
    status: Status | None = None  # None: the description does not say
    seen: tuple[Seen, ...] = ()  # what the lamps did, as somebody saw it
    readings: tuple[TakenReading, ...] = ()  # what somebody measured
    report: Report = Report()
    bad_practice: tuple[str, ...] = ()  # why the trade refuses it: it was laid to be taught, and every sheet says so

    @cached_property
    def _by_name(self) -> dict[str, Accessory]:
        return {accessory.name: accessory for accessory in reversed(self.accessories)}

    @cached_property
    def _cables_by_name(self) -> dict[str, Cable]:
        return {cable.name: cable for cable in reversed(self.cables)}

    def accessory(self, name: str) -> Accessory:
        """The accessory of that name; KeyError if there is none."""
        return self._by_name[name]

    def cable(self, name: str) -> Cable:
        """The cable of that name; KeyError if there is none."""
        return self._cables_by_name[name]

    @cached_property
    def unknown_ends(self) -> tuple[tuple[Core, CoreEnd], ...]:
        """Every core end whose terminal nobody knows, with its core, cable by cable."""
        return tuple((core, end) for core in self.cores() for end in core.ends if end.unknown)

    @property
    def laid(self) -> bool:
        """Every core was laid by a method: nothing in it was found."""
        return self.status is Status.BY_METHOD

    @property
    def not_traced(self) -> tuple[str, ...]:
        """The cables of which a method says where their cores go, in a wiring that is said to be no layout by method:
        nobody has traced them."""
        return () if self.laid else tuple(cable.name for cable in self.cables if cable.assumed and not cable.flex)

    @property
    def all_seen(self) -> bool:
        """Every core end is known, and every accessory was opened."""
        return not self.unknown_ends and all(a.opened for a in self.accessories)

    def looked_into(self, accessory: Accessory) -> bool:
        """Somebody opened it; a circuit without a number at which no core was traced stands for one that nobody did."""
        way = self.way(accessory.name)
        return accessory.opened and (
            way is None or bool(way.number) or any(accessory.name in cable.ends for cable in self.cables))

    def cores(self) -> Iterator[Core]:
        """Every core, cable by cable."""
        for cable in self.cables:
            yield from cable.cores

    def switches(self) -> Iterator[tuple[str, Accessory, SwitchKind]]:
        """Every switch with its name in the state table."""
        for accessory in self.accessories:
            for switch in accessory.kind.switches:
                yield accessory.switch_name(switch), accessory, switch

    def loads(self) -> Iterator[tuple[str, Accessory, LoadKind]]:
        """Every load with its name in the state table."""
        for accessory in self.accessories:
            for load in accessory.kind.loads:
                yield accessory.load_name(load), accessory, load

    def nodes(self) -> Iterator[Terminal]:
        """Every terminal of every accessory."""
        for accessory in self.accessories:
            for terminal in accessory.kind.terminals:
                yield Terminal(accessory.name, terminal.name)

    def way(self, accessory: str) -> Way | None:
        """The way an accessory stands for, or None."""
        return next((w for w in self.board.ways if w.accessory == accessory), None)

    def printed(self, accessory: str) -> str:
        """An accessory's name wherever it is read; see `Way.printed`."""
        way = self.way(accessory)
        return way.printed if way else accessory
