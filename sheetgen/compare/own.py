"""What the wanted description says by itself, on the circuit that the steps lead to: job, board, lamps, status."""

from __future__ import annotations

from dataclasses import replace

from sheetgen.compare.matching import counterparts, in_the_words_of
from sheetgen.model.accessory import Accessory
from sheetgen.model.wiring import Board, Wiring


def with_its_own(result: Wiring, before: Wiring, said: Wiring) -> Wiring:
    """The result of the steps as the record of the wanted circuit.

    `before` is what is there, `said` the wanted wiring as described. What that leaves open stays as it was found: the
    devices of the board where it names none, the load of a lamp where it gives none.
    """
    same = counterparts(before, said)
    given = {there: said.accessory(name) for there, name in same.items()}
    return replace(
        result, job=said.job, place=said.place or result.place, drawn_by=said.drawn_by, drawn_on=said.drawn_on,
        notes=said.notes, status=said.status, report=said.report,
        board=_board(result.board, in_the_words_of(before, said).board),
        accessories=tuple(_with_lamps(a, given[a.name]) if a.name in given else a for a in result.accessories),
    )


def _board(there: Board, wanted: Board) -> Board:
    """The wanted board, with the ways that only what is there has."""
    if not any(way.device or way.rcd is not None or way.no_rcd for way in wanted.ways):
        return there
    own = {way.accessory: way for way in wanted.ways}
    added = tuple(way for way in wanted.ways if way.accessory not in {w.accessory for w in there.ways})
    return replace(wanted, ways=tuple(own.get(way.accessory, way) for way in there.ways) + added)


def _with_lamps(there: Accessory, wanted: Accessory) -> Accessory:
    given = {(load.a, load.b): load for load in wanted.kind.loads if not load.assumed}
    loads = tuple(
        replace(load, watts=own.watts, assumed=False) if (own := given.get((load.a, load.b))) else load
        for load in there.kind.loads)
    return replace(there, kind=replace(there.kind, loads=loads)) if loads != there.kind.loads else there
