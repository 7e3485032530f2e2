"""Which loads the line of a way feeds, through other loads too."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from sheetgen.model.accessory import Accessory, LoadKind, Terminal
from sheetgen.model.solution import Group, LampState, Potential, Row
from sheetgen.model.wiring import Way
from sheetgen.pages.lookup import Lookup

CARRYING = (LampState.ON, LampState.DIM)


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
                if lamp.state in CARRYING}
    at = dict(zip(group.terminals, row.conditions, strict=True)) | dict(look.job.solution.constant)
    fed = {name for name, ends in carrying.items()
           if any(at[t].potential is Potential.LINE and way.accessory in at[t].ways for t in ends)}
    knot = _knots(look, group, row)
    more = fed
    while more:
        held = {knot(t) for name in fed for t in carrying[name] if at[t].potential is Potential.BETWEEN}
        more = {name for name in carrying.keys() - fed if held & set(map(knot, carrying[name]))}
        fed = fed | more
    return fed


def _knots(look: Lookup, group: Group, row: Row) -> Callable[[Terminal], Terminal]:
    """Terminal -> one of those that conductors and closed contacts join it to."""
    nets = look.job.solution.nets
    heads: dict[Terminal, Terminal] = {}

    def knot(terminal: Terminal) -> Terminal:
        net = nets[terminal]
        while net in heads:
            net = heads[net]
        return net

    for a, b in _closed(look, group, row):
        if knot(a) != knot(b):
            heads[knot(a)] = knot(b)
    return knot


def _closed(look: Lookup, group: Group, row: Row) -> Iterator[tuple[Terminal, Terminal]]:
    """The pairs of terminals that contacts join in a setting."""
    positions = dict(zip(group.switches, row.setting, strict=True))
    for name, accessory, switch in look.wiring.switches():
        for position in switch.positions:
            if positions.get(name) == position.name:
                yield from ((accessory.terminal(a), accessory.terminal(b)) for a, b in position.joins)
