"""Two dimmers on one set of switches."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.rules.rule import Rule
from sheetgen.judge.work import worked_by
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.words import joined


def check(case: Case) -> Iterator[Finding]:
    """One finding for each set of switches that has several."""
    yield from _motors(case)
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


def _motors(case: Case) -> Iterator[Finding]:
    work = worked_by(case)
    for name, switches in work.items():
        dimmer = next((s for s in case.switches if s in switches and case.switches[s][1].what == "dimmer"), None)
        if case.loads[name][1].what == "fan" and dimmer is not None:
            yield Finding(
                "dimmers", Gravity.PUT_RIGHT,
                says=f"{case.part(dimmer)} is a dimmer and works {case.part(name)}, which has a motor.",
                means="A motor on a dimmer for lamps overheats, and may burn.",
                advice="Fit a switch in place of the dimmer, or a speed control that the maker of the fan names.",
                accessory=case.switches[dimmer][0].name, lamps=(name,),
            )


RULE = Rule("dimmers", "two dimmers on one set of switches, or a dimmer on a fan", check)
