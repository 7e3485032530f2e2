"""Two understood descriptions of one dwelling -> what is different, thing by thing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sheetgen.circuit import Circuit
from sheetgen.model.job import Job
from sheetgen.stock.changes.facts import (
    Facts,
    Things,
    accessory_facts,
    board_facts,
    cable_facts,
    ends_of,
    head_facts,
    load_facts,
    pendants_of,
    renamed,
)
from sheetgen.stock.dwelling import KeptFinding
from sheetgen.stock.job_to_dwelling import job_to_dwelling
from sheetgen.stock.standing import compared

ABSENT, NEW, CHANGED, CURED = "not there", "new", "changed", "not any more"
PARTS = ("Description", "Board", "Accessories", "Cables", "Lamps and loads", "Findings")
DEFINING = ("kind", "type", "device", "load", "room", "runs", "serves")  # what is said of a thing that came or went


@dataclass(frozen=True)
class Difference:
    """One line: of which part, of which thing ("" for the part itself), what, how it was and how it is.

    Of a finding: its gravity, what it says, what it said before where it is changed, and what became of it.
    """

    part: str
    name: str
    what: str
    before: str
    after: str

    @property
    def was(self) -> str:
        """Of a finding that is changed: what it was."""
        return f" Before: {self.before}" if self.part == "Findings" and self.after == CHANGED else ""


def differences_between(before: Job, after: Job) -> tuple[Difference, ...]:
    """Everything that is different; nothing for two descriptions that say the same in another order."""
    return tuple(_all(before, after))


def _all(before: Job, after: Job) -> Iterator[Difference]:
    jobs = (before, after)
    circuits = tuple(Circuit(job.wiring, job.solution) for job in jobs)
    dwellings = tuple(map(job_to_dwelling, jobs))
    yield from _part("Description", head_facts(before.wiring), head_facts(after.wiring))
    yield from _part("Board", board_facts(before.wiring, dwellings[0]), board_facts(after.wiring, dwellings[1]))
    were, are = (accessory_facts(circuit) for circuit in circuits)
    names = renamed(were, are, (ends_of(job.wiring) for job in jobs))
    for old, new in names.items():
        yield Difference("Accessories", new, "name", old, new)
    names |= pendants_of(names, before.wiring, after.wiring)
    yield from _part("Accessories", were, are, names)
    were, are = cable_facts(circuits[0], names), cable_facts(circuits[1], {})
    runs = renamed(were, are)
    for old, new in runs.items():
        yield Difference("Cables", new, "name", old, new)
    yield from _part("Cables", were, are, runs)
    were, are = (load_facts(circuit, job.reading) for circuit, job in zip(circuits, jobs, strict=True))
    yield from _part("Lamps and loads", were, are, names)
    yield from _findings(dwellings[0].findings, dwellings[1].findings)


def _part(part: str, were: Things, are: Things, names: dict[str, str] | None = None) -> Iterator[Difference]:
    before = {(names or {}).get(name, name): facts for name, facts in were.items()}
    for name in dict.fromkeys((*before, *are)):
        if name not in are:
            yield Difference(part, name, "", _said(before[name]), ABSENT)
        elif name not in before:
            yield Difference(part, name, "", ABSENT, _said(are[name]))
        else:
            for what in dict.fromkeys((*before[name], *are[name])):
                was, now = before[name].get(what, ABSENT), are[name].get(what, ABSENT)
                if was != now:
                    yield Difference(part, name, what, was, now)


def _said(facts: Facts) -> str:
    return ", ".join(facts[what] for what in DEFINING if facts.get(what)) or "there"


def _findings(were: Sequence[KeptFinding], are: Sequence[KeptFinding]) -> Iterator[Difference]:
    found = compared(were, are)
    for was, now in found.changed:
        yield Difference("Findings", now.gravity, now.says, f"{was.gravity}: {was.says}", CHANGED)
    yield from (Difference("Findings", finding.gravity, finding.says, ABSENT, NEW) for finding in found.new)
    yield from (Difference("Findings", finding.gravity, finding.says, "there", CURED) for finding in found.cured)
