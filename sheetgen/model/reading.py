"""What the solution means: the role of every core, the sleeves it needs, the method, the findings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum


class Role(StrEnum):
    """What a core does, over all settings.

    A core cut off from its rail keeps the role it would have: the neutral of a lamp whose neutral is broken is a
    neutral, though it is live through the lamp.
    """

    PERMANENT_LINE = "permanent line"
    SWITCHED_LINE = "switched line"
    STRAPPER = "strapper"
    NEUTRAL = "neutral"
    SWITCHED_NEUTRAL = "switched neutral"
    CPC = "cpc"
    BETWEEN_LAMPS = "between lamps"
    UNUSED = "unused"


class Standing(StrEnum):
    """How a sleeve stands."""

    FITTED = "fitted"  # needed and there
    MISSING = "missing"  # needed and not there
    NEEDLESS = "needless"  # there and not needed
    WRONG = "wrong"  # there, but of another colour than needed


@dataclass(frozen=True)
class Sleeve:
    """One sleeve on one core end."""

    core: str  # Core.key
    end: int  # 0 or 1
    colour: str  # the colour it should have; for NEEDLESS the colour it has
    standing: Standing
    has: str = ""  # for WRONG: the colour it has


class Gravity(StrEnum):
    """How serious a finding is."""

    DANGER = "danger"
    PUT_RIGHT = "put right"
    NOTE = "note"


@dataclass(frozen=True)
class Finding:
    """Something the check noticed: where, what, what it means for a person, what would cure it."""

    rule: str  # name of the file under checks/, without .py
    gravity: Gravity
    says: str
    means: str = ""
    cure: str = ""
    accessory: str = ""
    terminal: str = ""
    core: str = ""  # Core.key
    setting: str = ""  # in words: "Hall at L1, Top at L2"
    clause: str = ""  # with its standing, as facts are known: "BS 7671 314.1(vi)"


@dataclass(frozen=True)
class Circuit:
    """The method recognised for one group of switches: a sentence and its evidence."""

    switches: tuple[str, ...]
    lamps: tuple[str, ...]
    ways: tuple[str, ...]
    method: str  # one sentence of the trade
    evidence: tuple[str, ...] = ()
    names: tuple[str, ...] = ()  # (loop, switching, join) in the catalogue's words, () where unknown
    rooms: tuple[str, ...] = ()  # of its lamps
    line_in: str = ""  # the accessory at whose switch line comes in, '' where unknown
    switched_out: str = ""  # the accessory at whose switch the switched line goes out
    part_at: str = ""  # the accessory at which line and neutral part


@dataclass(frozen=True)
class Place:
    """What is at one accessory, and so what could be fitted there."""

    accessory: str
    permanent_line: bool
    switched_line: bool
    neutral: bool
    cpc: bool
    last_on_run: bool | None  # nothing is fed on from here; None where neither line nor neutral loops here
    ways: tuple[str, ...]
    fits: tuple[str, ...]  # in words, with the reason
    lacks: tuple[str, ...]


@dataclass(frozen=True)
class Reading:
    """The whole interpretation of a solved wiring."""

    roles: Mapping[str, Role]  # Core.key -> role
    ways: Mapping[str, tuple[str, ...]]  # Core.key -> the ways whose rails reach it
    sleeves: tuple[Sleeve, ...]
    findings: tuple[Finding, ...] = ()
    circuits: tuple[Circuit, ...] = ()
    places: tuple[Place, ...] = ()
