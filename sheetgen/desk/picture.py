"""The picture of every accessory: its terminals as on the real thing, and the cores on each."""

from __future__ import annotations

from collections.abc import Mapping

from sheetgen.desk.moment import Plate, PlateTerminal, ShownCore
from sheetgen.model.accessory import Accessory, Level
from sheetgen.model.reading import Role
from sheetgen.model.wiring import Core, Wiring

Landed = dict[tuple[str, str | None, bool], list[ShownCore]]  # accessory, terminal, whether it is not known


def plates_of(wiring: Wiring, roles: Mapping[str, Role], written: frozenset[str]) -> tuple[Plate, ...]:
    """A picture of every accessory, the ways of the board first."""
    landed: Landed = {}
    for core in wiring.cores():
        for i, end in enumerate(core.ends):
            landed.setdefault((end.accessory, end.terminal, end.unknown), []).append(_landing(core, i, roles))
    return tuple(_plate(accessory, landed, written) for accessory in wiring.accessories)


def _landing(core: Core, end: int, roles: Mapping[str, Role]) -> ShownCore:
    return ShownCore(core.cable, core.label, core.colour, str(roles.get(core.key, "")), end)


def _plate(accessory: Accessory, landed: Landed, written: frozenset[str]) -> Plate:
    kind = accessory.kind
    terminals = {
        t.name: PlateTerminal(accessory.label(t.name), str(t.meant), t.connector,
                              tuple(landed.get((accessory.name, t.name, False), ())))
        for t in kind.terminals if not t.inner
    }
    rows = tuple(row for names in kind.face if (row := tuple(terminals[n] for n in names if n in terminals)))
    shown = {terminal.name for row in rows for terminal in row}
    rest = tuple((terminal,) for terminal in terminals.values() if terminal.name not in shown)
    return Plate(
        accessory.name, kind.name, (*rows, *rest), accessory.room, way=kind.level is Level.BOARD,
        laid=accessory.name not in written and kind.level is not Level.BOARD, unseen=not accessory.seen,
        holds=accessory.holds,
        loose=tuple(landed.get((accessory.name, None, False), ())),
        unknown=tuple(landed.get((accessory.name, None, True), ())),
    )
