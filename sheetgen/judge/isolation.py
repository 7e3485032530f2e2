"""What to isolate before an accessory is opened: every way that comes to it, and every way joined to one of them.

A way is joined to another where a load takes its line from the one and returns to the other, or where their lines or
neutrals meet: then a conductor of the one can become live through the other.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sheetgen.catalogue.devices import device_type
from sheetgen.circuit.circuit import Circuit
from sheetgen.model.reading import Isolation
from sheetgen.model.solution import LIT, Meeting, Potential, Short
from sheetgen.model.wiring import Told

# BS 7671 132.14.1 with 537.2.1.1: on a TT supply the neutral is to be broken too (a certification body's answer).
BOTH_POLES = "Switch off the main switch and lock it off: on a TT supply breaking the line alone does not isolate."
IF_TT = ("If the supply is TT, first switch off the main switch and lock it off: breaking the line alone does not "
         "isolate.")
UNLESS_BOTH = "On a TT supply switch off the main switch and lock it off first, unless that breaks line and neutral."


def isolation_of(circuit: Circuit, ways: Mapping[str, tuple[str, ...]]) -> Isolation:
    """`ways`: Core.key -> the ways whose rails reach it."""
    bound = _bound(circuit)
    order = {way.accessory: i for i, way in enumerate(circuit.wiring.board.ways)}
    reach: dict[str, set[str]] = {a.name: set() for a in circuit.wiring.accessories}
    for core in circuit.wiring.cores():
        if not core.cpc:
            for end in core.ends:
                reach[end.accessory].update(ways.get(core.key, ()))
    at = {name: tuple(sorted(_closed(found, bound), key=lambda w: order.get(w, len(order))))
          for name, found in reach.items() if found and name not in circuit.board}
    board = circuit.wiring.board
    fuses = tuple(w.accessory for w in board.ways if w.device and _is_fuse(w.device.type))
    none = tuple(w.accessory for w in board.ways if w.device_told is Told.NONE)
    not_known = tuple(w.accessory for w in board.ways if w.device is None and w.accessory not in none)
    return Isolation(at, {way: tuple(sorted(_closed({way}, bound), key=lambda w: order.get(w, len(order))))
                          for way in order}, fuses, not_known, none, BOTH_POLES if board.earthing == "TT" else "")


def _is_fuse(kind: str) -> bool:
    found = device_type(kind)
    return found is not None and found.fuse


def _bound(circuit: Circuit) -> list[set[str]]:
    """Sets of ways that are joined to one another."""
    pairs = [*_by_loads(circuit), *({m.rails[0].accessory, m.rails[1].accessory} for m in _meetings(circuit))]
    found: list[set[str]] = []
    for pair in pairs:
        apart = [s for s in found if not s & pair]
        found = [*apart, pair.union(*(s for s in found if s & pair))]
    return found


def _meetings(circuit: Circuit) -> Iterator[Meeting | Short]:
    yield from circuit.solution.meetings
    yield from circuit.solution.shorts
    for group in circuit.solution.groups:
        for row in group.rows:
            yield from row.meetings
            yield from row.shorts


def _by_loads(circuit: Circuit) -> Iterator[set[str]]:
    """The ways of the line and of the neutral of each load that is on between two."""
    for group, row, name, lamp in circuit.lamps():
        if lamp.state in LIT:
            at = [circuit.condition(group, row, t) for t in circuit.contacts[name]]
            sides = [{w for c in at if c.potential is p for w in c.ways} for p in (Potential.LINE, Potential.NEUTRAL)]
            if all(sides) and not sides[0] & sides[1]:
                yield sides[0] | sides[1]


def _closed(ways: set[str], bound: list[set[str]]) -> set[str]:
    return ways.union(*(s for s in bound if s & ways))
