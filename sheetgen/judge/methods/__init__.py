"""Which wiring method each circuit is, and what is at each accessory: from the solved wiring, never from its words.

The inverse of laying: every circuit that the catalogue lays is recognised as itself.
"""

from __future__ import annotations

from collections.abc import Mapping

from sheetgen.catalogue import methods
from sheetgen.circuit import Circuit, circuit_of
from sheetgen.circuit.triggers import kept_dark
from sheetgen.judge.methods.chains import SwitchRow, rows_of
from sheetgen.judge.methods.joins import join_of
from sheetgen.judge.methods.loops import loop_of, parting_of
from sheetgen.judge.methods.paths import Conductors
from sheetgen.judge.methods.places import places_of
from sheetgen.judge.methods.sentences import evidence_of, of_the_house, sentence_of
from sheetgen.judge.methods.switching_alone import switching_alone
from sheetgen.judge.methods.unusual import exchanges, faulty, not_known
from sheetgen.model.reading import MethodFound, Place, Role
from sheetgen.model.solution import Solution
from sheetgen.model.wiring import Wiring


def recognise(circuit: Circuit) -> tuple[MethodFound, ...]:
    """The method of every set of switches and lamps that depend on one another, in the order of the solution."""
    conductors = _conductors(circuit)
    return tuple(_circuit(row, conductors) for row in rows_of(conductors))


def _conductors(circuit: Circuit) -> Conductors:
    reduced = switching_alone(circuit)
    return Conductors(circuit if reduced is circuit.wiring else circuit_of(reduced), kept_dark(circuit))


def exchanged_at(circuit: Circuit, lamps: tuple[str, ...]) -> frozenset[str]:
    """The accessories at which terminals are exchanged, by the sentence that tells the method of some lamps."""
    conductors = _conductors(circuit)
    rows = [row for row in rows_of(conductors) if set(row.group.lamps) & set(lamps)]
    return frozenset(seat.accessory for row in rows if _told_as_exchanged(row, conductors)
                     for _, seat in exchanges(row, conductors)[1])


def _told_as_exchanged(row: SwitchRow, conductors: Conductors) -> bool:
    return bool(row.group.known and row.chain and None not in row.neutral) and not (
        faulty(row, conductors) or join_of(row).name)


def _circuit(row: SwitchRow, conductors: Conductors) -> MethodFound:
    if not row.group.known:
        return MethodFound(tuple(seat.name for seat in row.seats) or row.group.switches, row.group.lamps, row.ways,
                           not_known(row, conductors.circuit), rooms=row.rooms)
    join = join_of(row)
    loop = loop_of(row, conductors)
    known = join.name and loop.name and not any(setting.shorts for setting in row.group.rows)
    return MethodFound(
        switches=tuple(seat.name for seat in row.seats) or row.group.switches,
        lamps=row.group.lamps,
        ways=row.ways,
        method=sentence_of(row, loop, join, conductors),
        evidence=evidence_of(row, loop, join, conductors),
        names=(loop.name, methods.switching_of(len(row.seats)), join.name) if known else (),
        rooms=row.rooms,
        line_in=_accessory_at(row, row.chain.line_at if row.chain else None),
        switched_out=_accessory_at(row, row.chain.switched_at if row.chain else None),
        part_at=parting_of(row),
    )


def _accessory_at(row: SwitchRow, seat: int | None) -> str:
    return row.seats[seat].accessory if seat is not None else ""


def what_is_where(wiring: Wiring, solution: Solution, roles: Mapping[str, Role],
                  ways: Mapping[str, tuple[str, ...]], to_isolate: Mapping[str, tuple[str, ...]],
                  earthed: frozenset[str]) -> tuple[Place, ...]:
    """What is at each accessory: permanent line, switched line, neutral; last on the run; what could be fitted."""
    return places_of(wiring, solution, roles, ways, to_isolate, earthed)


__all__ = ["exchanged_at", "of_the_house", "recognise", "what_is_where"]
