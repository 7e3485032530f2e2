"""What a cpc earths: where one comes from the earth of the board, and the loose ends that would bring it on."""

from __future__ import annotations

from collections.abc import Mapping

from sheetgen.circuit.circuit import Circuit
from sheetgen.model.accessory import Accessory, Meant, Terminal
from sheetgen.model.reading import Role
from sheetgen.model.solution import Potential
from sheetgen.model.wiring import Cable

METAL = ("class I", "metal")
STEEL = ("steel", "metal conduit", "metal trunking", "galvanised")
PLASTIC = ("plastic", "pvc")


def earthed(circuit: Circuit, roles: Mapping[str, Role]) -> frozenset[str]:
    """The accessories in which a cpc ends that conductors alone join to the earth of the board, so in every setting;
    steel conduit to one is its cpc."""
    nets = circuit.solution.nets
    earths = {nets[rail] for rail, kind in circuit.rails.items() if kind == "earth"}
    found = {terminal.accessory for terminal, cores in circuit.landed.items()
             if nets[terminal] in earths and any(roles[core.key] is Role.CPC for core in cores)}
    return frozenset(found.union(*(cable.ends for cable in circuit.wiring.cables if in_steel(cable))))


def in_steel(cable: Cable) -> bool:
    """It runs in conduit or trunking that the description says is of steel, and that serves as cpc."""
    return any(word in cable.run_in.casefold() for word in STEEL)


def in_plastic(cable: Cable) -> bool:
    """It runs in conduit or trunking that the description says is of plastic."""
    return any(word in cable.run_in.casefold() for word in PLASTIC)


def ways_at(circuit: Circuit, accessory: Accessory, *potentials: Potential) -> tuple[str, ...]:
    """The ways that put a terminal of the accessory solidly at one of these."""
    own = (accessory.terminal(kind.name) for kind in accessory.kind.terminals)
    seen = (c for t in own if t in circuit.landed for c in circuit.conditions.get(t, ()))
    return tuple(dict.fromkeys(way for c in seen if c.solid and c.potential in potentials for way in c.ways))


def of_metal(accessory: Accessory) -> bool:
    """It has metal that can be touched and is to be earthed."""
    return bool(accessory.kind.flags.intersection(METAL))


def earth_terminal(accessory: Accessory) -> Terminal | None:
    """The earth terminal of an accessory that is not a way of the board."""
    if accessory.kind.rails:
        return None
    names = (t.name for t in accessory.kind.terminals if t.meant is Meant.EARTH)
    return next((accessory.terminal(name) for name in names), None)
