"""An indicator across the contacts of a switch: a neon that shows where it is, or that what it feeds is off."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.circuit.indicators import indicators
from sheetgen.judge.case import Case
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.reading import Finding, Gravity


def check(case: Case) -> Iterator[Finding]:
    """One note for each indicator: what it bridges is not dead when the switch is off."""
    for name, switch in indicators(case).items():
        yield Finding(
            "across_a_switch", Gravity.NOTE,
            says=f"{case.part(name)} lies across {case.part(switch)}.",
            means=f"With {case.part(switch)} off it glows, and what is switched is live through it and the lamps; "
            "electronic lamps there may glow or flicker.",
            advice=f"Leave it where it is meant as an indicator; isolate the circuit, never only {case.part(switch)}.",
            accessory=case.loads[name][0].name, lamps=(name,),
        )


RULE = Rule("across_a_switch", "indicator across the contacts of a switch", check)
