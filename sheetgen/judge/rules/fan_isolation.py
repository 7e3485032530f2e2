"""A fan that nothing isolates but the board."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.accessory import Accessory, Meant, Terminal
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import Group, Potential, Row


def check(case: Case) -> Iterator[Finding]:
    """One finding for each fan of which no setting of the switches parts every live conductor."""
    for accessory in case.wiring.accessories:
        if "fan" in accessory.kind.flags and not _isolated(case, accessory):
            yield Finding(
                "fan_isolation", Gravity.PUT_RIGHT if "electronics" in accessory.kind.flags else Gravity.NOTE,
                says=f"Nothing but the board isolates {accessory.name}.",
                means="Whoever cleans or mends the fan works on conductors that a switch elsewhere can make live.",
                advice=f"Fit {_isolator(accessory)} near the fan.",
                accessory=accessory.name,
            )


def _isolator(accessory: Accessory) -> str:
    """With a pole for each live terminal."""
    if any(kind.meant is Meant.LINE for kind in accessory.kind.terminals):
        return "a three-pole isolator for line, switched line and neutral"
    return "a two-pole isolator for line and neutral"


def _isolated(case: Case, accessory: Accessory) -> bool:
    live = [
        t for kind in accessory.kind.terminals if kind.meant is not Meant.EARTH
        if (t := accessory.terminal(kind.name)) in case.landed
    ]
    groups = {case.group_of[t][0].switches: case.group_of[t][0] for t in live if t in case.group_of}
    if any(t in case.solution.constant and case.solution.constant[t].solid for t in live):
        return False
    return all(
        any(not any(_joined(case, group, row, t) for t in live) for row in group.rows) for group in groups.values()
    )


def _joined(case: Case, group: Group, row: Row, terminal: Terminal) -> bool:
    if terminal not in case.group_of or case.group_of[terminal][0] is not group:
        return False
    condition = case.condition(group, row, terminal)
    return condition.solid and condition.potential in (Potential.LINE, Potential.NEUTRAL)


RULE = Rule("fan_isolation", "fan that nothing isolates", check)
