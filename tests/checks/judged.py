"""What the check says of a wiring, and the small changes that its tests make."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from circuits import (
    SETS,
    Circuit,
    bridge,
    core_at,
    with_core,
)
from judged_circuit import solution_to_reading

from sheetgen.model.accessory import Terminal
from sheetgen.model.reading import Finding
from sheetgen.model.wiring import Device, Wiring
from sheetgen.solve.wiring_to_solution import wiring_to_solution

F = Fraction


def findings(wiring: Wiring) -> tuple[Finding, ...]:
    return solution_to_reading(wiring, wiring_to_solution(wiring), SETS).findings


def of(rule: str, wiring: Wiring) -> list[Finding]:
    return [f for f in findings(wiring) if f.rule == rule]


def only(rule: str, wiring: Wiring) -> Finding:
    (found,) = of(rule, wiring)
    return found


def one_room(room: Callable, *more, colours: str = "current", **board) -> Wiring:
    c = Circuit(colours, **board)
    room(c, c.way(), "Study", *more)
    return c.wiring()


def plus(wiring: Wiring, a: tuple[str, str], b: tuple[str, str]) -> Wiring:
    return replace(wiring, cables=(*wiring.cables, bridge("X1", Terminal(*a), Terminal(*b), wiring.colours)))


def with_device(wiring: Wiring, kind: str, amps: int) -> Wiring:
    ways = tuple(replace(w, device=Device(kind, F(amps))) for w in wiring.board.ways)
    return replace(wiring, board=replace(wiring.board, ways=ways))


def with_cables(wiring: Wiring, **facts) -> Wiring:
    return replace(wiring, cables=tuple(replace(c, **facts) if not c.flex else c for c in wiring.cables))


def unsleeved(wiring: Wiring, key: str) -> Wiring:
    core = core_at(wiring, key)
    return with_core(wiring, replace(core, ends=tuple(replace(e, sleeve=None) for e in core.ends)))


def sleeved(wiring: Wiring, key: str, colour: str) -> Wiring:
    core = core_at(wiring, key)
    return with_core(wiring, replace(core, ends=tuple(replace(e, sleeve=colour) for e in core.ends)))


def without_cpc(room: Callable, *more) -> Wiring:
    wiring = one_room(room, *more)
    return replace(wiring, cables=tuple(
        replace(c, cores=tuple(k for k in c.cores if not k.cpc)) for c in wiring.cables))


def without_core(wiring: Wiring, key: str) -> Wiring:
    return replace(wiring, cables=tuple(
        replace(c, cores=tuple(k for k in c.cores if k.key != key)) for c in wiring.cables))


def two_ways() -> Circuit:
    c = Circuit()
    c.way("5", serves="Downstairs")
    c.way("6", serves="Upstairs")
    return c
