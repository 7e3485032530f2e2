"""A light that works only while the switch of another light is on: its line is taken from a switched line."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.rules.rule import Rule
from sheetgen.judge.work import worked_by
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import LIT, Group


def check(case: Case) -> Iterator[Finding]:
    """One finding for each switch that stands before another light's own switch."""
    work = worked_by(case)
    for group in case.solution.groups:
        if not group.complete or any(row.shorts for row in group.rows):
            continue
        lamps = [name for name in group.lamps if name in case.lamp_names and work[name]]
        for before in _one_way(case, group):
            own = [name for name in lamps if work[name] == {before}]
            behind = [name for name in lamps if len(work[name]) > 1 and before in work[name]
                      and _dark_without(group, name, before)]
            if own and behind:
                first, later = own[0], behind[0]
                yield Finding(
                    "onward_line", Gravity.PUT_RIGHT,
                    says=f"{case.part(later)} works only while {case.part(before)} is on: its line is taken from the "
                    f"switched line of {case.part(first)}.",
                    means="Its own switch does nothing while the other is off.",
                    advice=f"Find where the line of {case.part(later)} leaves the switched line of {case.part(first)}, "
                    "and bring it from the permanent line.",
                    accessory=case.loads[later][0].name, lamps=(later,),
                )


def _one_way(case: Case, group: Group) -> list[str]:
    return [name for name in group.switches
            if case.switches[name][1].what == "one-way" and case.switches[name][1].by_hand]


def _dark_without(group: Group, lamp: str, switch: str) -> bool:
    """No setting with the switch in its first position, off, lights the lamp; some other does."""
    i, place = group.lamps.index(lamp), group.switches.index(switch)
    off = group.positions[place][0]
    lit = {row.setting[place] for row in group.rows if row.lamps[i].state in LIT}
    return bool(lit) and off not in lit


RULE = Rule("onward_line", "light fed from the switched line of another", check)
