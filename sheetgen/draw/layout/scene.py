"""What the passes hand to one another: accessories as strips of terminal rows, cables as entries at their edges."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from sheetgen.model.accessory import Accessory
from sheetgen.model.style import Style

CEILING, WALL = "ceiling", "wall"
GUTTER = "gutter"  # no row: where runs go down beside the rows, from one band of a sheet to another
TOP, BOTTOM = "top", "bottom"
FAR, NEAREST = 10**6, 1000  # where gutters are taken to be until the bands are stacked, and how far apart


class SheetPlace(NamedTuple):
    """Where an accessory stands: its sheet, and of the bands that are stacked on that sheet its own; both from 1."""

    sheet: int
    band: int = 1


class Termination(NamedTuple):
    """One end of a core, as it is landed in one accessory."""

    core: str  # Core.key
    end: int
    terminal: str | None
    label: str
    width: int  # of the label

    @property
    def key(self) -> tuple[str, int]:
        """Core and end."""
        return self.core, self.end


class TerminalRows(NamedTuple):
    """Rows of a strip: one terminal, or two that face each other, or (both None) cores that end in nothing."""

    left: str | None
    right: str | None
    rows: int  # at least
    connector: bool = False


class Title(NamedTuple):
    """A line to be written in or under an accessory."""

    text: str
    role: str
    width: int


@dataclass(frozen=True)
class CableEntry:
    """What comes into an accessory together at one edge: a cable, or the singles that run side by side."""

    run: str  # name of the run
    cables: tuple[str, ...]
    partner: str  # key of the enclosure at the other end
    edge: str  # TOP or BOTTOM
    terminations: tuple[Termination, ...]
    sheathed: bool  # drawn as one from enclosure to enclosure: a cable; singles together or in conduit, as a trunk
    tag: int = 0  # width of the cable's tag; 0 where it has none
    hangs: bool = False  # the flex of a pendant under its rose
    flex: bool = False

    @property
    def routes(self) -> tuple[str, ...]:
        """What is drawn of it outside enclosures, each named by its cable: the run as one, or a single in the open."""
        return (self.run,) if self.sheathed else self.cables

    @property
    def trunk(self) -> tuple[str, ...]:
        """The singles that are drawn as one trunk; () for a cable or a single in the open."""
        return self.cables if self.sheathed and not self.tag else ()


@dataclass(frozen=True)
class Pendant:
    """A lampholder under a rose: a slot for every conductor, terminals side by side."""

    accessory: Accessory
    entry: CableEntry
    slots: tuple[tuple[str | None, Termination | None], ...]  # from left to right
    pitch: int
    titles: tuple[Title, ...]
    lamp: bool

    def left(self, style: Style) -> int:
        """From the flex to the left edge of all of it."""
        return max(self.body_left(style), self.title_width // 2 - self.middle(style))

    def right(self, style: Style) -> int:
        """From the flex to the right edge of all of it."""
        return max(self.body_right(style), self.title_width // 2 + self.middle(style))

    def middle(self, style: Style) -> int:
        """From the flex to the middle of the enclosure."""
        return (self.body_right(style) - self.body_left(style)) // 2

    def body_left(self, style: Style) -> int:
        """From the flex to the left edge of the enclosure."""
        return len(self.slots) * self.pitch // 2 + style.measures["pad"] // 2

    def body_right(self, style: Style) -> int:
        """From the flex to the right edge of the enclosure."""
        return self.body_left(style) + (2 * style.measures["lamp"] + 100 if self.lamp else 0)

    @property
    def title_width(self) -> int:
        """The widest line under it."""
        return max((t.width for t in self.titles), default=0)


@dataclass(frozen=True)
class Enclosure:
    """An accessory as a strip of rows in one of the two rows of a band; or a continuation mark; or a run's gutter.

    A lampholder may stand in the wall row by itself: it then has a pendant, and no groups.
    """

    key: str
    row: str  # CEILING, WALL or GUTTER
    rank: int  # place in the description; negative: kept at the left; from 10 ** 6: kept at the right
    groups: tuple[TerminalRows, ...] = ()
    entries: tuple[CableEntry, ...] = ()
    links: tuple[tuple[Termination, Termination], ...] = ()
    titles: tuple[Title, ...] = ()
    name_width: int = 0  # of the widest terminal name
    devices: tuple[int | None, ...] = ()  # column of each switch and load shown beside the names
    split: bool = False  # some rows have a left and a right terminal
    accessory: Accessory | None = None
    pendant: Pendant | None = None
    mark: tuple[int, int, bool] | None = None  # number, sheet where it goes on, onward
    gutter: int = 0  # -1, 1: beside the rows, on the left or on the right

    @property
    def lampholder(self) -> bool:
        """A lampholder that stands by itself."""
        return self.pendant is not None and not self.groups

    @property
    def boxed(self) -> bool:
        """An accessory of an overview: a box without terminals."""
        return self.accessory is not None and not self.groups and not self.pendant

    @property
    def columns(self) -> int:
        """How many columns the contacts and loads take."""
        return max((column for column in self.devices if column is not None), default=-1) + 1


@dataclass(frozen=True)
class Arrangement:
    """One way of bringing the conductors into an enclosure.

    x is measured from the middle of its strip, y from its top.
    """

    rows: tuple[int, ...]  # of each group
    ports: Mapping[tuple[str, int], tuple[int, int, int]]  # termination -> side, group, row in the group
    tracks: Mapping[tuple[str, int], int]  # termination -> x of its upright stretch
    pins: Mapping[str, int]  # cable -> x where it leaves the enclosure
    strip: int  # half the strip's width
    box: tuple[int, int]  # enclosure: left (negative) and right
    reach: tuple[int, int]  # with all that hangs out: tags, pendant
    title_at: int
    header: int
    height: int
    cost: float
    crossings: int = 0
    across: Mapping[tuple[str, int], tuple[int, int]] = field(default_factory=dict)
    """Termination that goes over or under the strip -> x of its track on its cable's side, y at which it goes over."""


@dataclass(frozen=True)
class ChannelRoute:
    """A cable or single in a channel, between two pins: x, and whether it comes from above."""

    cable: str
    pins: tuple[tuple[int, bool], tuple[int, bool]]
    sheathed: bool

    @property
    def span(self) -> tuple[int, int]:
        """Leftmost and rightmost x."""
        (a, _), (b, _) = self.pins
        return (a, b) if a <= b else (b, a)


@dataclass(frozen=True)
class Scene:
    """One band of a sheet on its way to a layout. Each pass fills in what its docstring ensures."""

    number: int
    style: Style
    width: int  # of the paper that the drawing may take
    enclosures: Mapping[str, Enclosure]
    order: Mapping[str, tuple[str, ...]] = field(default_factory=dict)  # row -> keys from left to right
    choices: Mapping[str, tuple[Arrangement, ...]] = field(default_factory=dict)  # ways in, best first
    inside: Mapping[str, Arrangement] = field(default_factory=dict)
    at: Mapping[str, int] = field(default_factory=dict)  # x of the middle of the strip
    levels: Mapping[str, Mapping[str, int]] = field(default_factory=dict)  # channel -> cable -> y below its top
    depth: Mapping[str, int] = field(default_factory=dict)  # channel -> height

    @property
    def standing(self) -> tuple[str, ...]:
        """Everything that stands in a row, row by row from left to right."""
        return tuple(key for keys in self.order.values() for key in keys)

    def moved_to_edge(self, at: Mapping[str, int]) -> Scene:
        """The scene with these places, all moved so that the rows begin at 0; gutters stay far out at both sides."""
        left = min((at[k] + self.inside[k].reach[0] for k in self.standing), default=0)
        places = {k: at[k] - left for k in self.standing}
        gutters = sorted(k for k, e in self.enclosures.items() if e.gutter)
        places |= {k: self.enclosures[k].gutter * (FAR + i * NEAREST) for i, k in enumerate(gutters)}
        return replace(self, at=places)
