"""Which switches work which loads: those of which some operation, the others as they stand, changes it."""

from __future__ import annotations

from sheetgen.circuit import Circuit
from sheetgen.model.solution import LIT, Group


def worked_by(circuit: Circuit) -> dict[str, frozenset[str]]:
    """Every load -> the switches of which some operation changes whether current flows through it.

    What a short puts out does not count.
    """
    found: dict[str, frozenset[str]] = {}
    for group in circuit.solution.groups:
        found.update(worked_in(group))
    return found


def worked_in(group: Group) -> dict[str, frozenset[str]]:
    """The same of the loads of one group."""
    lit = {row.setting: tuple(lamp.state in LIT for lamp in row.lamps) for row in group.rows if not row.shorts}
    found: dict[str, set[str]] = {name: set() for name in group.lamps}
    for setting, here in lit.items():
        for place, switch in enumerate(group.switches):
            for position in group.positions[place]:
                there = lit.get((*setting[:place], position, *setting[place + 1:]), here)
                for name, a, b in zip(group.lamps, here, there, strict=True):
                    if a != b:
                        found[name].add(switch)
    return {name: frozenset(switches) for name, switches in found.items()}
