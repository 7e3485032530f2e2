"""Finding out what is there: what was seen and read, the tests that a person can make, and the plan that tells."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from sheetgen.model.problems import Mark

Settings = tuple[tuple[str, str], ...]
"""Switches, by their names in the solution, and the position in which each stands."""
Spot = tuple[str, str]
"""A point that a lead can touch: an accessory and its terminal; or the end of a cable and a core of it."""


class Sight(StrEnum):
    """What somebody says of a lamp, a switch or a way without any instrument."""

    LIT = "on"
    DARK = "off"
    DIM = "dim"
    DEAD = "dead"  # dark in every setting
    ALWAYS = "always on"
    WORKS = "works"  # does what the description says
    COUNTED = "on in so many settings"
    IDLE = "does nothing"  # a switch
    TRIPS = "trips"
    HOLDS = "nothing trips"
    WORKED_BY = "worked by"  # a lamp, and the switches that work it


@dataclass(frozen=True)
class Seen:
    """One thing seen. `of`: loads, switches or ways by their names in the solution; () is anything."""

    sight: Sight
    of: tuple[str, ...] = ()
    setting: Settings = ()  # of the switches that are named
    by: tuple[str, ...] = ()  # switches, for WORKED_BY
    lit: int = 0  # for COUNTED: in how many settings
    settings: int = 0  # for COUNTED: of how many
    says: str = ""  # as it was written
    at: Mark = Mark()


@dataclass(frozen=True)
class TakenReading:
    """A reading that was taken: between two spots, in a setting, with spots joined by hand."""

    between: tuple[Spot, Spot]
    closed: bool  # continuity; for a live reading: there is a voltage
    setting: Settings = ()
    joined: tuple[tuple[Spot, Spot], ...] = ()
    live: bool = False
    worked: bool | None = None  # with a switch worked meanwhile: it changes, or it stays as it is; None: not worked
    off: str = ""  # the accessory at which the cores of the cable read were off their terminals
    says: str = ""
    at: Mark = Mark()


class Means(StrEnum):
    """What a person needs for a test, in the order in which they are used."""

    WATCH = "watch"  # the lamps, as the switches are worked
    LOOK = "look"  # at the board, or at a lamp tried in another holder
    DEAD = "dead"  # continuity, the supply off
    LIVE = "live"  # a two-pole voltage indicator; only when no dead test is left


@dataclass(frozen=True)
class Trial:
    """A test that a person can make. `pairs` are tried one after another: closed or open, a voltage or none."""

    means: Means
    place: str
    says: str  # what to do, in a sentence without its stop
    cost: int  # in fifths of a dead test at one place
    setting: Settings = ()  # the switches that do not stand as in the first setting
    joined: tuple[tuple[Spot, Spot], ...] = ()
    pairs: tuple[tuple[Spot, Spot], ...] = ()
    cores: bool = False  # the spots are cores of cables, not terminals
    off: bool = False  # the cores of the cable that is read are off at the place, for this test alone
    worked: bool = False  # a switch is worked meanwhile: what closes changes


@dataclass(frozen=True)
class Outcome:
    """One thing that a test may read: the candidates left then, and the next step; None where none is left to make."""

    reads: str
    left: tuple[int, ...]  # candidates by number
    then: PlanStep | None
    closed: tuple[tuple[Spot, Spot], ...] = ()  # of the pairs tried


@dataclass(frozen=True)
class PlanStep:
    """A test, and what follows from each of its readings."""

    trial: Trial
    outcomes: tuple[Outcome, ...]


@dataclass(frozen=True)
class PlanFigures:
    """How good a plan is: means by weight. The bounds are of a code of as many letters as any test has outcomes."""

    mean_tests: float  # all of them, watching and looking too
    worst_tests: int
    mean_readings: float  # by instrument
    worst_readings: int
    mean_bound: float
    worst_bound: int
    cost: float  # expected, in dead tests at one place
    cost_bound: float
    exact: bool  # no plan of these tests costs less


class Fault(StrEnum):
    """The kinds of single fault that are thought of."""

    OPEN = "open core"
    PARTED = "terminal parted"
    EXCHANGED = "ends exchanged"
    TURNED = "accessory turned"
    TOUCHING = "cores touching"
    LAMP = "lamp failed"
    HOLDER = "lampholder failed"
    STUCK = "contact stuck"
    NEVER_MAKES = "contact never makes"
    WAY_DEAD = "way dead"
    RCD_TRIPPED = "RCD tripped"
    NONE = "nothing wrong"


@dataclass(frozen=True)
class Suspect:
    """A fault that fits, with its share of the assumed weights of all that fit."""

    fault: Fault
    says: str  # in a sentence, with the place
    look: str  # where to look, in a sentence; "" where looking tells nothing
    places: tuple[str, ...]  # accessories that it concerns
    short: str  # in a few words, for a table: "W1 BN open"
    weight: int  # assumed; see find/weights.py
    share: float = 0.0  # of all that fit


@dataclass(frozen=True)
class FaultFound:
    """Where the search for a fault stands."""

    suspects: tuple[Suspect, ...]  # those that fit, likeliest first
    plan: PlanStep | None
    figures: PlanFigures | None
    base: Settings  # how the switches stand where a step does not say otherwise
    standings: tuple[tuple[tuple[str, str], str], ...] = ()  # a switch and a position, and both in print: 'Hall at L2'
    tried: int = 0  # faults thought of
    told_apart: bool = True  # False: too many fit for a whole plan; the steps here bring them down


@dataclass(frozen=True)
class Symptom:
    """What is seen of a circuit, beside what should be, and every single fault that shows it, likeliest first."""

    says: tuple[str, ...]  # () where every lamp does as it should
    suspects: tuple[Suspect, ...]


@dataclass(frozen=True)
class NumberedStep:
    """A step of a plan on paper: what to do, and for each reading where to go on: "step 3", or an end by its letter."""

    number: int
    trial: Trial
    ways: tuple[tuple[str, str], ...]  # reading, where to go on


@dataclass(frozen=True)
class PlanEnd:
    """Where a plan ends: the candidates that no allowed test tells apart, likeliest first."""

    letter: str
    left: tuple[int, ...]


@dataclass(frozen=True)
class Certain:
    """What holds whichever candidate is true: the role of a core, or that two ends are one cable."""

    end: str
    core: str
    role: str


@dataclass(frozen=True)
class Identified:
    """Where the search for what is there stands."""

    candidates: int
    all: bool  # False: there are too many to list, and only some were looked at
    certain: tuple[Certain, ...]
    plan: PlanStep | None
    figures: PlanFigures | None
    base: Settings
    standings: tuple[tuple[tuple[str, str], str], ...] = ()  # a switch and a position, and both in print: 'Hall at L2'
    says: tuple[str, ...] = ()  # the candidates in a few words, where they are all listed
    short: tuple[str, ...] = ()  # the same in fewer words, for a plan, where there are such
    pairs: tuple[tuple[str, str], ...] | None = None  # the ends that are one cable, where only one candidate is left
    assumed: tuple[str, ...] = ()  # what was taken for granted
    told_apart: bool = True  # False: the plan stops before its ends; take a reading and run it again
    text: str = ""  # the description, where only one candidate is left
    stop: str = ""  # why nothing is to be joined yet
    at_rose: bool = False  # one opened rose whose cores were taken off: which cable plays which part
