"""What a notice has to stand at the board for: conductors of two colour sets, and places without a cpc."""

from __future__ import annotations

from collections.abc import Mapping

from sheetgen.circuit.circuit import Circuit
from sheetgen.judge.earth import earth_terminal, of_metal
from sheetgen.model.accessory import Accessory
from sheetgen.model.reading import Role
from sheetgen.model.wiring import Cable, Wiring


def mixed_colours(wiring: Wiring) -> bool:
    """Whether fixed wiring, as it was found, is in the colours of more than one set; flex is left out."""
    return len({cable.colours for cable in wiring.cables if not cable.flex}) > 1 and not wiring.recoloured


def without_cpc(circuit: Circuit, roles: Mapping[str, Role], earthed: frozenset[str]) -> tuple[str, ...]:
    """The accessories on fixed wiring that no cpc joins to the earth of the board, and those of metal on a flex."""
    elsewhere = (a for a in circuit.wiring.accessories if a.name not in circuit.board)
    return tuple(a.name for a in elsewhere
                 if a.name not in earthed and _asks(circuit, a) and _known(circuit, a, roles))


def cpc_not_known(circuit: Circuit, roles: Mapping[str, Role], earthed: frozenset[str]) -> tuple[str, ...]:
    """The accessories to which a cpc may come by a core that nobody has followed, or which nobody has opened."""
    elsewhere = (a for a in circuit.wiring.accessories if a.seen and a.name not in circuit.board)
    return tuple(a.name for a in elsewhere if not _known(circuit, a, roles) and (
        (a.name not in earthed and _asks(circuit, a)) or not _cables(circuit, a)))


def _cables(circuit: Circuit, accessory: Accessory) -> list[Cable]:
    return [c for c in circuit.wiring.cables if accessory.name in c.ends and not c.flex]


def _known(circuit: Circuit, accessory: Accessory, roles: Mapping[str, Role]) -> bool:
    """The accessory was opened, and where each core of its cables ends in it, and what that core does, is known."""
    cores = [core for cable in _cables(circuit, accessory) for core in cable.cores]
    return accessory.seen and accessory.opened and all(
        roles.get(core.key) is not Role.NOT_KNOWN
        and not any(end.unknown for end in core.ends if end.accessory == accessory.name) for core in cores)


def _asks(circuit: Circuit, accessory: Accessory) -> bool:
    """Fixed wiring comes to it, or a flex to what has metal to be earthed."""
    metal = earth_terminal(accessory) is not None and of_metal(accessory)
    return any(accessory.name in c.ends and (metal or not c.flex) for c in circuit.wiring.cables)
