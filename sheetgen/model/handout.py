"""A handout for a class: the circuit to be drawn, and versions of a set of questions with their answers."""

from __future__ import annotations

from dataclasses import dataclass

from sheetgen.model.drawing import Drawing
from sheetgen.model.job import Job


@dataclass(frozen=True)
class Question:
    """One question. `about` names in the model's words what it is about, so that the answer can be worked out again."""

    kind: str  # "conductor", "live", "lamp", "sleeves", "exchange", "method", "place"
    asks: str
    answer: str
    about: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Version:
    """One question sheet; questions are numbered in their order."""

    name: str  # "A", "B", ...
    questions: tuple[Question, ...]


@dataclass(frozen=True)
class Handout:
    """Everything a handout prints."""

    job: Job  # its drawings are the complete ones
    open_drawings: tuple[Drawing, ...]  # the same without the conductors inside accessories
    versions: tuple[Version, ...]
    harder: bool = False  # where the cores end is not told: the class is to find it
    colours: str = ""  # title of the colour set, where the class meets the circuit in more than one
    also: Handout | None = None  # the same circuit in the other colours; its versions ask only what colours change


@dataclass(frozen=True)
class FaultTask:
    """A fault to be found: what is seen; for the answers what it is, how it is found, and what a meter reads."""

    name: str  # "A", "B", ...; "" where there is only one
    seen: tuple[str, ...]  # sentences without their stops
    fault: str  # in a sentence
    fit: tuple[str, ...]  # every fault that shows the same, in a few words
    path: tuple[tuple[str, str, str], ...]  # of the plan: switches, what to do, what it reads
    joined: tuple[tuple[str, str], ...]  # switches, and the terminals that read closed to one another
