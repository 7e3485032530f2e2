"""Which loads the line of a way feeds, through other loads too."""

from __future__ import annotations

from sheetgen.circuit.circuit import Circuit
from sheetgen.model.accessory import Accessory, LoadKind
from sheetgen.model.solution import LIT, Group, Potential, Row
from sheetgen.model.wiring import Way


def fed_by(circuit: Circuit, way: Way) -> tuple[tuple[Accessory, LoadKind], ...]:
    """In the order of the description: what the way's line reaches in any setting, or carries current to."""
    reached = set()
    for group in circuit.solution.groups:
        for row in group.rows:
            reached |= _carried(circuit, way, group, row)
    return tuple(
        (accessory, load) for name, (accessory, load) in circuit.loads.items()
        if name in reached or circuit.line_from(way, accessory.terminal(load.a), accessory.terminal(load.b))
    )


def without_line(circuit: Circuit, name: str, way: Way) -> bool:
    """A load returns to a way's neutral by conductors and closed contacts alone, and no line reaches it, not even
    through another load: where that is known."""
    contacts = circuit.contacts[name]
    conditions = [c for t in contacts for c in circuit.solution.conditions(t)]
    if any(c.live for c in conditions):
        return False
    return any(c.solid and c.potential is Potential.NEUTRAL and way.accessory in c.ways for c in conditions)


def _carried(circuit: Circuit, way: Way, group: Group, row: Row) -> set[str]:
    """Loads that carry current in a setting, from the way's line through one load after another."""
    carrying = {name: circuit.contacts[name] for name, lamp in zip(group.lamps, row.lamps, strict=True)
                if lamp.state in LIT}
    at = circuit.conditions_in(group, row)
    fed = {name for name, ends in carrying.items()
           if any(at[t].potential is Potential.LINE and way.accessory in at[t].ways for t in ends)}
    graph = circuit.graph(group, row)
    more = fed
    while more:
        held = graph.reached(t for name in fed for t in carrying[name] if at[t].potential is Potential.BETWEEN)
        more = {name for name in carrying.keys() - fed if any(t in held for t in carrying[name])}
        fed = fed | more
    return fed
