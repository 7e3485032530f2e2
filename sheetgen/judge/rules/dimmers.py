"""Two dimmers on one set of switches."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.rules.rule import Rule
from sheetgen.judge.rules.subject import Subject
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.words import joined


def check(subject: Subject) -> Iterator[Finding]:
    """One finding for each set of switches that has several."""
    for group in subject.solution.groups:
        dimmers = [s for s in group.switches if subject.switches[s][1].what == "dimmer"]
        if len(dimmers) > 1 and group.lamps:
            yield Finding(
                "dimmers", Gravity.PUT_RIGHT,
                says=f"{joined(subject.part(s) for s in dimmers)} are dimmers of the same lamps.",
                means="Two dimmers on one set of switches disturb and can destroy one another.",
                cure="Keep one of them and fit a two-way switch in place of the other.",
                accessory=subject.switches[dimmers[0]][0].name,
            )


RULE = Rule("dimmers", "two dimmers on one set of switches", check)
