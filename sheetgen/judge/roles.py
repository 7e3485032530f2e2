"""What every core does, from the solution over all settings; and which ways reach it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from sheetgen.judge.rules.subject import muddled_nets
from sheetgen.model.accessory import Meant, Terminal
from sheetgen.model.reading import Role
from sheetgen.model.solution import Condition, Potential, Solution
from sheetgen.model.style import ColourSet
from sheetgen.model.wiring import Core, Wiring


@dataclass(frozen=True)
class Net:
    """What conductors alone join: its conditions over all settings without a short, and what is connected to it."""

    conditions: tuple[Condition, ...]
    changeovers: tuple[str, ...] = ()  # switches that are made in more than one position: two-way, intermediate
    feeds_lamp: bool = False  # a load's contact or a terminal meant for the switched line is on it


def nets_of(wiring: Wiring, solution: Solution) -> dict[Terminal, Net]:
    """Every net by its representative."""
    changeovers: dict[Terminal, list[str]] = {}
    feeding: set[Terminal] = set()
    for _, accessory, load in wiring.loads():
        feeding.update(solution.nets[accessory.terminal(contact)] for contact in (load.a, load.b))
    for name, accessory, switch in wiring.switches():
        if sum(bool(p.joins) for p in switch.positions) > 1:
            for terminal in dict.fromkeys(t for p in switch.positions for pair in p.joins for t in pair):
                changeovers.setdefault(solution.nets[accessory.terminal(terminal)], []).append(name)
    for accessory in wiring.accessories:
        for terminal in accessory.kind.terminals:
            if terminal.meant is Meant.SWITCHED:
                feeding.add(solution.nets[accessory.terminal(terminal.name)])
    conditions = _conditions(wiring, solution)
    return {
        net: Net(conditions[net], tuple(dict.fromkeys(changeovers.get(net, ()))), net in feeding)
        for net in dict.fromkeys(solution.nets.values())
    }


def _conditions(wiring: Wiring, solution: Solution) -> dict[Terminal, tuple[Condition, ...]]:
    """The distinct conditions of each net, over the settings that say something of its role.

    Those without a short, and with every isolator closed: what lies behind an open one does nothing.
    """
    closed = _closed_isolators(wiring)
    found = {net: (solution.constant[net],) for net in solution.nets.values() if net in solution.constant}
    for group in solution.groups:
        given = [(i, closed[s]) for i, s in enumerate(group.switches) if s in closed]
        serving = [row for row in group.rows if all(row.setting[i] == position for i, position in given)]
        sound = [row for row in serving if not row.shorts] or group.rows
        for i, terminal in enumerate(group.terminals):
            if solution.nets[terminal] == terminal:
                found[terminal] = tuple(dict.fromkeys(row.conditions[i] for row in sound))
    return found


def _closed_isolators(wiring: Wiring) -> dict[str, str]:
    """Switches that part several poles at once -> their closed position."""
    found = {}
    for name, _, switch in wiring.switches():
        closed = [p for p in switch.positions if p.joins]
        if len(closed) == 1 and len(closed[0].joins) > 1:
            found[name] = closed[0].name
    return found


def net_of_core(core: Core, solution: Solution) -> Terminal | None:
    """The net a core is part of, or None where both its ends are in nothing."""
    node = core.ends[0].node or core.ends[1].node
    return solution.nets[node] if node else None


def roles_of(
    wiring: Wiring, solution: Solution, nets: Mapping[Terminal, Net], sets: Mapping[str, ColourSet]
) -> dict[str, Role]:
    """Core.key -> role."""
    muddled = muddled_nets(wiring, solution)
    roles = {}
    for cable in wiring.cables:
        for core in cable.cores:
            net = net_of_core(core, solution)
            role = Role.UNUSED if net is None else role_of(nets[net])
            if role is Role.UNUSED and core.cpc and net is not None:
                role = Role.CPC  # a piece of cpc cut off from the earth
            roles[core.key] = _meant(core, sets[cable.colours]) if net in muddled else role
    return roles


def _meant(core: Core, own: ColourSet) -> Role:
    """What the colour says, where conductors alone join rails of two kinds and the solution can't tell."""
    if core.cpc:
        return Role.CPC
    marked = [end.sleeve for end in core.ends if end.sleeve] or [core.colour]
    return Role.NEUTRAL if marked[0] == own.neutral else Role.PERMANENT_LINE


def role_of(net: Net) -> Role:
    """The role of every core of a net."""
    solid = [c.potential if c.solid else None for c in net.conditions]
    if all(p is Potential.LINE for p in solid):
        return Role.PERMANENT_LINE
    if all(p is Potential.NEUTRAL for p in solid):
        return Role.NEUTRAL
    if all(p is Potential.EARTH for p in solid):
        return Role.CPC
    if Potential.LINE in solid:
        return _switched(net)
    if Potential.NEUTRAL in solid:
        return Role.SWITCHED_NEUTRAL
    return _cut_off(net)


def _switched(net: Net) -> Role:
    return Role.STRAPPER if len(net.changeovers) > 1 and not net.feeds_lamp else Role.SWITCHED_LINE


def _cut_off(net: Net) -> Role:
    """No rail reaches the net but through loads, if at all."""
    if any(c.potential is Potential.BETWEEN for c in net.conditions):
        return Role.BETWEEN_LAMPS
    if any(c.potential is Potential.THROUGH_LOAD for c in net.conditions):
        return Role.NEUTRAL  # the return of a lamp, broken on the way
    if any(c.potential is Potential.NEUTRAL for c in net.conditions):
        return _switched(net)  # the line of a lamp, broken on the way
    return Role.UNUSED


def ways_of(wiring: Wiring, solution: Solution, nets: Mapping[Terminal, Net]) -> dict[str, tuple[str, ...]]:
    """Core.key -> the ways whose rails reach it; those beyond a load only where no other does."""
    found = {}
    for core in wiring.cores():
        net = net_of_core(core, solution)
        conditions = nets[net].conditions if net is not None else ()
        found[core.key] = _ways(c for c in conditions if c.solid) or _ways(conditions)
    return found


def _ways(conditions: Iterable[Condition]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(way for condition in conditions for way in condition.ways))
