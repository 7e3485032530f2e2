"""What the solution means: the role of every core, the sleeves it needs, the method, the findings."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from sheetgen.model.reckoning import Reckoning

WORKED_OUT = "(worked out, not tried on site)"


class Role(StrEnum):
    """What a core does, over all settings: by what it carries first, then by what rail it is joined to.

    Potential that comes only through a load makes a core nothing: the return of a lamp beyond a break is cut off,
    though it is live through the lamp.
    """

    PERMANENT_LINE = "permanent line"
    SWITCHED_LINE = "switched line"
    STRAPPER = "strapper"
    NEUTRAL = "neutral"
    SWITCHED_NEUTRAL = "switched neutral"
    CPC = "cpc"
    BETWEEN_LAMPS = "between lamps"
    EARTH_RETURN = "return through earth"  # carries the current of a load to earth in place of the neutral
    CUT_OFF = "cut off"  # no supply reaches it but through a load, if at all
    SIGNAL = "signal"  # tells electronics what to do, and carries no load
    NOT_KNOWN = "not known"  # one of its ends, or of what it is joined to, is not known: to be treated as live
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
    comes_off: bool = False  # for WRONG: the core needs none in its place, for its own colour says it


class Gravity(StrEnum):
    """How serious a finding is."""

    DANGER = "danger"
    PUT_RIGHT = "put right"
    NOTE = "note"


End = tuple[str, int]
"""One end of a core: Core.key, and 0 or 1."""


@dataclass(frozen=True)
class Land:
    """Put a core end on a terminal of its accessory, wherever it was before."""

    end: End
    terminal: str


@dataclass(frozen=True)
class TakeOff:
    """Take a core end off its terminal and leave it safe in a connector of its own."""

    end: End


@dataclass(frozen=True)
class Exchange:
    """Let two core ends of one accessory change places."""

    one: End
    two: End


@dataclass(frozen=True)
class Fit:
    """Put a sleeve of a colour on a core end."""

    end: End
    colour: str


@dataclass(frozen=True)
class TakeOutLink:
    """Take a link out of its accessory."""

    cable: str


@dataclass(frozen=True)
class AddLink:
    """Put a link between two terminals of one accessory."""

    accessory: str
    a: str
    b: str
    colour: str  # IEC 60757


Edit = Land | TakeOff | Exchange | Fit | TakeOutLink | AddLink


@dataclass(frozen=True)
class Cure:
    """What mends a finding. It was carried out on the circuit and judged again before it was offered."""

    edits: tuple[Edit, ...]
    says: str  # without a capital and without its stop: "move the red core of W2 from Hall L1 to Hall COM"
    accessory: str = ""
    core: str = ""  # Core.key of the first core that is touched


@dataclass(frozen=True)
class Finding:
    """Something the check noticed: where, what, what it means for a person, what mends it or where to look."""

    rule: str  # name of the file under judge/rules/, without .py
    gravity: Gravity
    says: str
    means: str = ""
    advice: str = ""  # what to do or where to look, where no cure is proven
    accessory: str = ""
    terminal: str = ""
    core: str = ""  # Core.key
    setting: str = ""  # in words: "Hall at L1, Top at L2"
    clause: str = ""  # with its standing, as facts are known: "BS 7671 314.1(vi)"
    cures: tuple[Cure, ...] = ()  # the fewest changes first, each proven
    lamps: tuple[str, ...] = ()  # loads it is about, by their names in the solution
    elsewhere: tuple[str, ...] = ()  # other accessories at which the same stands before one's eyes
    also: tuple[Finding, ...] = ()  # what else was noticed that the same change mends: one fault, one finding

    @property
    def cure(self) -> str:
        """What to do, in a sentence: the proven cures, else the advice."""
        if not self.cures:
            return self.advice
        says = [cure.says for cure in self.cures]
        said = says[0] if len(says) == 1 else f"{', '.join(says[:-1])} or {says[-1]}"
        return f"{said[:1].upper()}{said[1:]} {WORKED_OUT}."


def each(findings: Iterable[Finding]) -> Iterator[Finding]:
    """The findings, and after each those that are told with it, however deep."""
    for finding in findings:
        yield finding
        yield from each(finding.also)


@dataclass(frozen=True)
class MethodFound:
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
    last_on_run: bool | None  # no neutral goes on from here; None where none comes, or that is not known
    ways: tuple[str, ...]
    fits: tuple[str, ...]  # in words, with the reason
    lacks: tuple[str, ...]
    known: bool = True  # False: a core end here is not known, and what was not found may be here all the same
    takes_fitting: bool = True  # False: it only joins or isolates
    strapper: bool = False  # a core here is line in some settings and goes on to another switch alone


@dataclass(frozen=True)
class Isolation:
    """The ways to isolate, by the board accessories that stand for them, in the order of the board."""

    at: Mapping[str, tuple[str, ...]] = field(default_factory=dict)  # accessory -> every way, to open it
    meets: Mapping[str, tuple[str, ...]] = field(default_factory=dict)  # way -> accessories where it is not enough
    with_way: Mapping[str, tuple[str, ...]] = field(default_factory=dict)  # way -> every way, to work anywhere on it
    joined: tuple[tuple[str, ...], ...] = ()  # ways that are joined to one another, by rails or by a load between them
    fuses: tuple[str, ...] = ()  # ways whose device is withdrawn, not switched off
    not_known: tuple[str, ...] = ()  # ways of whose device nobody has told
    no_device: tuple[str, ...] = ()  # ways of which it is told that they have none of their own
    first: str = ""  # what is switched off before the ways, where they break the line alone and that does not isolate


@dataclass(frozen=True)
class Reading:
    """The whole interpretation of a solved wiring."""

    roles: Mapping[str, Role]  # Core.key -> role
    ways: Mapping[str, tuple[str, ...]]  # Core.key -> the ways whose rails reach it
    sleeves: tuple[Sleeve, ...]
    findings: tuple[Finding, ...] = ()
    circuits: tuple[MethodFound, ...] = ()
    places: tuple[Place, ...] = ()
    figures: Reckoning = Reckoning()
    unjudged: Mapping[str, tuple[str, ...]] = field(default_factory=dict)  # rule -> what is not given, in words
    isolation: Isolation = Isolation()
    mixed_colours: bool = False  # fixed wiring as found is in the colours of more than one set
    without_cpc: tuple[str, ...] = ()  # accessories that no cpc joins to the earth of the board
    cpc_not_known: tuple[str, ...] = ()  # accessories of which nobody knows whether one comes
    taken: tuple[str, ...] = ()  # what is taken as usual because the description does not give it, in words
    miswired: bool = False  # a danger or a thing to put right is about how conductors are connected
    waiting: tuple[Sleeve, ...] = ()  # needed as the circuit is, and not as it is to be: `sleeves` has them as found

    @property
    def sleeves_as_it_is(self) -> tuple[Sleeve, ...]:
        """Every sleeve that the circuit needs or has as it is, those that wait as well."""
        waits = {(s.core, s.end) for s in self.waiting}
        return (*(s for s in self.sleeves if (s.core, s.end) not in waits), *self.waiting)
