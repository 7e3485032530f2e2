"""What the page shows of a text at a moment, worked out by the pipeline: plain values that pass between processes."""

from __future__ import annotations

from dataclasses import dataclass

from sheetgen.model.problems import Problem


@dataclass(frozen=True)
class ShownCore:
    """A core on a terminal, or anywhere in an accessory: cable, core as labelled, IEC 60757 code ("" bare), what it
    carries, and which end of the cable this is."""

    cable: str
    core: str
    colour: str
    role: str
    end: int


@dataclass(frozen=True)
class PlateTerminal:
    """A terminal in the picture of an accessory: its name in a description, what it is for, and the cores on it."""

    name: str
    meant: str
    connector: bool
    landed: tuple[ShownCore, ...]


@dataclass(frozen=True)
class Plate:
    """The picture of an accessory: rows from top to bottom, each of one terminal or a left and a right."""

    name: str
    kind: str
    rows: tuple[tuple[PlateTerminal, ...], ...]
    room: str = ""
    way: bool = False  # a way of the board
    laid: bool = False  # not written in the text: laid by a method, or a lamp that a rose is taken to have
    holds: tuple[str, ...] = ()  # other accessories that lie in it; their terminals are among its own
    unseen: bool = False  # stands for the end of a cable that nobody has followed
    loose: tuple[ShownCore, ...] = ()  # cores in it that end in nothing
    unknown: tuple[ShownCore, ...] = ()  # cores in it of which nobody knows where


@dataclass(frozen=True)
class CoreRole:
    """What a core carries, and the sleeves it needs: for each end the colour, or ""."""

    role: str
    needs: tuple[str, str]


@dataclass(frozen=True)
class LampNow:
    """A load and what it does now."""

    name: str
    state: str
    lit: bool


@dataclass(frozen=True)
class SwitchNow:
    """A switch, its positions and the one it stands in."""

    name: str
    said: str
    positions: tuple[str, ...]
    stands: str
    standing: str  # the same in print: 'at L1'


@dataclass(frozen=True)
class FindingNow:
    """A finding: "danger", "put right" or "note", and its sentences."""

    gravity: str
    says: str
    means: str
    cure: str
    accessory: str


@dataclass(frozen=True)
class Judged:
    """A text understood and judged: problems, pictures, what every lamp does in the setting asked for, findings.

    With problems there are pictures as far as they are understood, and nothing is judged.
    """

    problems: tuple[Problem, ...]
    plates: tuple[Plate, ...] = ()
    roles: tuple[tuple[tuple[str, str, str], CoreRole], ...] = ()  # (cable, colour or "cpc", mark) -> what it carries
    lamps: tuple[LampNow, ...] = ()
    switches: tuple[SwitchNow, ...] = ()
    says: tuple[str, ...] = ()  # what happens in this setting, of the circuit of the switch operated last
    findings: tuple[FindingNow, ...] = ()
    unjudged: tuple[str, ...] = ()
    whole: bool = False  # it could be solved and judged


@dataclass(frozen=True)
class Refusal:
    """Why there is no plan of tests, in sentences."""

    says: tuple[str, ...]


@dataclass(frozen=True)
class Cured:
    """The findings of a text with what mends each."""

    findings: tuple[FindingNow, ...] = ()


@dataclass(frozen=True)
class Drawn:
    """The wiring drawing as SVG, a sheet each; or why there is none."""

    sheets: tuple[str, ...] = ()
    refused: str = ""
