"""What a notice has to stand at the board for: conductors of two colour sets, and places without a cpc."""

from __future__ import annotations

from collections.abc import Mapping

from sheetgen.circuit.circuit import Circuit
from sheetgen.judge.rules.no_cpc import in_steel
from sheetgen.model.accessory import Accessory
from sheetgen.model.reading import Role
from sheetgen.model.wiring import Cable, Wiring


def mixed_colours(wiring: Wiring) -> bool:
    """Whether fixed wiring, as it was found, is in the colours of more than one set; flex is left out."""
    return len({cable.colours for cable in wiring.cables if not cable.flex}) > 1 and not wiring.recoloured


def without_cpc(circuit: Circuit, roles: Mapping[str, Role]) -> tuple[str, ...]:
    """The accessories on fixed wiring to which no cpc comes, by name; steel conduit to one is its cpc."""
    elsewhere = (a for a in circuit.wiring.accessories if a.name not in circuit.board)
    return tuple(a.name for a in elsewhere if _lacks(circuit, a, roles) and _known(circuit, a, roles))


def cpc_not_known(circuit: Circuit, roles: Mapping[str, Role]) -> tuple[str, ...]:
    """The accessories to which a cpc may come by a core that nobody has followed, or which nobody has opened."""
    elsewhere = (a for a in circuit.wiring.accessories if a.seen and a.name not in circuit.board)
    return tuple(a.name for a in elsewhere
                 if not _known(circuit, a, roles) and (_lacks(circuit, a, roles) or not _cables(circuit, a)))


def _cables(circuit: Circuit, accessory: Accessory) -> list[Cable]:
    return [c for c in circuit.wiring.cables if accessory.name in c.ends and not c.flex]


def _known(circuit: Circuit, accessory: Accessory, roles: Mapping[str, Role]) -> bool:
    """The accessory was opened, and what each core does that comes to it is known."""
    cores = [core for cable in _cables(circuit, accessory) for core in cable.cores]
    return accessory.seen and accessory.opened and all(roles.get(core.key) is not Role.NOT_KNOWN for core in cores)


def _lacks(circuit: Circuit, accessory: Accessory, roles: Mapping[str, Role]) -> bool:
    cables = _cables(circuit, accessory)
    if not cables or any(map(in_steel, cables)):
        return False
    return not any(roles.get(core.key) is Role.CPC for cable in cables for core in cable.cores)
