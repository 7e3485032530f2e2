"""A lamp that is out while both its contacts are live, for another reason than a switch in its neutral."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.circuit.indicators import indicators
from sheetgen.judge.case import Case
from sheetgen.judge.neutral_wanted import neutral_for
from sheetgen.judge.rules import alternate_polarity, switched_neutral
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import LEAST_LIGHT, Group, Lamp, LampState, Row


def check(case: Case) -> Iterator[Finding]:
    """One finding for each lamp, in the first such setting."""
    seen = set(indicators(case))
    found: dict[str, tuple[Group, Row]] = {}
    for group, row, name, lamp in case.lamps():
        if name not in seen and name not in found and _live_and_dark(case, group, row, name, lamp):
            found[name] = group, row
    told = switched_neutral.in_the_neutral(case) if found else frozenset()
    for name, (group, row) in found.items():
        if name in told or alternate_polarity.concerns(case, name):
            continue
        accessory, load = case.loads[name]
        neutral = accessory.terminal(load.b)
        on_line = case.condition(group, row, neutral).solid
        yield Finding(
            "off_but_live", Gravity.DANGER,
            says=f"{case.part(name)} is out while both its contacts are live.",
            means="It looks safe and is not: either contact gives the full voltage to earth.",
            advice=f"Bring the neutral to {case.terminal(neutral)} in place of the line." if on_line else
            neutral_for(case, name),
            accessory=accessory.name, setting=case.setting(group, row), lamps=(name,),
        )


def _live_and_dark(case: Case, group: Group, row: Row, name: str, lamp: Lamp) -> bool:
    """No voltage across it while its contacts are live, or so little that it stays dark between two live contacts."""
    lower = min(case.condition(group, row, t).fraction or 0 for t in case.contacts[name])
    return lamp.state is LampState.OFF_BUT_LIVE or (lamp.state is LampState.TRACE and lower >= LEAST_LIGHT)


RULE = Rule("off_but_live", "lamp out with both contacts live", check)
