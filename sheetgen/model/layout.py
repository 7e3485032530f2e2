"""A layout: where everything stands, in whole hundredths of a millimetre, y down. No inks, no shapes."""

from __future__ import annotations

from dataclasses import dataclass

Point = tuple[int, int]


@dataclass(frozen=True)
class Frame:
    """A rectangle."""

    x: int
    y: int
    width: int
    height: int


@dataclass(frozen=True)
class TextPlace:
    """A line of text set in a lettering; (x, y) is the middle of its baseline, `width` what it takes."""

    text: str
    role: str
    x: int
    y: int
    width: int


@dataclass(frozen=True)
class TerminalPlace:
    """A terminal: its frame, its name, and the y of the lines between its rows."""

    terminal: str  # canonical name
    frame: Frame
    label: TextPlace
    rows: tuple[int, ...] = ()
    connector: bool = False


@dataclass(frozen=True)
class AccessoryPlace:
    """An accessory: its enclosure, what is written in it, its terminals, and where its contacts or lamp are shown.

    `devices` gives the two columns between which each switch's contacts, then each load, are drawn (None: not shown
    here, for the accessory is drawn in parts); `lamp` is where
    the lamp symbol stands where it stands apart from the terminals (a lampholder).
    """

    name: str
    frame: Frame
    titles: tuple[TextPlace, ...]
    terminals: tuple[TerminalPlace, ...]
    devices: tuple[tuple[int, int] | None, ...] = ()
    lamp: Point | None = None
    board: bool = False


@dataclass(frozen=True)
class CoreEndPlace:
    """A core's end: on which terminal (None: on nothing), where, its colour code, and the place for a sleeve."""

    core: str  # Core.key
    end: int
    accessory: str
    terminal: str | None
    at: Point
    side: int  # -1: comes from the left, 1: from the right, 0: from above
    code: TextPlace
    sleeve: Frame


@dataclass(frozen=True)
class ConductorPlace:
    """What is seen of a conductor in one piece, from `ends[0]` on.

    A core of a cable, and a single in a trunk, has a piece at each end, from terminal to sheath; a single that passes
    an accessory uncut has a piece there with no end (`ends` is empty), from trunk to trunk; a lone single is one piece
    from end to end, or to a continuation mark.
    """

    core: str
    ends: tuple[int, ...]
    points: tuple[Point, ...]
    inside: tuple[int, int] = (0, 0)  # how many points at the start and at the end lie in an enclosure


@dataclass(frozen=True)
class PassingPlace:
    """A single that passes an accessory uncut, from one conduit into another: where its colour code stands there."""

    core: str
    accessory: str
    code: TextPlace


@dataclass(frozen=True)
class SheathEnd:
    """Where a sheath opens into its cores: a flare, seen from the sheath to the cores."""

    cable: str
    end: int
    accessory: str
    corners: tuple[Point, ...]


@dataclass(frozen=True)
class SheathPlace:
    """A sheath from end to end (or to a continuation mark); or a trunk: singles drawn as one between enclosures."""

    cable: str
    flex: bool
    points: tuple[Point, ...]
    sheath_ends: tuple[SheathEnd, ...]
    trunk: tuple[str, ...] = ()  # the singles that run in it, `cable` first


@dataclass(frozen=True)
class Tag:
    """A cable's name on its sheath."""

    cable: str
    frame: Frame
    words: TextPlace


@dataclass(frozen=True)
class MarkPlace:
    """A continuation mark: the same number stands on the sheet where the cables go on."""

    number: int
    sheet: int  # where it goes on
    onward: bool  # to a later sheet
    cables: tuple[str, ...]
    frame: Frame
    words: tuple[TextPlace, ...]


@dataclass(frozen=True)
class Sheet:
    """One sheet of a layout."""

    number: int
    width: int
    height: int
    accessories: tuple[AccessoryPlace, ...]
    conductors: tuple[ConductorPlace, ...]
    core_ends: tuple[CoreEndPlace, ...]
    sheaths: tuple[SheathPlace, ...]
    tags: tuple[Tag, ...]
    marks: tuple[MarkPlace, ...]
    passing: tuple[PassingPlace, ...] = ()


@dataclass(frozen=True)
class Layout:
    """A wiring laid out over as many sheets as it needs."""

    sheets: tuple[Sheet, ...]
