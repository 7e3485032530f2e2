"""Sensors and relays that can never trigger, what stays dark for it, and motors whose electronics have no supply."""

from __future__ import annotations

from collections.abc import Mapping

from sheetgen.circuit.circuit import Circuit
from sheetgen.model.accessory import Accessory
from sheetgen.model.solution import LIT, Group, Lamp, LampState, Row

UNSUPPLIED = (LampState.OFF, LampState.OFF_BUT_LIVE, LampState.TRACE)


def never_triggers(circuit: Circuit) -> tuple[str, ...]:
    """The switches that electronics work which have no supply in any setting from which they would have to do so."""
    own = {name: accessory for name, (accessory, switch) in circuit.switches.items() if not switch.by_hand}
    found: tuple[str, ...] = ()
    while more := [name for name, accessory in own.items()
                   if name not in found and _without_supply(circuit, accessory, (*found, name))]:
        found += tuple(more)
    return found


def _without_supply(circuit: Circuit, accessory: Accessory, at_rest: tuple[str, ...]) -> bool:
    """Whether the electronics of an accessory lack supply in every setting in which some switches are at rest."""
    electronics = electronics_of(accessory)
    if not electronics:
        return False
    group = circuit.solution.group_of_lamp(electronics)
    i = group.lamps.index(electronics)
    return group.complete and all(row.lamps[i].state in UNSUPPLIED for row in _rows_at_rest(circuit, group, at_rest))


def electronics_of(accessory: Accessory) -> str:
    """The load of an accessory that is its electronics, by its name in the solution; '' where it has none."""
    return next((accessory.load_name(load) for load in accessory.kind.loads if load.what == "electronics"), "")


def _rows_at_rest(circuit: Circuit, group: Group, switches: tuple[str, ...]) -> list[Row]:
    rest = {i: circuit.switches[name][1].positions[0].name
            for i, name in enumerate(group.switches) if name in switches}
    return [row for row in group.rows if all(row.setting[i] == position for i, position in rest.items())]


def kept_dark(circuit: Circuit) -> dict[str, tuple[str, ...]]:
    """The lamps and fans that would be on in some setting, but in none that can come -> what never triggers."""
    never, found = never_triggers(circuit), {}
    for group in circuit.solution.groups if never else ():
        idle = tuple(name for name in group.switches if name in never)
        for i, name in enumerate(group.lamps):
            lit = [row for row in group.rows if row.lamps[i].state in LIT]
            comes = any(row.lamps[i].state not in UNSUPPLIED for row in _rows_at_rest(circuit, group, idle))
            if lit and not comes and circuit.loads[name][1].what != "electronics":
                found[name] = idle
    return found


def on_without_electronics(circuit: Circuit, lamps: Mapping[str, Lamp]) -> tuple[str, ...]:
    """The fan motors that have their voltage in a setting in which the electronics that run them have none."""
    found = []
    for name, lamp in lamps.items():
        accessory, load = circuit.loads[name]
        electronics = electronics_of(accessory)
        if load.what == "fan" and lamp.state in LIT and electronics and not _supplied(circuit, electronics, lamps):
            found.append(name)
    return tuple(found)


def _supplied(circuit: Circuit, electronics: str, lamps: Mapping[str, Lamp]) -> bool:
    """Whether electronics have supply in the setting, or may; those of another group: in any."""
    if electronics in lamps:
        return lamps[electronics].state not in UNSUPPLIED
    group = circuit.solution.group_of_lamp(electronics)
    return any(row.lamps[group.lamps.index(electronics)].state not in UNSUPPLIED for row in group.rows)
