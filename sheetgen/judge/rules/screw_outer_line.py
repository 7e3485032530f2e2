"""An Edison screw lampholder with line on the outer contact."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.rules.rule import Rule
from sheetgen.judge.rules.subject import Subject
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import Potential


def check(subject: Subject) -> Iterator[Finding]:
    """One finding for each such lampholder."""
    for name, accessory, load in subject.wiring.loads():
        outer = accessory.terminal(load.b)
        if not load.screw:
            continue
        for group, row, condition in subject.settings(outer):
            if condition.solid and condition.potential is Potential.LINE:
                yield Finding(
                    "screw_outer_line", Gravity.DANGER,
                    says=f"The line is on the outer contact of the screw lampholder {subject.part(name)}, at "
                    f"{subject.terminal(outer)}.",
                    means="The threaded cap of the lamp is live and can be touched while it is screwed in or out.",
                    cure=f"Exchange the conductors on {subject.terminals([accessory.terminal(load.a), outer])}.",
                    accessory=accessory.name, terminal=outer.name, setting=subject.setting(group, row),
                    clause="BS 7671 643.6 (clause from memory)",
                )
                break


RULE = Rule("screw_outer_line", "Edison screw lampholder with line on the outer contact", check)
