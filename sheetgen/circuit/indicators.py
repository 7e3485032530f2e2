"""Indicators: the neon that shows where a switch is, or that what it feeds is off."""

from __future__ import annotations

from fractions import Fraction

from sheetgen.circuit.circuit import Circuit

MOST_WATTS = Fraction(1)  # common practice: a neon takes a fraction of a watt, the smallest lamp some watts


def indicators(circuit: Circuit) -> dict[str, str]:
    """The lamps of at most a watt with a contact on each side of a contact of a switch -> that switch."""
    lamps = {name for name, (_, load) in circuit.loads.items() if load.what == "lamp" and load.watts <= MOST_WATTS}
    if not lamps:
        return {}
    nets = circuit.solution.nets
    across = {
        frozenset((nets[accessory.terminal(a)], nets[accessory.terminal(b)])): name
        for name, (accessory, switch) in circuit.switches.items()
        for position in switch.positions for a, b in position.joins
    }
    ends = {name: frozenset(nets[t] for t in circuit.contacts[name]) for name in circuit.loads if name in lamps}
    return {name: across[sides] for name, sides in ends.items() if len(sides) == 2 and sides in across}
