"""A load whose current returns through earth and not through a neutral."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.circuit.current import carrying
from sheetgen.judge.case import Case
from sheetgen.judge.neutral_wanted import neutral_to_bring
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import Potential


def check(case: Case) -> Iterator[Finding]:
    """One finding for each load, in the first setting in which it runs so."""
    seen: set[str] = set()
    for group in case.solution.groups:
        for row in group.rows:
            if row.shorts:
                continue
            for load in carrying(case, group, row):
                at = case.condition(group, row, load.end)
                if load.name in seen or not (at.solid and at.potential is Potential.EARTH):
                    continue
                seen.add(load.name)
                yield Finding(
                    "earth_return", Gravity.DANGER,
                    says=f"The current of {case.part(load.name)} returns through earth, from "
                    f"{case.terminal(load.end)}, and not through a neutral.",
                    means="The cpc carries current all the while. Where it is parted, everything on the far side that "
                    "is earthed becomes live through the lamp; an RCD trips.",
                    advice=neutral_to_bring(case, load.end, " in place of the earth") or
                    f"Find the neutral that {case.part(load.name)} should have, and bring it to "
                    f"{case.terminal(load.end)} in place of the earth.",
                    accessory=case.loads[load.name][0].name, terminal=load.end.name,
                    setting=case.setting(group, row), lamps=(load.name,), clause="BS 7671 543.4",
                )


RULE = Rule("earth_return", "load whose current returns through earth", check)
