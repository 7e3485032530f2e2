"""A switch that breaks the neutral and leaves the lamp live."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import LIT, Group, LampState, Potential, Row


def check(case: Case) -> Iterator[Finding]:
    """One finding for each switch, with a setting in which it leaves a lamp off but live."""
    for group in case.solution.groups:
        for place, switch in enumerate(group.switches):
            found = next(_leaves_live(case, group, place), None)
            if found is not None:
                lamp, row = found
                accessory, _ = case.switches[switch]
                yield Finding(
                    "switched_neutral", Gravity.DANGER,
                    says=f"{case.part(switch)} switches the neutral of {case.part(lamp)}.",
                    means="With the lamp out its contacts are still at line voltage, and whoever changes it can touch "
                    "them.",
                    advice="Bring the neutral straight to the lamp and put the switch into the line.",
                    accessory=accessory.name, setting=case.setting(group, row), lamps=(lamp,),
                    clause="BS 7671 132.14.2",
                )


def culprits(case: Case, group: Group, lamp: str) -> bool:
    """Some switch of the group is in the neutral of this lamp, and that says enough."""
    return any(name == lamp for place in range(len(group.switches)) for name, _ in _leaves_live(case, group, place))


def _leaves_live(case: Case, group: Group, place: int) -> Iterator[tuple[str, Row]]:
    """Lamps whose neutral comes back when this one switch is operated: off but live in a row, or dim in series."""
    by_setting = {row.setting: row for row in group.rows if not row.shorts}
    for row in by_setting.values():
        for i, lamp in enumerate(group.lamps):
            if row.lamps[i].state not in (LampState.OFF_BUT_LIVE, LampState.DIM, LampState.TRACE):
                continue
            for position in group.positions[place]:
                other = by_setting.get((*row.setting[:place], position, *row.setting[place + 1:]))
                lit = other is not None and other.lamps[i].state in LIT
                if other is not None and lit and _neutral_returns(case, group, lamp, row, other):
                    yield lamp, row


def _neutral_returns(case: Case, group: Group, lamp: str, off: Row, on: Row) -> bool:
    accessory, load = case.loads[lamp]
    for contact in (accessory.terminal(load.a), accessory.terminal(load.b)):
        before = case.condition(group, off, contact)
        after = case.condition(group, on, contact)
        if not before.solid and after.solid and after.potential is Potential.NEUTRAL:
            return True
    return False


RULE = Rule("switched_neutral", "switch in the neutral", check)
