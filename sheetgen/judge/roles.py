"""What every core does: by the current it carries first, then by the rail it is joined to; and which ways reach it."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from sheetgen.circuit import Circuit
from sheetgen.circuit.current import carrying
from sheetgen.circuit.graph import Graph, Step, WaysTo
from sheetgen.model.accessory import Meant, Terminal
from sheetgen.model.reading import Role
from sheetgen.model.solution import Condition, Group, Meeting, Potential, Row
from sheetgen.model.style import ColourSet
from sheetgen.model.wiring import Core

MOST_BESIDE = 16  # settings of a group in which current may divide that are looked at


@dataclass(frozen=True)
class Net:
    """What conductors alone join: its conditions over all settings without a short, and what is connected to it."""

    conditions: tuple[Condition, ...]
    changeovers: tuple[str, ...] = ()  # switches that are made in more than one position: two-way, intermediate
    feeds_lamp: bool = False  # a load's contact or a terminal meant for the switched line is on it
    signal: bool = False  # a terminal that tells electronics what to do is on it
    landed: int = 0  # terminals on it that conductors end on, loose connectors left out


def nets_of(circuit: Circuit) -> dict[Terminal, Net]:
    """Every net by its representative."""
    changeovers: dict[Terminal, list[str]] = {}
    landed: dict[Terminal, int] = {}
    nets = circuit.solution.nets
    feeding = {nets[contact] for contacts in circuit.contacts.values() for contact in contacts}
    signals: set[Terminal] = set()
    for name, (accessory, switch) in circuit.switches.items():
        if sum(bool(p.joins) for p in switch.positions) > 1:
            for terminal in dict.fromkeys(t for p in switch.positions for pair in p.joins for t in pair):
                changeovers.setdefault(nets[accessory.terminal(terminal)], []).append(name)
    for accessory in circuit.wiring.accessories:
        for kind in accessory.kind.terminals:
            net = nets[accessory.terminal(kind.name)]
            if kind.meant is Meant.SWITCHED:
                feeding.add(net)
            elif kind.meant is Meant.SIGNAL:
                signals.add(net)
            if accessory.terminal(kind.name) in circuit.landed and not kind.connector:
                landed[net] = landed.get(net, 0) + 1
    conditions = _conditions(circuit)
    return {
        net: Net(conditions[net], tuple(dict.fromkeys(changeovers.get(net, ()))), net in feeding, net in signals,
                 landed.get(net, 0))
        for net in dict.fromkeys(nets.values())
    }


def _conditions(circuit: Circuit) -> dict[Terminal, tuple[Condition, ...]]:
    """The distinct conditions of each net, over the settings that say something of its role.

    Those without a short, and with every isolator closed: what lies behind an open one does nothing.
    """
    solution = circuit.solution
    found: dict[Terminal, tuple[Condition, ...]] = {
        net: (solution.constant[net],) for net in solution.nets.values() if net in solution.constant
    }
    for group in solution.groups:
        sound = serving_rows(circuit, group)
        for i, terminal in enumerate(group.terminals):
            if solution.nets[terminal] == terminal:
                found[terminal] = tuple(dict.fromkeys(row.conditions[i] for row in sound))
    return found


def serving_rows(circuit: Circuit, group: Group) -> Sequence[Row]:
    """The rows of a group with its isolators closed and no short; all of them where each has one."""
    closed = _closed_isolators(circuit)
    given = [(i, closed[s]) for i, s in enumerate(group.switches) if s in closed]
    serving = [row for row in group.rows if all(row.setting[i] == position for i, position in given)]
    return tuple(row for row in serving if not row.shorts) or group.rows


def _closed_isolators(circuit: Circuit) -> dict[str, str]:
    """Switches that part several poles at once -> their closed position."""
    found = {}
    for name, (_, switch) in circuit.switches.items():
        closed = [p for p in switch.positions if p.joins]
        if len(closed) == 1 and len(closed[0].joins) > 1:
            found[name] = closed[0].name
    return found


def net_of_core(core: Core, circuit: Circuit) -> Terminal | None:
    """The net a core is part of, or None where neither of its ends is known to be on a terminal."""
    node = core.ends[0].node or core.ends[1].node
    return circuit.solution.nets[node] if node else None


def roles_of(circuit: Circuit, nets: Mapping[Terminal, Net], sets: Mapping[str, ColourSet]) -> dict[str, Role]:
    """Core.key -> role."""
    to_earth, to_neutral = beside_earth(circuit)
    roles = {core.key: _role(circuit, core, nets, sets[circuit.cables[core.cable].colours])
             for core in circuit.wiring.cores()}
    roles.update((key, Role.NEUTRAL) for key in to_neutral if roles[key] is Role.CPC)
    return {**roles, **dict.fromkeys(to_earth, Role.EARTH_RETURN)}


def _role(circuit: Circuit, core: Core, nets: Mapping[Terminal, Net], own: ColourSet) -> Role:
    net = net_of_core(core, circuit)
    if net is None:
        return Role.NOT_KNOWN if any(end.unknown for end in core.ends) else Role.UNUSED
    if net in circuit.muddled:
        return _on_joined_rails(circuit, core, own)
    role = role_of(nets[net])
    cut_cpc = role in (Role.UNUSED, Role.CUT_OFF) and core.cpc  # a piece of cpc cut off from the earth
    return Role.CPC if cut_cpc else role


def _on_joined_rails(circuit: Circuit, core: Core, own: ColourSet) -> Role:
    """Where conductors alone join rails of two kinds: the rail it leads to, where one is a neutral and one an earth.

    Where a line is joined in, the potential tells nothing, and what the core is marked as counts.
    """
    if core.cpc:
        return Role.CPC
    kinds = {circuit.rails[t] for t in circuit.conductors.reached([e.node for e in core.ends if e.node][:1])
             if t in circuit.rails}
    if "line" in kinds:
        marked = [end.sleeve for end in core.ends if end.sleeve] or [core.colour]
        return Role.NEUTRAL if marked[0] == own.neutral else Role.PERMANENT_LINE
    return Role.NEUTRAL if _nearer_the_neutral(circuit, core) else Role.CPC


def _nearer_the_neutral(circuit: Circuit, core: Core) -> bool:
    """Fewer conductors lead from the core to a neutral of the board than to an earth."""
    start = next(end.node for end in core.ends if end.node)
    for terminal in circuit.conductors.reached([start]):
        if terminal in circuit.rails:
            return circuit.rails[terminal] == "neutral"
    return False


def beside_earth(circuit: Circuit) -> tuple[set[str], set[str]]:
    """Core.key of every core that carries the current of some load to earth, and of those that carry it to a neutral.

    Asked only of loads that return to earth in some setting, alone or beside a neutral that is joined to it.
    """
    to_earth: set[str] = set()
    to_neutral: set[str] = set()
    rails = {kind: [t for t, k in circuit.rails.items() if k == kind] for kind in ("neutral", "earth")}
    bare = {kind: circuit.conductors.without(barred) for kind, barred in rails.items()}
    kinds = (("earth", "neutral"), ("neutral", "earth"))  # where to, and where not through
    for returns in _returns_of(circuit):
        ends = {start for starts, _ in returns for start in starts}
        ends |= {end for _, contacts in returns for step in contacts for end in (step.start, step.end)}
        near = {barred: bare[barred].between({*ends, *rails[goals]}).conductors for goals, barred in kinds}
        for starts, contacts in returns:
            ways = [WaysTo(Graph(near[barred], _not_on(contacts, rails[barred])), rails[goals])
                    for goals, barred in kinds]
            for start in starts:
                away, homeward = ({s.name for s in way.steps_from(start) if s.kind == "core"} for way in ways)
                to_neutral |= homeward
                to_earth |= away - homeward
    return to_earth, to_neutral


Returns = list[tuple[set[Terminal], tuple[Step, ...]]]


def _returns_of(circuit: Circuit) -> Iterator[Returns]:
    """Of each group that has any: the contacts from which current returns to earth, and the switches' that are closed
    then, each such set once."""
    asked: set[tuple[Terminal, frozenset[tuple[Terminal, Terminal]]]] = set()
    fixed = _joins_earth(circuit, circuit.solution.meetings)
    second_ways = list(_second_ways(circuit))
    for group in circuit.solution.groups:
        found: Returns = []
        others = [_NO_SECOND_WAY, *(second for second in second_ways if second.switches != group.switches)]
        for row in group.rows:
            joined = fixed or _joins_earth(circuit, row.meetings)
            loads = _to_rails(circuit, group, row)
            made = circuit.made_contacts(group, row) if loads else ()
            for second in others if loads else ():
                contacts = (*made, *second.contacts)
                closed = frozenset((s.start, s.end) for s in contacts)
                returning = loads[Potential.EARTH] + loads[Potential.NEUTRAL] * (joined or second.joins_earth)
                starts = {load.end for load in returning if (load.end, closed) not in asked}
                if starts:
                    asked.update((start, closed) for start in starts)
                    found.append((starts, contacts))
        if found:
            yield found


def _not_on(contacts: Iterable[Step], barred: Collection[Terminal]) -> tuple[Step, ...]:
    return tuple(s for s in contacts if s.start not in barred and s.end not in barred)


def _joins_earth(circuit: Circuit, meetings: Iterable[Meeting]) -> bool:
    return any("earth" in m.kinds for m in meetings)


class _SecondWay(NamedTuple):
    """Contacts of a group beside which current may divide on its way to a rail."""

    switches: tuple[str, ...]
    contacts: tuple[Step, ...]
    joins_earth: bool  # a neutral to it


_NO_SECOND_WAY = _SecondWay((), (), False)


def _second_ways(circuit: Circuit) -> Iterator[_SecondWay]:
    """The settings of each group, told apart by their contacts, that join a neutral to earth or close a ring."""
    for group in circuit.solution.groups:
        found: dict[frozenset[Step], None] = {}
        for row in group.rows:
            made = circuit.made_contacts(group, row)
            joins = _joins_earth(circuit, row.meetings)
            if (joins or _ring(circuit, made)) and frozenset(made) not in found and len(found) < MOST_BESIDE:
                found[frozenset(made)] = None
                yield _SecondWay(group.switches, made, joins or _in_muddle(circuit, made))


def _ring(circuit: Circuit, contacts: Iterable[Step]) -> bool:
    """Contacts lead from a net back to itself, so that current has two ways there."""
    stands_for: dict[Terminal, Terminal] = {}

    def found(net: Terminal) -> Terminal:
        while net in stands_for:
            net = stands_for[net]
        return net

    for contact in contacts:
        a, b = (found(circuit.solution.nets[t]) for t in (contact.start, contact.end))
        if a == b:
            return True
        stands_for[a] = b
    return False


def _in_muddle(circuit: Circuit, contacts: Iterable[Step]) -> bool:
    """A contact lies on a net where conductors join rails already."""
    return any(circuit.solution.nets[contact.start] in circuit.muddled for contact in contacts)


def _to_rails(circuit: Circuit, group: Group, row: Row) -> dict[Potential, list[Step]]:
    """The loads whose current returns at an earth in a setting, and those whose returns at a neutral; {} where none."""
    if row.shorts or circuit.solution.shorts:
        return {}
    found: dict[Potential, list[Step]] = {Potential.EARTH: [], Potential.NEUTRAL: []}
    for load in carrying(circuit, group, row):
        at = circuit.condition(group, row, load.end)
        if at.solid and at.potential in found:
            found[at.potential].append(load)
    return found


def role_of(net: Net) -> Role:
    """The role of every core of a net that carries no current to earth."""
    solid = [c.potential if c.solid else None for c in net.conditions]
    if all(p is Potential.LINE for p in solid):
        return Role.PERMANENT_LINE
    if all(p is Potential.NEUTRAL for p in solid):
        return Role.NEUTRAL
    if all(p is Potential.EARTH for p in solid):
        return Role.CPC
    if any(c.potential is Potential.NOT_KNOWN for c in net.conditions):
        return Role.NOT_KNOWN
    if Potential.LINE in solid:
        return Role.STRAPPER if len(net.changeovers) > 1 and not net.feeds_lamp else Role.SWITCHED_LINE
    if Potential.NEUTRAL in solid:
        return Role.SWITCHED_NEUTRAL
    return _without_supply(net)


def _without_supply(net: Net) -> Role:
    """No rail reaches the net but through loads, if at all."""
    if any(c.potential is Potential.BETWEEN for c in net.conditions):
        return Role.BETWEEN_LAMPS
    if net.signal:
        return Role.SIGNAL
    floats = all(c.potential is Potential.FLOATING for c in net.conditions)
    return Role.UNUSED if floats and net.landed < 2 else Role.CUT_OFF


def ways_of(circuit: Circuit, nets: Mapping[Terminal, Net]) -> dict[str, tuple[str, ...]]:
    """Core.key -> the ways whose rails reach it; those beyond a load only where no other does."""
    found = {}
    for core in circuit.wiring.cores():
        net = net_of_core(core, circuit)
        conditions = nets[net].conditions if net is not None else ()
        found[core.key] = _ways(c for c in conditions if c.solid) or _ways(conditions)
    return found


def _ways(conditions: Iterable[Condition]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(way for condition in conditions for way in condition.ways))
