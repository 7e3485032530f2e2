"""Fixed wiring in colours of two versions."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.words import joined


def check(case: Case) -> Iterator[Finding]:
    """One finding, naming the accessories in which both meet; flex has colours of its own and is no mixture."""
    fixed = [c for c in case.wiring.cables if not c.flex and any(not core.cpc for core in c.cores)]
    names = tuple(dict.fromkeys(c.colours for c in fixed))
    if len(names) < 2 or case.wiring.recoloured:
        return
    meet = [
        a.name for a in case.wiring.accessories
        if len({c.colours for c in fixed if a.name in c.ends}) > 1
    ]
    titles = joined(case.sets[n].title if n in case.sets else n for n in names)
    yield Finding(
        "two_colour_sets", Gravity.NOTE,
        says=f"The fixed wiring is in colours of two versions, {titles}"
        + (f"; they meet at {joined(meet)}." if meet else "."),
        means="Black and blue mean a line in one and a neutral in the other.",
        advice="Keep a notice at the board (good practice), and identify every conductor by test.",
        accessory=meet[0] if meet else "", clause="BS 7671 514.1.3",
    )


RULE = Rule("two_colour_sets", "fixed wiring in colours of two versions", check)
