"""Which switches work which loads: those of which some operation, the others as they stand, changes it."""

from __future__ import annotations

from collections.abc import Collection

from sheetgen.circuit import Circuit
from sheetgen.model.solution import LIT, Group, LampState


def worked_by(circuit: Circuit) -> dict[str, frozenset[str]]:
    """Every load -> the switches of which some operation changes whether current flows through it.

    What a short puts out does not count.
    """
    found: dict[str, frozenset[str]] = {}
    for group in circuit.solution.groups:
        found.update(worked_in(group))
    return found


def fully_worked_by(circuit: Circuit) -> dict[str, frozenset[str]]:
    """The same, of a load that is fully on in some setting only the switches that make it so: what comes through
    another load in series is no work of theirs."""
    found: dict[str, frozenset[str]] = {}
    for group in circuit.solution.groups:
        fully = worked_in(group, (LampState.ON,))
        found.update({name: fully[name] or some for name, some in worked_in(group).items()})
    return found


def worked_in(group: Group, lit_states: Collection[LampState] = LIT) -> dict[str, frozenset[str]]:
    """The same of the loads of one group."""
    lit = {row.setting: tuple(lamp.state in lit_states for lamp in row.lamps) for row in group.rows if not row.shorts}
    found: dict[str, set[str]] = {name: set() for name in group.lamps}
    for row, reached in group.operations:
        here = lit.get(row.setting, ())
        for place, other in reached if here else ():
            there = lit.get(other.setting, here)
            if there != here:
                for name, a, b in zip(group.lamps, here, there, strict=True):
                    if a != b:
                        found[name].add(group.switches[place])
    return {name: frozenset(switches) for name, switches in found.items()}
