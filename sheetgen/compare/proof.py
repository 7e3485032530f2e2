"""The proof of the steps: what they lead to is solved and compared with the wanted circuit, terminal by terminal."""

from __future__ import annotations

from fractions import Fraction

from sheetgen.model.accessory import Terminal
from sheetgen.model.reading import Reading, Standing
from sheetgen.model.solution import Group, LampState, Solution
from sheetgen.model.wiring import Wiring
from sheetgen.model.words import count


def proof_of(result: tuple[Wiring, Solution, Reading], wanted: tuple[Wiring, Solution]) -> tuple[bool, tuple[str, ...]]:
    """Whether the result is the wanted circuit; and what was looked at, in words."""
    wiring, solution, reading = result
    wanted_wiring, wanted_solution = wanted
    checks = (
        (_joined(wiring, solution) == _joined(wanted_wiring, wanted_solution),
         "the same terminals are joined by conductors as in the wanted circuit",
         "the terminals joined by conductors are not those of the wanted circuit"),
        (_states(solution) == _states(wanted_solution),
         f"every lamp does the same in {count(_rows(solution), 'setting')} of the switches",
         "a lamp does something else in a setting of the switches"),
        (all(s.standing is Standing.FITTED for s in reading.sleeves_as_it_is),
         "every sleeve that is needed is there and no other", "a sleeve is missing or too many"),
    )
    return all(good for good, _, _ in checks), tuple(right if good else wrong for good, right, wrong in checks)


def _joined(wiring: Wiring, solution: Solution) -> frozenset[frozenset[Terminal]]:
    """What conductors join, as sets of terminals; terminals that nothing is on are left out."""
    nets: dict[Terminal, set[Terminal]] = {}
    for core in wiring.cores():
        for end in core.ends:
            if end.node:
                nets.setdefault(solution.nets[end.node], set()).add(end.node)
    return frozenset(frozenset(net) for net in nets.values())


Does = frozenset[tuple[frozenset[tuple[str, str]], LampState, Fraction]]  # a setting, and what a lamp does in it


def _states(solution: Solution) -> dict[str, Does]:
    """Of every lamp: the settings of its switches, each with what the lamp does."""
    return {lamp: _lamp(group, i) for group in solution.groups for i, lamp in enumerate(group.lamps)}


def _lamp(group: Group, i: int) -> Does:
    return frozenset(
        (frozenset(zip(group.switches, row.setting, strict=True)), row.lamps[i].state, row.lamps[i].fraction)
        for row in group.rows
    )


def _rows(solution: Solution) -> int:
    return sum(len(group.rows) for group in solution.groups if group.lamps)
