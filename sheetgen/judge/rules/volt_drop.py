"""Volt drop over the limit."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.words import plain


def check(case: Case) -> Iterator[Finding]:
    """One finding for each way: the worst of its lamps."""
    for way in case.reckoning.ways:
        drops = [(d.volts, d) for d in case.reckoning.drops
                 if d.way == way.way and d.volts is not None and d.volts > d.limit]
        if drops:
            volts, worst = max(drops, key=lambda drop: drop[0])
            accessory, _ = case.loads[worst.lamp]
            yield Finding(
                "volt_drop", Gravity.PUT_RIGHT,
                says=f"{plain(volts)} V are lost on the way to {case.part(worst.lamp)} with everything on; "
                f"the limit is {plain(worst.limit)} V.",
                means="Lamps are dimmer and motors warmer than they should be.",
                advice="Use a larger cable on the longest run, or take load off the circuit.",
                accessory=accessory.name, clause="BS 7671 Table 4Ab",
            )


RULE = Rule("volt_drop", "volt drop over the limit", check)
