"""What lies behind the fuse of a fused connection unit, and so is protected by it and not by the way's device alone."""

from __future__ import annotations

from fractions import Fraction

from sheetgen.circuit.circuit import Circuit
from sheetgen.circuit.graph import Graph, Step
from sheetgen.model.accessory import Terminal


def fuses_before(circuit: Circuit) -> dict[Terminal, Fraction]:
    """Each terminal that line reaches only through a fuse of an accessory's own -> the rating of that fuse, ampere.

    Of several in turn the nearest counts. Every switch is taken to be in every position at once.
    """
    fused = {a.name: a.kind.fuse for a in circuit.wiring.accessories if a.kind.fuse is not None}
    if not fused:
        return {}
    contacts = [step for step in _contacts(circuit) if step.start.accessory not in fused]
    open_graph = Graph(circuit.conductors.conductors, tuple(contacts))
    lines = [t for t, kind in circuit.rails.items() if kind == "line"]
    before = open_graph.reached(lines)
    found: dict[Terminal, Fraction] = {}
    for name, fuse in fused.items():
        kind = circuit.accessories[name].kind
        for a, b in {pair for s in kind.switches for p in s.positions for pair in p.joins}:
            ends = circuit.accessories[name].terminal(a), circuit.accessories[name].terminal(b)
            for here, there in (ends, ends[::-1]):
                if here in before and there not in before:
                    found.update(dict.fromkeys(open_graph.reached([there]), fuse))
    return found


def _contacts(circuit: Circuit) -> list[Step]:
    return [Step("contact", name, accessory.terminal(a), accessory.terminal(b))
            for name, (accessory, switch) in circuit.switches.items()
            for pair in dict.fromkeys(pair for p in switch.positions for pair in p.joins)
            for a, b in (pair,)]


