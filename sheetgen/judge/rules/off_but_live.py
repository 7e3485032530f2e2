"""A lamp that is out while both its contacts are live, for another reason than a switch in its neutral."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.rules import across_a_switch, alternate_polarity, switched_neutral
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import LampState


def check(case: Case) -> Iterator[Finding]:
    """One finding for each lamp, in the first such setting."""
    seen = set(across_a_switch.indicators(case))
    for group, row, name, lamp in case.lamps():
        if lamp.state is not LampState.OFF_BUT_LIVE or name in seen:
            continue
        seen.add(name)
        if alternate_polarity.concerns(case, name) or switched_neutral.culprits(case, group, name):
            continue
        accessory, load = case.loads[name]
        neutral = accessory.terminal(load.b)
        on_line = case.condition(group, row, neutral).solid
        yield Finding(
            "off_but_live", Gravity.DANGER,
            says=f"{case.part(name)} is out while both its contacts are live.",
            means="It looks safe and is not: either contact gives the full voltage to earth.",
            advice=f"Bring the neutral to {case.terminal(neutral)} in place of the line." if on_line else
            f"Find where the neutral of {case.part(name)} is broken and join it.",
            accessory=accessory.name, setting=case.setting(group, row), lamps=(name,),
        )


RULE = Rule("off_but_live", "lamp out with both contacts live", check)
