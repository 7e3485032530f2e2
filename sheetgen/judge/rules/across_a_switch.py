"""An indicator across the contacts of a switch: a neon that shows where it is, or that what it feeds is off."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from sheetgen.judge.case import Case
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.reading import Finding, Gravity

MOST_WATTS = Fraction(1)  # common practice: a neon takes a fraction of a watt, the smallest lamp some watts


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


def indicators(case: Case) -> dict[str, str]:
    """The lamps of at most a watt with a contact on each side of a contact of a switch -> that switch."""
    nets = case.solution.nets
    across = {
        frozenset((nets[accessory.terminal(a)], nets[accessory.terminal(b)])): name
        for name, (accessory, switch) in case.switches.items()
        for position in switch.positions for a, b in position.joins
    }
    ends = {name: frozenset(nets[t] for t in contacts) for name, contacts in case.contacts.items()}
    lamps = {name: load for name, (_, load) in case.loads.items() if load.what == "lamp" and load.watts <= MOST_WATTS}
    return {name: across[sides] for name, sides in ends.items()
            if name in lamps and len(sides) == 2 and sides in across}


RULE = Rule("across_a_switch", "indicator across the contacts of a switch", check)
