"""An Edison screw lampholder with line on the outer contact."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import Potential


def check(case: Case) -> Iterator[Finding]:
    """One finding for each such lampholder."""
    for name, accessory, load in case.wiring.loads():
        outer = accessory.terminal(load.b)
        if not load.screw:
            continue
        for group, row, condition in case.settings(outer):
            if condition.solid and condition.potential is Potential.LINE:
                yield Finding(
                    "screw_outer_line", Gravity.DANGER,
                    says=f"The line is on the outer contact of the screw lampholder {case.part(name)}, at "
                    f"{case.terminal(outer)}.",
                    means="The threaded cap of the lamp is live and can be touched while it is screwed in or out.",
                    advice=f"Exchange the conductors on {case.terminals([accessory.terminal(load.a), outer])}.",
                    accessory=accessory.name, terminal=outer.name, setting=case.setting(group, row),
                    clause="BS 7671 643.6 (clause from memory)",
                )
                break


RULE = Rule("screw_outer_line", "Edison screw lampholder with line on the outer contact", check)
