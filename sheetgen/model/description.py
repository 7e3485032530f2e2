"""The description file as written: checked for shape, nothing looked up yet. Also the source of its JSON Schema."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated, Any, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, PlainValidator, WithJsonSchema
from pydantic_core import PydanticCustomError

from sheetgen.model.problems import Mark, Problem
from sheetgen.model.quantities import BadQuantity, read_quantity

Path = tuple[str | int, ...]


def _quantity(unit: str, example: str) -> BeforeValidator:
    def check(value: object) -> Fraction:
        try:
            return read_quantity(value, unit, example)
        except BadQuantity as bad:
            raise PydanticCustomError("quantity", "{said}", {"said": str(bad)}) from None

    return BeforeValidator(check)


def _as_in(example: str) -> WithJsonSchema:
    return WithJsonSchema({"type": ["string", "number"], "description": f"for example {example}"})


def _text(value: object) -> object:
    if value is None:
        return ""
    return value


def _one_or_several(value: object) -> object:
    """A single word where several may stand."""
    return [value] if isinstance(value, str) and value else value


UNKNOWN_WORDS = ("?", "??", "unknown", "not known", "not seen", "don't know")
YES_OR_NO = {"yes": True, "true": True, "on": True, "no": False, "false": False, "off": False}


def _yes_or_no(value: object) -> bool:
    word = str(value).strip().casefold()
    if word not in YES_OR_NO:
        raise PydanticCustomError("answer", "{said}", {"said": f"'{value}' is neither yes nor no."})
    return YES_OR_NO[word]


def _residual(value: object) -> Fraction | Literal["none", "unknown"]:
    """The rated residual current in mA, or that there is no RCD, or that nobody knows."""
    word = str(value).strip().casefold()
    if word in ("none", "no"):
        return "none"
    if word in UNKNOWN_WORDS:
        return "unknown"
    try:
        return read_quantity(value, "mA", "30 mA")
    except BadQuantity as bad:
        hint = " Write 'none' where there is no RCD, 'unknown' where nobody knows."
        raise PydanticCustomError("quantity", "{said}", {"said": f"{bad}{hint}"}) from None


def _sentences(value: object) -> object:
    """'Hall L1: Landing on' without quotes is a mapping to YAML: it is the sentence all the same."""
    if isinstance(value, dict):
        value = [{key: inner} for key, inner in value.items()]
    if isinstance(value, str):
        return [value]
    if not isinstance(value, list):
        return value
    return [f"{key}: {inner}" if isinstance(item, dict) and len(item) == 1 and isinstance(inner, str) else item
            for item in value for key, inner in (item.items() if isinstance(item, dict) else ((None, None),))]


YesOrNo = Annotated[bool, BeforeValidator(_yes_or_no), WithJsonSchema({"enum": ["yes", "no", True, False]})]
Residual = Annotated[
    Fraction | Literal["none", "unknown"] | None, PlainValidator(_residual),
    WithJsonSchema({"type": ["string", "number"], "description": "for example 30 mA; none; unknown"}),
]
Metres = Annotated[Fraction, _quantity("m", "7 m"), _as_in("7 m")]
Ohms = Annotated[Fraction, _quantity("ohm", "0.32 ohm"), _as_in("0.32 ohm")]
Volts = Annotated[Fraction, _quantity("V", "230 V"), _as_in("230 V")]
_WORD = {"type": ["string", "number", "boolean", "null"]}
Words = Annotated[str, BeforeValidator(_text), WithJsonSchema(_WORD)]
Several = Annotated[
    list[Words], BeforeValidator(_one_or_several),
    WithJsonSchema({"anyOf": [{"type": "array", "items": _WORD}, _WORD]}),
]

Sentences = Annotated[
    list[Words], BeforeValidator(_sentences),
    WithJsonSchema({"type": "array", "items": {"type": ["string", "object"]}}),
]


class TextPart(BaseModel):
    """What all parts of a description share: no unknown keys, no changes."""

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=False)


class DrawnText(TextPart):
    """Who drew it and when."""

    by: Words = ""
    on: Words = ""


class ReportText(TextPart):
    """The last inspection report, as the owner files it."""

    number: Words = ""
    date: Words = Field("", description="for example 2026-03-14")
    next_due: Words = Field("", alias="next due", description="for example 2031-03-14")


class WayText(TextPart):
    """One way of the board."""

    serves: Words = ""
    device: Words = Field("", description="type and rating: type B 6 A, BS 3036 5 A; none; unknown")
    rcd: Residual = Field(None, description="rated residual current: 30 mA; none; unknown")
    isolated_by: Words = Field("", alias="isolated by")
    off: YesOrNo = Field(False, description="found switched off, or its fuse withdrawn")


class BoardText(TextPart):
    """The consumer unit or fuse board."""

    name: Words = "Consumer unit"
    where: Words = ""
    earthing: Literal["TN-S", "TN-C-S", "TT", "IT", ""] = ""
    ze: Ohms | None = None
    voltage: Volts = Fraction(230)
    ways: dict[str, WayText | None] = {}


class AccessoryText(BaseModel):
    """One accessory; the keys beyond these depend on its kind."""

    model_config = ConfigDict(extra="allow", frozen=True)

    kind: Words
    room: Words = ""
    note: Words = ""
    opened: YesOrNo = Field(True, description="no: nobody has looked inside")
    in_: Words = Field("", alias="in", description="the accessory in whose enclosure it lies; ends written Relay.S1")
    labels: dict[str, Words] = Field({}, description="terminal: the name printed on the real thing")
    connectors: Several = Field([], description="lone connectors lying in its enclosure, by name")
    ways: dict[str, int] = Field({}, description="how many conductors a terminal takes, where it differs")


class CableText(TextPart):
    """One cable and both ends of each of its cores."""

    type: Words = Field(description="type and size: twin and earth 1.5, single 1.0, three-core 3/.029")
    from_: Words = Field("", alias="from")
    to: Words = ""
    at: Words = Field("", description="instead of from and to: the one accessory at which the cable was seen")
    cores: dict[str, Annotated[Several, Field(min_length=1, max_length=2)]] = Field(
        description="colour: [terminal at 'from', terminal at 'to'], or with 'at' the one terminal; 'nothing' where it "
        "ends in nothing, '?' where nobody knows"
    )
    length: Metres | None = None
    colours: Words = ""
    sleeved: Annotated[list[Words] | dict[str, Words | list[Words]], BeforeValidator(_one_or_several)] = Field(
        [], description="cores over-marked at both ends in the line colour, or core: colour"
    )
    bare: Several = Field([], description="bare cores that have no sleeve on")
    in_: Words = Field("", alias="in", description="the conduit or trunking it runs in")
    method: Words = Field("", description="installation method of BS 7671 appendix 4: C, A, B, 100, 101, 102, 103")
    note: Words = ""


class LoadText(TextPart):
    """A load of an accessory defined in the description itself."""

    from_: Words = Field(alias="from")
    to: Words
    load: Words = "8 W"
    what: Literal["lamp", "fan", "electronics"] = "lamp"


class KindText(TextPart):
    """An accessory defined in the description itself."""

    terminals: list[Words]
    positions: dict[str, list[list[Words]]] = Field({}, description="position: pairs of terminals joined in it")
    loads: list[LoadText] = []
    level: Literal["ceiling", "wall"] = "wall"


class MethodText(TextPart):
    """How a circuit is wired, in the words of the catalogue of methods."""

    loop: Words = Field("", description="at the rose, at the switch, at a joint box, line at the switches")
    switching: Words = Field("", description="one-way, two-way, intermediate; told by the number of switches")
    join: Words = Field("", description="conversion; in first, out last; two strappers; line carried through")
    wired: Words = Field("", description="sheathed cable, or singles in conduit")


class LengthsText(TextPart):
    """How long each stretch of a circuit is."""

    feed: Metres | None = Field(None, description="from the board")
    drop: Metres | None = Field(None, description="between light or box and switch")
    switches: Metres | None = Field(None, description="from switch to switch")
    lights: Metres | None = Field(None, description="from light to light")
    on: Metres | None = Field(None, description="from one circuit to the next")


class ByMethod(TextPart):
    """A circuit given by its method: the method lays every core."""

    method: MethodText | None = None
    way: Words = Field("", description="the way of the board that feeds it")
    lights: Several = Field([], description="the room of each light; several are in parallel")
    switches: Several = Field([], description="the room of each switch, first to last; Hall.stairs is a gang")
    lamp: Words = Field("", description="load of each lamp: 8 W")
    size: Words = Field("", description="size of the conductors: 1.0")
    lengths: LengthsText | None = None


class CircuitText(ByMethod):
    """One of several circuits; what it does not say is as said for all."""

    name: Words = ""


class ReadingText(TextPart):
    """A reading that was taken."""

    between: Several = Field(description="two spots, Hall COM or W5/red; of more, the first with each of the others; "
                             "W5/red + W5/black, W6/red + W6/cpc: pairs by themselves")
    reads: Words = Field(description="closed or open; with a switch worked: changes, stays open, "
                         "stays closed; of a live reading: voltage or no voltage")
    with_: dict[str, Words] | Words = Field("", alias="with", description="how the switches stood: {Hall: L1}")
    off: Words = Field("", description="the accessory at which the cores of the cable read were off their terminals")
    joined: Several = Field([], description="spots joined by hand for the reading, W5/red, W5/black; "
                                             "W5/red + W5/black, W6/red + W6/cpc: sets by themselves")
    live: YesOrNo = Field(False, description="taken with the supply on, by a two-pole voltage indicator")


class DescriptionText(ByMethod):
    """The whole file."""

    job: Words = Field(description="what the sheet is called")
    place: Words = ""
    drawn: DrawnText = DrawnText()
    report: ReportText | None = Field(None, description="the last inspection report, as the owner files it")
    board: BoardText = BoardText()
    status: Literal["as found", "proposed", "by method", ""] = Field(
        "", description="whether it is there, is to be made, or was laid by a method alone")
    colours: Words = Field("", description="the colour set of every cable that does not say its own")
    kinds: dict[str, KindText] = {}
    accessories: dict[str, AccessoryText] = {}
    cables: dict[str, CableText] = {}
    circuits: list[CircuitText] = Field([], description="several circuits given by their method")
    seen: Sentences = Field([], description="what the lamps did: 'Landing dead', 'Hall L1, Top L2: Landing on'")
    readings: list[ReadingText] = Field([], description="what was measured")
    notes: Several = []


@dataclass(frozen=True)
class Description:
    """A description: its content, where every value stands, and the problems of shape already found.

    Parts with problems are left out of `content`; `broken` names the accessories and cables left out, so that
    nothing further is said about them.
    """

    content: DescriptionText
    marks: Mapping[Path, Mark]
    problems: tuple[Problem, ...] = ()
    broken: frozenset[str] = frozenset()

    def mark(self, *path: str | int) -> Mark:
        """Where the value at a path stands, or the nearest enclosing value that has a place."""
        at: Path = tuple(path)
        while at and at not in self.marks:
            at = at[:-1]
        return self.marks.get(at, Mark())


def json_schema() -> dict[str, Any]:
    """The JSON Schema of the description file."""
    return DescriptionText.model_json_schema(by_alias=True)
