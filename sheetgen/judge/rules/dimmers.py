"""Two dimmers on one set of switches."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.words import joined


def check(case: Case) -> Iterator[Finding]:
    """One finding for each set of switches that has several."""
    for group in case.solution.groups:
        dimmers = [s for s in group.switches if case.switches[s][1].what == "dimmer"]
        if len(dimmers) > 1 and group.lamps:
            yield Finding(
                "dimmers", Gravity.PUT_RIGHT,
                says=f"{joined(case.part(s) for s in dimmers)} are dimmers of the same lamps.",
                means="Two dimmers on one set of switches disturb and can destroy one another.",
                advice="Keep one of them and fit a two-way switch in place of the other.",
                accessory=case.switches[dimmers[0]][0].name,
            )


RULE = Rule("dimmers", "two dimmers on one set of switches", check)
