"""Two-way and intermediate switches of which some operation does not change the lamp."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.rules.exchange import MOST_ROWS, cures
from sheetgen.judge.rules.rule import Rule
from sheetgen.judge.rules.subject import Subject
from sheetgen.judge.rules.toggling import changeovers, fails, works
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import Group, LampState
from sheetgen.model.words import joined


def check(subject: Subject) -> Iterator[Finding]:
    """One finding for each set of switches, with what would cure it: found by trying, never by template."""
    for group in subject.solution.groups:
        switches = changeovers(subject.wiring, group)
        if len(switches) < 2 or not group.complete or any(row.shorts for row in group.rows):
            continue
        lamps = [name for name in group.lamps if subject.loads[name][1].what == "lamp"]
        moved = [name for name in lamps if any(works(group, name, s) for s in switches)]
        bad = [name for name in moved if fails(group, name, switches)]
        idle = [s for s in switches if not any(works(group, name, s) for name in moved)]
        if moved and (bad or idle):
            yield _finding(subject, group, bad or moved, idle, switches)


def _finding(subject: Subject, group: Group, bad: list[str], idle: list[str], switches: list[str]) -> Finding:
    lamp = group.lamps.index(bad[0])
    lit = sum(row.lamps[lamp].state in (LampState.ON, LampState.DIM) for row in group.rows)
    names = joined(subject.part(s) for s in switches)
    where = f"{subject.part(bad[0])} is lit in {lit} of {len(group.rows)} settings of {names}"
    nothing = joined((subject.part(s) for s in idle), "or")
    found = cures(subject, group, bad) if len(group.rows) <= MOST_ROWS else []
    return Finding(
        "multiway", Gravity.PUT_RIGHT,
        says=f"{where}, and not every operation changes it.",
        means=f"{nothing} does nothing." if idle else "From some positions one of the switches does nothing.",
        cure=_cure(found, names),
        accessory=found[0].accessory if found else subject.switches[switches[0]][0].name,
        core=found[0].core if found else "",
    )


def _cure(found: list, names: str) -> str:
    if not found:
        return f"No exchange or move of single conductors cures it: follow each conductor at {names} by test."
    ways = joined((c.says for c in found), "or")
    return f"{ways}: then every operation changes the lamp (found by trying it)."


RULE = Rule("multiway", "two-way or intermediate switch that does not always change the lamp", check)
