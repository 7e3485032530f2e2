"""Permanent line and switched line exchanged at a fitting that has a terminal for each."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.circuit import Circuit, circuit_of
from sheetgen.circuit.edits import landed
from sheetgen.circuit.triggers import electronics_of
from sheetgen.judge.case import Case
from sheetgen.judge.roles import serving_rows
from sheetgen.judge.rules.rule import Rule
from sheetgen.judge.supply import cannot_trigger, without_supply
from sheetgen.model.accessory import Accessory, Meant, Terminal
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import LIT, Group, Potential
from sheetgen.model.wiring import Wiring

MOST_SETTINGS = 128  # of a group: beyond, no exchange is tried


def check(case: Case) -> Iterator[Finding]:
    """One finding for each accessory that takes its lines by hand, not through a switch of its own."""
    for accessory in case.wiring.accessories:
        if accessory.name in case.board or any(s.by_hand for s in accessory.kind.switches):
            continue
        lines = _meant(case, accessory, (Meant.LINE, Meant.LOOP))
        switched = _meant(case, accessory, (Meant.SWITCHED,))
        there = next((t for t in switched if always(case, t)), None)
        sometimes = next((t for t in lines if case.at(t, Potential.LINE) and not always(case, t)), None)
        if there is not None and sometimes is not None:
            yield _finding(case, accessory, there, sometimes, f"The permanent line is on {case.terminal(there)} and "
                           f"the switched line on {case.terminal(sometimes)}.")
        elif (tried := _better_exchanged(case, accessory, lines, switched)) is not None:
            yield _finding(case, accessory, *tried, f"The supply of {accessory.name} comes to "
                           f"{case.terminal(tried[0])}, not to {case.terminal(tried[1])}.")


def _finding(case: Case, accessory: Accessory, there: Terminal, sometimes: Terminal, says: str) -> Finding:
    cores = [(core, t) for t in (there, sometimes) for core in case.landed[t]]
    which = (" and ".join(f"{core} on {case.terminal(t)}" for core, t in cores) if len(cores) == len((there, sometimes))
             else f"the conductors on {case.terminals([there, sometimes])}")
    return Finding(
        "lines_exchanged", Gravity.PUT_RIGHT, says=says,
        means=cannot_trigger(case, accessory) or "Line and switched line are exchanged: what should have supply all "
        "the time has it only while the switch is on.",
        advice=f"Exchange {which}.", accessory=accessory.name, terminal=there.name,
        lamps=tuple(accessory.load_name(load) for load in accessory.kind.loads),
    )


def _meant(case: Case, accessory: Accessory, meant: tuple[Meant, ...]) -> list[Terminal]:
    """The terminals meant for that on which a conductor ends."""
    own = [accessory.terminal(kind.name) for kind in accessory.kind.terminals if kind.meant in meant and not kind.inner]
    return [t for t in own if t in case.landed]


def always(case: Case, terminal: Terminal) -> bool:
    """The line is on the terminal in every setting with the isolators closed."""
    seen = case.by_net[case.solution.nets[terminal]].conditions if case.conditions.get(terminal) else ()
    return bool(seen) and all(c.solid and c.potential is Potential.LINE for c in seen)


def _better_exchanged(case: Case, accessory: Accessory, lines: list[Terminal],
                      switched: list[Terminal]) -> tuple[Terminal, Terminal] | None:
    """The switched terminal and the line terminal of electronics that lose their supply, where the exchange of their
    conductors, carried out and solved, gives them more of it and takes none, and no other load is lit otherwise."""
    electronics = electronics_of(accessory)
    if not electronics or len(lines) != 1 or len(switched) != 1:
        return None
    group = case.solution.group_of_lamp(electronics)
    if not group.complete or len(group.rows) > MOST_SETTINGS or not case.at(switched[0], Potential.LINE) or (
            without_supply(case, group, group.lamps.index(electronics)) is None):
        return None
    after = circuit_of(_exchanged(case.wiring, switched[0], lines[0]))
    return (switched[0], lines[0]) if _is_better(case, group, after, accessory, electronics) else None


def _exchanged(wiring: Wiring, one: Terminal, other: Terminal) -> Wiring:
    """The wiring with all that is on either terminal on the other."""
    to = {one: other.name, other: one.name}
    return landed(wiring, {(core.key, i): to[end.node] for core in wiring.cores()
                           for i, end in enumerate(core.ends) if end.node in to})


def _is_better(case: Circuit, group: Group, after: Circuit, accessory: Accessory, electronics: str) -> bool:
    if after.solution.shorts or any(row.shorts or row.meetings for g in after.solution.groups for row in g.rows):
        return False
    own = {accessory.load_name(load) for load in accessory.kind.loads}
    for name in group.lamps:
        now = after.solution.group_of_lamp(name)
        if not now.complete or not {*now.switches} <= {*group.switches}:
            return False
        places = [group.switches.index(s) for s in now.switches]
        lit = {row.setting: row.lamps[now.lamps.index(name)].state in LIT for row in now.rows}
        changed = {(row.lamps[group.lamps.index(name)].state in LIT, lit[tuple(row.setting[i] for i in places)])
                   for row in serving_rows(case, group)}
        if name == electronics and ((True, False) in changed or (False, True) not in changed):
            return False
        if name not in own and changed & {(True, False), (False, True)}:
            return False
    return True


RULE = Rule("lines_exchanged", "permanent and switched line exchanged at a fan, a lamp or a sensor", check)
