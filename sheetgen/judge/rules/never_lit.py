"""A lamp that no setting lights."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.neutral_wanted import neutral_for
from sheetgen.judge.rules import no_supply
from sheetgen.judge.rules.rule import Rule
from sheetgen.judge.supply import cannot_trigger
from sheetgen.model.accessory import Terminal
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import LIT, Group, LampState, Potential


def check(case: Case) -> Iterator[Finding]:
    """One finding for each lamp or other load; what is missing is said."""
    if not no_supply.fed(case):
        return  # one finding says it for all
    for group in case.solution.groups:
        for i, name in enumerate(group.lamps):
            states = {row.lamps[i].state for row in group.rows}
            if not group.complete or states & {*LIT, LampState.SHORT, LampState.NOT_KNOWN}:
                continue
            accessory, load = case.loads[name]
            contacts = [accessory.terminal(load.a), accessory.terminal(load.b)]
            says, advice = _why(case, group, name, contacts)
            yield Finding(
                "never_lit", Gravity.PUT_RIGHT,
                says=f"{case.part(name)} {'is on' if load.what == 'lamp' else 'runs'} in no setting: {says}.",
                means=cannot_trigger(case, accessory) or "It does not work, however the switches stand.",
                advice=advice, accessory=accessory.name, lamps=(name,),
            )


def _why(case: Case, group: Group, name: str, contacts: list[Terminal]) -> tuple[str, str]:
    line = any(case.at(t, Potential.LINE) for t in contacts)
    neutral = any(case.at(t, Potential.NEUTRAL) for t in contacts)
    lamp = case.part(name)
    if not line and not neutral:
        return "neither line nor neutral reaches it", f"Find where the conductors to {lamp} are broken and join them."
    if not line:
        return "no line reaches it", f"Find where the line to {lamp} is broken and join it."
    if not neutral:
        return "no neutral reaches it", neutral_for(case, name)
    return "line and neutral never reach its two contacts together", (
        f"Bring the switched line to one contact of {lamp} and the neutral to the other.")


RULE = Rule("never_lit", "lamp that no setting lights", check)
