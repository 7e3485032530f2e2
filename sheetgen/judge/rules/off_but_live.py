"""A lamp that is out while both its contacts are live, for another reason than a switch in its neutral."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.rules import alternate_polarity, loose_core, switched_neutral
from sheetgen.judge.rules.rule import Rule
from sheetgen.judge.rules.subject import Subject
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import LampState


def check(subject: Subject) -> Iterator[Finding]:
    """One finding for each lamp, in the first such setting."""
    seen = set(loose_core.wanted(subject))  # said of the core that is loose
    for group, row, name, lamp in subject.lamps():
        if lamp.state is not LampState.OFF_BUT_LIVE or name in seen:
            continue
        seen.add(name)
        if alternate_polarity.concerns(subject, name) or switched_neutral.culprits(subject, group, name):
            continue
        accessory, load = subject.loads[name]
        neutral = accessory.terminal(load.b)
        on_line = subject.condition(group, row, neutral).solid
        yield Finding(
            "off_but_live", Gravity.DANGER,
            says=f"{subject.part(name)} is out while both its contacts are live.",
            means="It looks safe and is not: either contact gives the full voltage to earth.",
            cure=f"Bring the neutral to {subject.terminal(neutral)} in place of the line." if on_line else
            f"Find where the neutral of {subject.part(name)} is broken and join it.",
            accessory=accessory.name, setting=subject.setting(group, row),
        )


RULE = Rule("off_but_live", "lamp out with both contacts live", check)
