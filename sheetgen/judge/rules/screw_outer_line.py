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
                old = "metal" in accessory.kind.flags
                yield Finding(
                    "screw_outer_line", Gravity.PUT_RIGHT if old else Gravity.NOTE,
                    says=f"The line is on the outer contact of the screw lampholder {case.part(name)}, at "
                    f"{case.terminal(outer)}.",
                    means="In a metal holder the thread of the lamp can be live while it is screwed in or out." if old
                    else "In an old or all-metal holder the thread of the lamp can be live while it is screwed in "
                    "or out; E14 and E27 holders to BS EN 60238 meet the supply only once the lamp is home.",
                    advice=f"Exchange the conductors on {case.terminals([accessory.terminal(load.a), outer])}.",
                    accessory=accessory.name, terminal=outer.name, setting=case.setting(group, row),
                    clause="BS 7671 559.5.1.206",
                )
                break


RULE = Rule("screw_outer_line", "Edison screw lampholder with line on the outer contact", check)
