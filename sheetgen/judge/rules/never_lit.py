"""A lamp that no setting lights."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.rules import loose_core, no_supply, short
from sheetgen.judge.rules.relanding import moves, said
from sheetgen.judge.rules.rule import Rule
from sheetgen.judge.rules.subject import Subject
from sheetgen.model.accessory import Terminal
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import Group, LampState, Potential
from sheetgen.model.words import joined

LIT = (LampState.ON, LampState.DIM)


def check(subject: Subject) -> Iterator[Finding]:
    """One finding for each lamp or other load; what is missing is said."""
    if not no_supply.fed(subject):
        return  # one finding says it for all
    told = {*short.cured(subject), *loose_core.wanted(subject)}
    for group in subject.solution.groups:
        for i, name in enumerate(group.lamps):
            states = {row.lamps[i].state for row in group.rows}
            if not group.complete or states & {*LIT, LampState.SHORT} or name in told:
                continue
            accessory, load = subject.loads[name]
            contacts = [accessory.terminal(load.a), accessory.terminal(load.b)]
            says, cure = _why(subject, group, name, contacts)
            yield Finding(
                "never_lit", Gravity.PUT_RIGHT,
                says=f"{subject.part(name)} {'is on' if load.what == 'lamp' else 'runs'} in no setting: {says}.",
                means="It does not work, however the switches stand.",
                cure=cure, accessory=accessory.name,
            )


def _why(subject: Subject, group: Group, name: str, contacts: list[Terminal]) -> tuple[str, str]:
    line = any(subject.at(t, Potential.LINE) for t in contacts)
    neutral = any(subject.at(t, Potential.NEUTRAL) for t in contacts)
    lamp = subject.part(name)
    found = moves(subject, name)
    if found:
        missing = joined([w for w, there in (("line", line), ("neutral", neutral)) if not there])
        why = f"no {missing} reaches it" if missing else "line and neutral never reach its two contacts together"
        return why, f"{said(found, lamp)}."
    if not line and not neutral:
        return "neither line nor neutral reaches it", f"Find where the conductors to {lamp} are broken and join them."
    if not line:
        return "no line reaches it", f"Find where the line to {lamp} is broken and join it."
    if not neutral:
        return "no neutral reaches it", f"Find where the neutral of {lamp} is broken and join it."
    return "line and neutral never reach its two contacts together", (
        f"Bring the switched line to one contact of {lamp} and the neutral to the other.")


RULE = Rule("never_lit", "lamp that no setting lights", check)
