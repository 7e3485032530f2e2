"""A contact that is at line in one setting and at neutral in another."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import Potential


def check(case: Case) -> Iterator[Finding]:
    """One finding for the switches of a group that move a conductor between line and neutral."""
    seen = set()
    for name, accessory, switch in case.wiring.switches():
        contacts = dict.fromkeys(t for p in switch.positions for pair in p.joins for t in pair
                                 if not accessory.kind.terminal(t).inner)  # the motor behind a timer is no contact
        moved = [
            t for t in (accessory.terminal(c) for c in contacts)
            if case.at(t, Potential.LINE) and case.at(t, Potential.NEUTRAL)
        ]
        group = case.solution.group_of_switch(name).switches
        if moved and group not in seen:
            seen.add(group)
            yield Finding(
                "alternate_polarity", Gravity.DANGER,
                says=f"{case.part(name)} puts {case.terminal(moved[0])} on line in one position and on neutral "
                "in another.",
                means="A lamp on it can be out with both contacts live, and line and neutral meet in one switch.",
                advice="Rewire so that the switches break the line only, for example by the conversion with three "
                "cores between the switches.",
                accessory=accessory.name, terminal=moved[0].name,
            )


def concerns(case: Case, lamp: str) -> bool:
    """A contact of the lamp is moved between line and neutral."""
    accessory, load = case.loads[lamp]
    return any(
        case.at(t, Potential.LINE) and case.at(t, Potential.NEUTRAL)
        for t in (accessory.terminal(load.a), accessory.terminal(load.b)) if not accessory.kind.terminal(t.name).inner
    )


RULE = Rule("alternate_polarity", "line and neutral in one switch", check)
