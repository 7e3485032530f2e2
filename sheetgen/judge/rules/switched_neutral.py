"""A switch that breaks the neutral and leaves the lamp live."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from operator import itemgetter

from sheetgen.judge.case import Case
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import LIT, Group, LampState, Potential, Row

DARK_AND_LIVE = (LampState.OFF_BUT_LIVE, LampState.DIM, LampState.TRACE)


def check(case: Case) -> Iterator[Finding]:
    """One finding for each switch, with a setting in which it leaves a lamp off but live."""
    for group in case.solution.groups:
        found: dict[int, tuple[str, Row]] = {}
        for place, lamp, row in _leaves_live(case, group):
            found.setdefault(place, (lamp, row))
        for place, switch in enumerate(group.switches):
            if place in found:
                lamp, row = found[place]
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


def in_the_neutral(case: Case) -> frozenset[str]:
    """The lamps that have some switch of their group in the neutral: of them that says enough."""
    return frozenset(lamp for group in case.solution.groups for _, lamp, _ in _leaves_live(case, group))


def _leaves_live(case: Case, group: Group) -> Iterator[tuple[int, str, Row]]:
    """Place of a switch, and a lamp whose neutral comes back when it alone is operated: off but live in a row, or dim
    in series."""
    for row, reached in group.operations:
        dark = [(i, lamp) for i, lamp in enumerate(group.lamps) if row.lamps[i].state in DARK_AND_LIVE]
        if dark and not row.shorts:
            for place, others in groupby(reached, key=itemgetter(0)):
                after = [other for _, other in others if not other.shorts]
                for i, lamp in dark:
                    if any(other.lamps[i].state in LIT and _neutral_returns(case, group, lamp, row, other)
                           for other in after):
                        yield place, lamp, row


def _neutral_returns(case: Case, group: Group, lamp: str, off: Row, on: Row) -> bool:
    accessory, load = case.loads[lamp]
    for contact in (accessory.terminal(load.a), accessory.terminal(load.b)):
        before = case.condition(group, off, contact)
        after = case.condition(group, on, contact)
        if not before.solid and after.solid and after.potential is Potential.NEUTRAL:
            return True
    return False


RULE = Rule("switched_neutral", "switch in the neutral", check)
