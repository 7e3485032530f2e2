"""What is kept of a dwelling: plain words and numbers, so that they pass between processes and into tables."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class KeptWay:
    """One way of the board; `rcd` is "30 mA", "none" or "not known"."""

    number: str
    serves: str
    device: str  # "not given" where it is not
    rcd: str


@dataclass(frozen=True)
class KeptCircuit:
    """One circuit as it was recognised: its method in a sentence."""

    lamps: str
    switches: str
    ways: str
    method: str


@dataclass(frozen=True)
class KeptFinding:
    """One finding, as on the sheet."""

    gravity: str  # "danger", "put right", "note"
    rule: str
    says: str
    setting: str
    means: str
    cure: str
    clause: str
    accessory: str
    terminal: str
    core: str

    @property
    def identity(self) -> tuple[str, ...]:
        """What makes it the same finding in a later description, however it is worded."""
        return self.rule, self.gravity, self.accessory, self.terminal, self.core


@dataclass(frozen=True)
class KeptCable:
    """One cable: from one accessory to another."""

    name: str
    type: str
    size: str  # "1.0 mm²"; "" where not given
    colours: str
    begins: str
    ends: str
    length: float | None  # metres
    cores: int


@dataclass(frozen=True)
class KeptAccessory:
    """One accessory that is not a way of the board."""

    name: str
    kind: str
    room: str


@dataclass(frozen=True)
class Dwelling:
    """One description, understood. Dates are as written, `drawn_day` and `due_day` as ISO; "" where not given."""

    job: str
    place: str
    status: str
    drawn_by: str
    drawn_on: str
    drawn_day: str
    board_where: str
    earthing: str
    report_number: str
    report_date: str
    report_due: str
    due_day: str  # the last day of the month where only that is given
    mixed_colours: bool
    no_cpc: str  # the accessories without one, with commas
    ways: tuple[KeptWay, ...]
    circuits: tuple[KeptCircuit, ...]
    findings: tuple[KeptFinding, ...]
    cables: tuple[KeptCable, ...]
    accessories: tuple[KeptAccessory, ...]
    notes: tuple[str, ...]
    in_use: int  # of the ways: those that a conductor is on, whatever comes of it

    def count(self, gravity: str) -> int:
        """How many findings of a gravity."""
        return sum(f.gravity == gravity for f in self.findings)

    @property
    def rcd(self) -> str:
        """'30 mA' where all ways are alike; else way by way."""
        said = dict.fromkeys(way.rcd for way in self.ways)
        return next(iter(said)) if len(said) == 1 else "; ".join(f"circuit {w.number} {w.rcd}" for w in self.ways)
