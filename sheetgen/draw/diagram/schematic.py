"""From the wiring and one group of its solution to what the circuit diagram joins. No template: mistakes come along.

Conductors that stand for a rail whatever the switches do (the loop from rose to rose) are drawn as the rail itself;
the diagram says at which terminal each conductor leaves it.
"""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import takewhile
from string import ascii_lowercase

from sheetgen.circuit import Circuit
from sheetgen.circuit.names import Names
from sheetgen.circuit.rail_tree import RailTree
from sheetgen.draw.diagram.contraction import contracted
from sheetgen.model.accessory import Accessory, SwitchKind, Terminal
from sheetgen.model.diagram import (
    BETWEEN_LAMPS,
    CUT_OFF,
    NOT_TRACED,
    SWITCHED,
    Connection,
    Pairs,
    Rung,
    Schematic,
    SupplyRail,
    Symbol,
    inner,
    nothing,
)
from sheetgen.model.solution import Group, Potential, Solution
from sheetgen.model.wiring import CoreEnd, Wiring

LEAST_ON_BAR = 3  # symbols on a net without a rail that is drawn as one
LEAST_ON_SWITCHED = 8  # where a switch can join it to one
MOST_RUNGS = 6  # loads in parallel that are drawn one below another


def schematic_of(circuit: Circuit, group: Group, most_rungs: int = MOST_RUNGS) -> Schematic:
    """What the switches and lamps of a group join. More loads in parallel than `most_rungs` are one symbol.

    The work grows with the group and with the way from its terminals to the rails, not with the house, as long as the
    conductors of a rail make no ring.
    """
    nets = circuit.solution.nets
    contacts, loads = _contacts(circuit, group), _loads(circuit, group)
    pins = tuple(dict.fromkeys(pin for symbol in (*contacts, *loads) for pin in symbol.pins))
    symbols = [*contacts, *_in_parallel(loads, contacts, circuit.solution, most_rungs)]
    stands_for = {end: pin for symbol in symbols for rung in symbol.rungs
                  for end, pin in zip(rung.ends, (symbol.a[0], symbol.b[0]), strict=True)}
    rails: list[SupplyRail] = []
    shown: dict[Terminal, None] = dict.fromkeys(pins)
    bars = _bars(circuit, symbols, group.known)
    for net in dict.fromkeys(nets[pin] for symbol in symbols for pin in symbol.pins):
        own, kept = _on_bar(circuit, net, pins, *bars[net]) if net in bars else _on_net(circuit, net, pins)
        rails += own
        shown.update(dict.fromkeys(kept))
    wires, ends = _wires(circuit, shown, rails)
    owner = {tap: rail.terminal for rail in rails for tap in rail.taps}
    joining = [terminal for terminal in shown if terminal not in pins]
    wires = contracted(tuple(_between(wire, stands_for) for wire in wires), joining, owner)
    symbols, leads = _parted(symbols, circuit)
    used = {end for wire in (*wires, *leads) for end in wire.ends}
    own_pins = {pin for symbol in symbols for pin in symbol.pins}
    joints = [_joint(circuit, terminal) for terminal in shown if terminal in used and terminal not in own_pins]
    rails = [rail for rail in rails if used.intersection(rail.taps)]
    return Schematic(group.switches, (*symbols, *joints, *ends), (*wires, *leads), tuple(rails))


def _between(wire: Connection, stands_for: Mapping[Terminal, Terminal]) -> Connection:
    """The connection between the pins that stand for its ends."""
    return replace(wire, ends=(stands_for.get(wire.ends[0], wire.ends[0]), stands_for.get(wire.ends[1], wire.ends[1])))


def _in_parallel(
    loads: list[Symbol], contacts: list[Symbol], solution: Solution, most_rungs: int
) -> list[Symbol]:
    """Loads between the same two nets as one symbol; each on a rung of its own where they are few."""
    taken = {pin for contact in contacts for pin in contact.pins}
    alike: dict[tuple[Terminal, Terminal], list[Symbol]] = {}
    apart: list[Symbol] = []
    for load in loads:
        a, b = solution.nets[load.a[0]], solution.nets[load.b[0]]
        if a == b or taken.intersection(load.pins):
            apart.append(load)
        elif (b, a) in alike:
            turned = replace(load, a=load.b, b=load.a, labels=load.labels[::-1])
            alike[b, a].append(turned)
        else:
            alike.setdefault((a, b), []).append(load)
    shared = {pin for load in apart for pin in load.pins}
    for key, several in alike.items():
        apart += [load for load in several if shared.intersection(load.pins)]
        alike[key] = [load for load in several if not shared.intersection(load.pins)]
    letters = iter(ascii_lowercase) if sum(len(group) > most_rungs for group in alike.values()) > 1 else None
    joined = [_as_one(group, most_rungs, letters) for group in alike.values() if group]
    return sorted((*apart, *joined), key=lambda symbol: [load.load for load in loads].index(symbol.load))


def _as_one(loads: list[Symbol], most_rungs: int, letters: Iterator[str] | None) -> Symbol:
    """One symbol for loads in parallel: a ladder, or one that says how many and which it stands for."""
    first = loads[0]
    if len(loads) == 1:
        return first
    rungs = tuple(
        Rung(load.kind, load.load, load.name, (load.a[0], load.b[0]), (load.labels[0], load.labels[1]))
        for load in loads
    )
    if len(loads) <= most_rungs:
        return replace(first, rungs=rungs)
    letter = f" ({next(letters, '')})" if letters else ""
    named = f"\N{MULTIPLICATION SIGN} {len(loads)}{letter}"
    watts = {load.name.rpartition(", ")[2] for load in loads}
    names = [load.name.rpartition(", ")[0] if len(watts) == 1 else load.name for load in loads]
    note = f"{named}: {', '.join(names)}{f'; {watts.pop()} each' if len(watts) == 1 else ''}"
    return replace(first, name=named, rungs=rungs, note=note)


# symbols


def _contacts(circuit: Circuit, group: Group) -> list[Symbol]:
    found = []
    for name in group.switches:
        poles = [_pole(circuit, name, pins) for pins in _poles(*circuit.switches[name])]
        wired = [pole for pole in poles if any(circuit.conductors.leaving(pin) for pin in pole.pins)]
        found += wired or poles[:1]
    return found


def _poles(accessory: Accessory, switch: SwitchKind) -> list[tuple[Terminal, ...]]:
    """The terminals of a switch in sets that no position joins to one another."""
    pairs = [pair for position in switch.positions for pair in position.joins]
    poles: list[list[str]] = []
    for a, b in pairs:
        touching = [pole for pole in poles if a in pole or b in pole]
        merged = list(dict.fromkeys([t for pole in touching for t in pole] + [a, b]))
        poles = [pole for pole in poles if pole not in touching] + [merged]
    order = [t.name for t in accessory.kind.terminals]
    return [tuple(accessory.terminal(t) for t in sorted(pole, key=order.index)) for pole in poles]


def _pole(names: Names, name: str, pins: tuple[Terminal, ...]) -> Symbol:
    accessory, switch = names.switches[name]
    joins = tuple(
        (position.name, tuple((accessory.terminal(a), accessory.terminal(b)) for a, b in position.joins
                              if accessory.terminal(a) in pins))
        for position in switch.positions
    )
    kind, a, b = _shape_of(pins, joins)
    labels = tuple(map(names.short_label, (*a, *b)))
    return Symbol(kind, names.part(name), a, b, switch=name, joins=joins, labels=labels)


def _shape_of(
    pins: tuple[Terminal, ...], joins: tuple[tuple[str, Pairs], ...]
) -> tuple[str, tuple[Terminal, ...], tuple[Terminal, ...]]:
    """The kind of contact, and its pins on the two sides: from which pairs its positions join."""
    pairs = {frozenset(pair) for _, joined in joins for pair in joined}
    if len(pins) == 2:
        return "make", pins[:1], pins[1:]
    for common in pins:
        if all(common in pair for pair in pairs) and all(len(joined) <= 1 for _, joined in joins):
            return "changeover", (common,), tuple(pin for pin in pins if pin != common)
    for other in pins[1:] if len(pins) == 4 and len(pairs) == 4 else ():
        a = (pins[0], other)
        b = tuple(pin for pin in pins if pin not in a)
        if pairs == {frozenset((x, y)) for x in a for y in b}:
            return "intermediate", a, b
    half = (len(pins) + 1) // 2
    return "contacts", pins[:half], pins[half:]


def _loads(names: Names, group: Group) -> list[Symbol]:
    found = []
    for name in group.lamps:
        accessory, load = names.loads[name]
        a, b = accessory.terminal(load.a), accessory.terminal(load.b)
        said = f"{names.part(name)}, {float(load.watts):g} W"
        found.append(Symbol(load.what, said, (a,), (b,), load=name, labels=(names.label(a), names.label(b))))
    return found


def _parted(symbols: list[Symbol], circuit: Circuit) -> tuple[list[Symbol], list[Connection]]:
    """Where symbols of one accessory share a terminal, each gets a pin of its own, and a lead to it.

    Two that share a point within it, which no hand can reach, have one lead between them.
    """
    uses = Counter(pin for symbol in symbols for pin in (*symbol.a, *symbol.b))
    users = Counter(pin for symbol in symbols for pin in symbol.pins)
    number: Counter[Terminal] = Counter()
    parted, leads = [], []
    for symbol in symbols:
        own: dict[Terminal, Terminal] = {}
        for pin in symbol.pins:
            if uses[pin] > 1:
                number[pin] += 1
                own[pin] = inner(pin, number[pin])
                if users[pin] != 2 or not _within(circuit, pin):
                    leads.append(Connection((), (pin, own[pin]), ""))
                elif number[pin] == 2:
                    leads.append(Connection((), (inner(pin, 1), own[pin]), ""))
        sides = [tuple(own.get(pin, pin) for pin in side) for side in (symbol.a, symbol.b)]
        joins = tuple(
            (position, tuple((own.get(a, a), own.get(b, b)) for a, b in pairs)) for position, pairs in symbol.joins
        )
        parted.append(replace(symbol, a=sides[0], b=sides[1], joins=joins))
    return parted, leads


def _within(circuit: Circuit, pin: Terminal) -> bool:
    """Whether it is a point within an accessory, and nothing is said to be landed on it."""
    kind = circuit.accessories[pin.accessory].kind
    return not circuit.landed.get(pin) and any(t.inner for t in kind.terminals if t.name == pin.name)


def _joint(names: Names, terminal: Terminal) -> Symbol:
    return Symbol("joint", names.terminal(terminal), (terminal,), (terminal,))


# rails and conductors


def _on_net(
    circuit: Circuit, net: Terminal, pins: tuple[Terminal, ...]
) -> tuple[list[SupplyRail], list[Terminal]]:
    """The rails on a net with the terminals that stand for them, and the terminals of the net that are drawn."""
    here = [pin for pin in pins if circuit.solution.nets[pin] == net]
    if tree := circuit.rail_tree(net):
        taps, kept = _on_tree(tree, here)
        return [_rail(circuit, tree.rail, sorted(taps, key=tree.place.__getitem__))], kept
    starts = circuit.rails_on.get(net, ())
    owner = _nearest(circuit, starts, pins)
    rails = [_rail(circuit, start, [t for t, own in owner.items() if own == start]) for start in starts]
    return rails, _kept(circuit, circuit.members[net], pins, rails)


def _rail(circuit: Circuit, start: Terminal, taps: list[Terminal]) -> SupplyRail:
    kind = circuit.rails[start]
    return SupplyRail(start, kind, circuit.wiring.printed(start.accessory), tuple(taps),
                      tuple(map(circuit.terminal, taps)), left=kind == "line")


def _bars(circuit: Circuit, symbols: list[Symbol], known: bool) -> dict[Terminal, tuple[str, bool]]:
    """Nets without a rail, with symbols enough for a bar of their own: its kind, and whether it stands left.

    It does where no line comes in, or else where it is more of a line than of a neutral: with more contacts than loads.
    """
    nets = circuit.solution.nets
    group_of = {nets[pin]: nets[pin] for symbol in symbols for pin in symbol.pins}

    def found(net: Terminal) -> Terminal:
        while group_of[net] != net:
            net = group_of[net]
        return net

    for symbol in symbols:
        if not symbol.load:
            first, *others = {nets[pin] for pin in symbol.pins}
            for other in others:
                group_of[found(other)] = found(first)
    supplied = {found(net) for net in group_of if net in circuit.rails_on}
    on_net: dict[Terminal, list[Symbol]] = {}
    for symbol in symbols:
        for net in {nets[pin] for pin in symbol.pins}:
            on_net.setdefault(net, []).append(symbol)
    sides = {circuit.rails[rail] == "line" for net in on_net for rail in circuit.rails_on.get(net, ())}
    bars = {}
    for net, here in on_net.items():
        switched = found(net) in supplied
        if net not in circuit.rails_on and len(here) >= (LEAST_ON_SWITCHED if switched else LEAST_ON_BAR):
            left = sides == {False} if len(sides) == 1 else 2 * sum(not symbol.load for symbol in here) > len(here)
            bars[net] = SWITCHED if switched else _unsupplied(circuit, net) if known else NOT_TRACED, left
    return bars


def _unsupplied(circuit: Circuit, net: Terminal) -> str:
    """What a net is that no switch can join to a rail: as the roles of its cores have it."""
    seen = circuit.conditions.get(net, ())
    return BETWEEN_LAMPS if any(c.potential is Potential.BETWEEN for c in seen) else CUT_OFF


def _on_bar(
    circuit: Circuit, net: Terminal, pins: tuple[Terminal, ...], kind: str, left: bool
) -> tuple[list[SupplyRail], list[Terminal]]:
    """The bar of a net without a rail, which stands for the most terminals that no pin parts; what else is drawn."""
    parts: dict[Terminal, dict[Terminal, Terminal]] = {}
    met: set[Terminal] = set(pins)
    for start in circuit.members[net]:
        if start not in met:
            parts[start] = _nearest(circuit, (start,), pins)
            met |= parts[start].keys()
    if not parts:
        return [], _kept(circuit, circuit.members[net], pins, [])
    start = max(parts, key=lambda start: len(parts[start]))
    taps = tuple(parts[start])
    bar = SupplyRail(start, kind, "", taps, tuple(map(circuit.terminal, taps)), left)
    return [bar], _kept(circuit, circuit.members[net], pins, [bar])


def _on_tree(tree: RailTree, pins: list[Terminal]) -> tuple[set[Terminal], list[Terminal]]:
    """The rail and the terminals at which a group leaves it, and its pins with all that lies between two of them."""
    taps = {tree.rail}
    kept = dict.fromkeys(pins)
    for pin in pins:
        nearest = tree.above(pin, pins)
        if nearest is None:
            taps.add(next(tree.way_up(pin)))
        else:
            kept.update(dict.fromkeys(takewhile(nearest.__ne__, tree.way_up(pin))))
    return taps, list(kept)


def _nearest(circuit: Circuit, starts: tuple[Terminal, ...], pins: tuple[Terminal, ...]) -> dict[Terminal, Terminal]:
    """The terminals that stand for some rails, each with its rail: nearer to it than to another, no pin between."""
    owner = {start: start for start in starts}
    ahead = deque(starts)
    while ahead:
        here = ahead.popleft()
        for step in circuit.conductors.leaving(here):
            if step.end not in owner and step.end not in pins:
                owner[step.end] = owner[here]
                ahead.append(step.end)
    return owner


def _kept(
    circuit: Circuit, terminals: tuple[Terminal, ...], pins: tuple[Terminal, ...], rails: list[SupplyRail]
) -> list[Terminal]:
    """The terminals of a net that are drawn: all of a switched net; of a rail's net those between pins."""
    on_rail = {tap for rail in rails for tap in rail.taps}
    kept = [terminal for terminal in terminals if terminal not in on_rail]
    if not rails:
        return kept
    while True:
        inside = set(kept) | on_rail
        bare = [t for t in kept if t not in pins
                and len({step.end for step in circuit.conductors.leaving(t)} & inside) < 2]
        if not bare:
            return kept
        kept = [terminal for terminal in kept if terminal not in bare]


def _not_known(wiring: Wiring, end: CoreEnd) -> str:
    """Where an end is whose terminal nobody knows."""
    unseen = not wiring.accessory(end.accessory).seen
    return end.accessory if unseen else f"not known, at {end.accessory}"


def _wires(
    circuit: Circuit, shown: Mapping[Terminal, None], rails: list[SupplyRail]
) -> tuple[tuple[Connection, ...], tuple[Symbol, ...]]:
    """Every core with an end on a pin that is drawn, or from one rail to another; and the ends in nothing."""
    owner = {tap: rail.terminal for rail in rails for tap in rail.taps}
    open_at = {*shown, *(tap for rail in rails if not rail.supplied for tap in rail.taps)}
    met = {core.key: core for terminal in (*shown, *owner) for core in circuit.landed.get(terminal, ())}
    wires, ends = [], []
    for core in sorted(met.values(), key=lambda core: circuit.core_number[core.key]):
        nodes = [end.node for end in core.ends]
        known = [node is not None and (node in shown or node in owner) for node in nodes]
        label = f"{core.cable} {core.label}"
        a, b = nodes
        if a is not None and b is not None and all(known):
            between = owner.get(a) != owner.get(b)
            if a != b and (a in shown or b in shown or between):
                wires.append(Connection(((core.key, a, b),), (a, b), label))
        elif any(node in open_at for node in nodes if node is not None) and None in nodes:
            gone = nodes.index(None)
            pin = nothing(core.key, gone)
            end = core.ends[gone]
            ends.append(Symbol("unknown", _not_known(circuit.wiring, end), (pin,), (pin,)) if end.unknown
                        else Symbol("end", f"ends at {end.accessory}", (pin,), (pin,)))
            both = nodes[0] or pin, nodes[1] or pin
            wires.append(Connection(((core.key, *both),), both, label))
    return tuple(wires), tuple(ends)
