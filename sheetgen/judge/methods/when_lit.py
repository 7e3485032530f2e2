"""What the solution says of the lamps of a row: lit or not, what they lack, by which switches they light."""

from __future__ import annotations

from sheetgen.judge.methods.paths import Conductors
from sheetgen.model.accessory import Terminal
from sheetgen.model.solution import LIT, Group, LampState, Potential
from sheetgen.model.wiring import Wiring
from sheetgen.model.words import joined

Closed = frozenset[str]  # switches that stand closed, the others open


def never_lit(group: Group) -> tuple[str, ...]:
    """The lamps that light in no setting; none where not every setting was solved."""
    if not group.complete:
        return ()
    return tuple(name for i, name in enumerate(group.lamps) if not any(row.lamps[i].state in LIT for row in group.rows))


def stays_dark(group: Group, conductors: Conductors) -> tuple[str, ...]:
    """The same, and those that light in no setting that can come."""
    never = never_lit(group)
    return tuple(name for name in group.lamps if name in never or name in conductors.idle)


def why_dark(group: Group, lamp: str, conductors: Conductors) -> str:
    """What keeps a lamp dark that is never lit: the rail that reaches it never, what never triggers, a short."""
    i = group.lamps.index(lamp)
    if idle := conductors.idle.get(lamp, ()):
        verb = "triggers" if len(idle) == 1 else "trigger"
        return f"{joined(map(conductors.circuit.part, idle))} never {verb}, for want of supply while idle"
    if any(row.lamps[i].state is LampState.SHORT for row in group.rows) or conductors.solution.shorts:
        return "line is joined straight to neutral or earth"
    ends = _contacts(conductors.wiring, lamp)
    line, neutral = (_reaches(ends, conductors, *rails) for rails in (
        (Potential.LINE,), (Potential.NEUTRAL, Potential.EARTH)))
    if line and neutral:
        return "line and neutral never reach it together"
    return "no line reaches it" if neutral else "no neutral reaches it" if line else "no line and no neutral reach it"


def _contacts(wiring: Wiring, lamp: str) -> tuple[Terminal, Terminal]:
    return next((a.terminal(load.a), a.terminal(load.b)) for name, a, load in wiring.loads() if name == lamp)


def _reaches(ends: tuple[Terminal, ...], conductors: Conductors, *rails: Potential) -> bool:
    """Whether a rail reaches one of the contacts in any setting, through conductors and contacts alone."""
    return any(c.potential in rails and c.solid for end in ends for c in conductors.solution.conditions(end))


def in_series(group: Group) -> bool:
    """Lamps that share the voltage in some setting."""
    return any(len(dim) > 1 and sum(dim) == 1 for row in group.rows
               for dim in [[lamp.fraction for lamp in row.lamps if lamp.state is LampState.DIM]])


def closed_at(wiring: Wiring, group: Group) -> dict[str, str] | None:
    """The position in which each switch of the group is closed; None where one does not just open and close."""
    found = {}
    for name, _, switch in wiring.switches():
        if name in group.switches:
            makes = [p.name for p in switch.positions if p.joins]
            if len(switch.positions) != 2 or len(makes) != 1:
                return None
            found[name] = makes[0]
    return found


def lit_with(group: Group, lamp: str, closed: dict[str, str]) -> tuple[Closed, ...] | None:
    """The fewest switches that must be closed, each way; None where closing one can put the lamp out, or never lit."""
    i = group.lamps.index(lamp)
    if any(row.lamps[i].state is LampState.DIM for row in group.rows):
        return None
    lit = {frozenset(s for s, p in zip(group.switches, row.setting, strict=True) if p == closed[s]):
           row.lamps[i].state is LampState.ON for row in group.rows}
    on = [closed_ones for closed_ones, is_lit in lit.items() if is_lit]
    if not group.complete or not on or any(lit[more] is False for more in lit for few in on if few < more):
        return None
    fewest = (few for few in on if not any(other < few for other in on))
    return tuple(sorted(fewest, key=lambda few: [i for i, switch in enumerate(group.switches) if switch in few]))


def alike(group: Group) -> bool | None:
    """Of two switches of two positions: lit when they stand alike (True), when they differ (False), else None."""
    if len(group.switches) != 2 or len(set(group.positions)) != 1 or not group.lamps:
        return None
    for wanted in (True, False):
        if all((lamp.state in LIT) is ((row.setting[0] == row.setting[1]) is wanted)
               for row in group.rows for lamp in row.lamps):
            return wanted
    return None


def said(group: Group, terms: tuple[Closed, ...], closed: dict[str, str], names: dict[str, str]) -> str:
    """'with A and B on, or with PIR triggered'."""
    def term(switches: Closed) -> str:
        by_position: dict[str, list[str]] = {}
        for switch in group.switches:
            if switch in switches:
                by_position.setdefault(closed[switch], []).append(names[switch])
        return joined(f"{joined(some)} {position}" for position, some in by_position.items())

    return "with " + ", or with ".join(term(switches) for switches in terms)
