"""What a meter reads a terminal through where no conductor and no closed contact joins it to a rail."""

from __future__ import annotations

from sheetgen.circuit.circuit import Circuit
from sheetgen.circuit.graph import Graph
from sheetgen.model.accessory import Terminal
from sheetgen.model.solution import Group, Row

LOAD = "load"  # where loads of several kinds lie beside one another


def via(circuit: Circuit, terminal: Terminal, group: Group | None = None, row: Row | None = None) -> str:
    """The kind of the loads that a terminal is joined to in a setting: 'lamp', 'fan', 'electronics'; else 'load'.

    Without a setting, in the first of the group that the terminal belongs to.
    """
    if group is None or row is None:
        group, _ = circuit.group_of.get(terminal, (None, 0))
        row = group.rows[0] if group else None
    graph = circuit.graph(group, row) if group and row else Graph(circuit.conductors.conductors)
    joined = graph.reached([terminal])
    kinds = {circuit.loads[name][1].what for name, ends in circuit.contacts.items()
             if (ends[0] in joined) != (ends[1] in joined)}
    return kinds.pop() if len(kinds) == 1 else LOAD
