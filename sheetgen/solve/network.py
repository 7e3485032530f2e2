"""The wiring with its conductors collapsed: nets, the rails on them, contacts and loads between them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from sheetgen.model.accessory import Terminal
from sheetgen.model.wiring import CoreEnd, Wiring
from sheetgen.solve.joined import Joined


@dataclass(frozen=True)
class Rail:
    """A fixed potential: a terminal of the board. `kind` is "line", "neutral" or "earth"."""

    terminal: Terminal
    kind: str


@dataclass(frozen=True)
class Contacts:
    """A switch: the nets that each of its positions joins, and the terminals that do it."""

    switch: str
    positions: tuple[str, ...]
    joins: tuple[tuple[tuple[int, int], ...], ...]  # of each position: pairs of nets
    terminals: tuple[tuple[tuple[Terminal, Terminal], ...], ...]  # the same pairs as terminals


@dataclass(frozen=True)
class Load:
    """A load between two nets. Its conductance is in watts: only shares of the voltage are ever asked for."""

    name: str
    a: int
    b: int
    watts: Fraction


@dataclass(frozen=True)
class Network:
    """Terminals in the order of the wiring; nets are numbers."""

    net: Mapping[Terminal, int]
    rails: Mapping[int, tuple[Rail, ...]]
    contacts: tuple[Contacts, ...]
    loads: tuple[Load, ...]
    conductors: tuple[tuple[Terminal, Terminal], ...]
    doubtful: frozenset[int] = frozenset()  # nets that a conductor whose end nobody knows may join to anything


def network_of(wiring: Wiring) -> Network:
    """Collapse everything that conductors alone join."""
    nodes = tuple(wiring.nodes())
    number = {terminal: i for i, terminal in enumerate(nodes)}
    conductors = tuple(
        (a, b) for core in wiring.cores() for a, b in ((core.ends[0].node, core.ends[1].node),) if a and b
    )
    joined = Joined(len(nodes))
    for a, b in conductors:
        joined.join(number[a], number[b])
    net = dict(zip(nodes, joined.all(), strict=True))
    return Network(net, _rails(wiring, net), _contacts(wiring, net), _loads(wiring, net), conductors,
                   _doubtful(wiring, net))


def _doubtful(wiring: Wiring, net: Mapping[Terminal, int]) -> frozenset[int]:
    """The nets of cores with an unknown end, and of all terminals where such an end is, where every such core was taken
    off, or where nobody has looked."""
    places = {end.accessory for _, end in wiring.unknown_ends} | {a.name for a in wiring.accessories if not a.opened}
    places |= _emptied(wiring)
    nodes = [t for t in net if t.accessory in places]
    unseen = [core for core in wiring.cores() if any(end.unknown or _not_looked_at(wiring, end) for end in core.ends)]
    nodes += [end.node for core in unseen for end in core.ends if end.node is not None]
    return frozenset(net[node] for node in nodes)


def _emptied(wiring: Wiring) -> set[str]:
    """Accessories whose conductors were all taken off, some before anybody saw where else they go; flexes left out."""
    fixed = {cable.name for cable in wiring.cables if not cable.flex}
    taken_off = {end.accessory for core, _ in wiring.unknown_ends for end in core.ends if end.nothing}
    landed = {end.accessory for core in wiring.cores() if core.cable in fixed for end in core.ends if end.node}
    return taken_off - landed


def _not_looked_at(wiring: Wiring, end: CoreEnd) -> bool:
    """An end written as in nothing at an accessory that nobody has opened."""
    return end.nothing and not wiring.accessory(end.accessory).opened


def _rails(wiring: Wiring, net: Mapping[Terminal, int]) -> dict[int, tuple[Rail, ...]]:
    rails: dict[int, tuple[Rail, ...]] = {}
    for accessory in wiring.accessories:
        for name, kind in accessory.kind.rails:
            terminal = accessory.terminal(name)
            rails[net[terminal]] = (*rails.get(net[terminal], ()), Rail(terminal, kind))
    return rails


def _contacts(wiring: Wiring, net: Mapping[Terminal, int]) -> tuple[Contacts, ...]:
    found = []
    for name, accessory, switch in wiring.switches():
        terminals = tuple(
            tuple((accessory.terminal(a), accessory.terminal(b)) for a, b in position.joins)
            for position in switch.positions
        )
        joins = tuple(tuple((net[a], net[b]) for a, b in pairs) for pairs in terminals)
        found.append(Contacts(name, tuple(p.name for p in switch.positions), joins, terminals))
    return tuple(found)


def _loads(wiring: Wiring, net: Mapping[Terminal, int]) -> tuple[Load, ...]:
    return tuple(
        Load(name, net[accessory.terminal(load.a)], net[accessory.terminal(load.b)], load.watts)
        for name, accessory, load in wiring.loads()
    )
