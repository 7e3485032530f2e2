"""Two wirings side by side, and what to change to make one into the other."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from sheetgen.model.accessory import Accessory
from sheetgen.model.drawing import Drawing
from sheetgen.model.job import Job
from sheetgen.model.wiring import Cable, Wiring


class Does(StrEnum):
    """What a step does; in the order in which the steps come."""

    TAKE_OUT_CABLE = "take out cable"
    EXCHANGE = "exchange accessory"
    FIT = "fit accessory"
    CONNECTORS = "connectors"
    ADD_CABLE = "add cable"
    MOVE = "move core end"
    SLEEVE = "sleeve"
    TIDY = "take out connectors"
    TAKE_OUT = "take out accessory"


@dataclass(frozen=True)
class ChangeStep:
    """One thing to do on the dead circuit: in words, and as the change it makes to the wiring."""

    does: Does
    says: str
    accessory: Accessory | None = None  # as it is after the step; for TAKE_OUT as it was
    cable: Cable | None = None  # added, or taken out
    core: str = ""  # Core.key
    end: int = 0
    terminal: str | None = None  # where the core end is landed
    sleeves: tuple[str | None, str | None] = (None, None)  # at both ends, after the step


@dataclass(frozen=True)
class Change:
    """The steps from one wiring to another, what they lead to, and the proof by solving it."""

    steps: tuple[ChangeStep, ...]
    result: Wiring
    proven: bool
    proof: tuple[str, ...]  # what was solved and compared, in words
    left: tuple[str, ...] = ()  # findings of the result, in words
    keeps: str = ""  # which cables stay in other colours than those asked for, in words

    @property
    def nothing(self) -> str:
        """What is said where there are no steps."""
        return "No conductor is to be moved." if self.keeps else "Nothing is to be changed."


@dataclass(frozen=True)
class ComparedFact:
    """One line of the table of both sides."""

    what: str
    before: str
    after: str


@dataclass(frozen=True)
class Comparison:
    """Everything the sheet of a comparison prints."""

    before: Job
    after: Job
    facts: tuple[ComparedFact, ...]
    change: Change | None  # None where the two are not of the same lights
    beside: tuple[Drawing, Drawing] | None = None  # drawings that stand side by side on one sheet, where they fit
