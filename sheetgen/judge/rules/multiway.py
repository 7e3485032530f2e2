"""Two-way and intermediate switches of which some operation does not change the lamp."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.rules.rule import Rule
from sheetgen.judge.rules.toggling import changeovers, fails, works
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import Group, LampState
from sheetgen.model.words import joined


def check(case: Case) -> Iterator[Finding]:
    """One finding for each set of switches, with what would cure it: found by trying, never by template."""
    for group in case.solution.groups:
        switches = changeovers(case.wiring, group)
        if len(switches) < 2 or not group.complete or any(row.shorts for row in group.rows):
            continue
        lamps = [name for name in group.lamps if case.loads[name][1].what == "lamp"]
        moved = [name for name in lamps if any(works(group, name, s) for s in switches)]
        bad = [name for name in moved if fails(group, name, switches)]
        idle = [s for s in switches if not any(works(group, name, s) for name in moved)]
        if moved and (bad or idle):
            yield _finding(case, group, bad or moved, idle, switches)


def _finding(case: Case, group: Group, bad: list[str], idle: list[str], switches: list[str]) -> Finding:
    lamp = group.lamps.index(bad[0])
    lit = sum(row.lamps[lamp].state in (LampState.ON, LampState.DIM) for row in group.rows)
    names = joined(case.part(s) for s in switches)
    where = f"{case.part(bad[0])} is lit in {lit} of {len(group.rows)} settings"
    alone = len(switches) == len(group.switches)  # where not, the settings are of other switches too
    nothing = joined((case.part(s) for s in idle), "or")
    return Finding(
        "multiway", Gravity.PUT_RIGHT,
        says=f"{where} of {names}, and not every operation changes it." if alone else
        f"{where}, and not every operation of {names} changes it.",
        means=f"{nothing} does nothing." if idle else "From some positions one of the switches does nothing.",
        advice=f"Follow each conductor at {names} by test.",
        accessory=case.switches[switches[0]][0].name, lamps=tuple(bad),
    )


RULE = Rule("multiway", "two-way or intermediate switch that does not always change the lamp", check)
