"""Which loads the line of a way feeds, through other loads too."""

from __future__ import annotations

from sheetgen.model.accessory import Accessory, LoadKind
from sheetgen.model.solution import LIT, Group, Potential, Row
from sheetgen.model.wiring import Way
from sheetgen.pages.lookup import Lookup


def fed_by(look: Lookup, way: Way) -> tuple[tuple[Accessory, LoadKind], ...]:
    """In the order of the description: what the way's line reaches in any setting, or carries current to."""
    reached = set()
    for group in look.job.solution.groups:
        for row in group.rows:
            reached |= _carried(look, way, group, row)
    return tuple(
        (accessory, load) for name, accessory, load in look.wiring.loads()
        if name in reached or look.line_from(way, accessory.terminal(load.a), accessory.terminal(load.b))
    )


def _carried(look: Lookup, way: Way, group: Group, row: Row) -> set[str]:
    """Loads that carry current in a setting, from the way's line through one load after another."""
    carrying = {name: look.contacts[name] for name, lamp in zip(group.lamps, row.lamps, strict=True)
                if lamp.state in LIT}
    at = look.circuit.conditions_in(group, row)
    fed = {name for name, ends in carrying.items()
           if any(at[t].potential is Potential.LINE and way.accessory in at[t].ways for t in ends)}
    graph = look.circuit.graph(group, row)
    more = fed
    while more:
        held = graph.reached(t for name in fed for t in carrying[name] if at[t].potential is Potential.BETWEEN)
        more = {name for name in carrying.keys() - fed if any(t in held for t in carrying[name])}
        fed = fed | more
    return fed
