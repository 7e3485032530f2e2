"""The network cut at the rails: parts of which each depends on its own switches only."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sheetgen.model.accessory import Terminal
from sheetgen.solve.joined import Joined
from sheetgen.solve.network import Contacts, Load, Network, Rail


@dataclass(frozen=True)
class Part:
    """One part, its nets numbered from 0. Nets with rails are the borders: several parts may share one."""

    contacts: tuple[Contacts, ...]  # of its switches
    loads: tuple[Load, ...]
    nets: tuple[int, ...]  # its own nets, then its borders, as numbers of the network
    rails: tuple[tuple[Rail, ...], ...]  # of each net
    terminals: tuple[Terminal, ...]  # on its own nets
    at: tuple[int, ...]  # the net of each of those terminals, as a number of this part
    known: bool = True  # False: a conductor whose end nobody knows may reach it


def parts_of(network: Network) -> Iterator[Part]:
    """Every part that has a switch or a load, in the order in which the wiring names them."""
    nets = sorted(set(network.net.values()))
    place = {net: i for i, net in enumerate(nets)}
    elements: tuple[Contacts | Load, ...] = (*network.contacts, *network.loads)
    joined = Joined(len(nets) + len(elements))
    for i, element in enumerate(elements, len(nets)):
        for net in touched(element):
            if net not in network.rails:
                joined.join(i, place[net])
    roots = joined.all()
    members: dict[int, list[Contacts | Load]] = {}
    for i, element in enumerate(elements, len(nets)):
        members.setdefault(roots[i], []).append(element)
    inside: dict[int, list[int]] = {}
    for net in nets:
        if net not in network.rails:
            inside.setdefault(roots[place[net]], []).append(net)
    on_net: dict[int, list[Terminal]] = {}
    for terminal, net in network.net.items():
        on_net.setdefault(net, []).append(terminal)
    for root, found in members.items():
        yield _part(network, found, inside.get(root, []), on_net)


def touched(element: Contacts | Load) -> tuple[int, ...]:
    """The nets a switch or a load has a terminal on."""
    if isinstance(element, Load):
        return element.a, element.b
    return tuple(net for joins in element.joins for pair in joins for net in pair)


def _part(network: Network, found: list[Contacts | Load], own: list[int], on_net: dict[int, list[Terminal]]) -> Part:
    borders = dict.fromkeys(net for element in found for net in touched(element) if net in network.rails)
    nets = (*own, *borders)
    number = {net: i for i, net in enumerate(nets)}
    terminals = [(t, number[net]) for net in own for t in on_net[net]]
    return Part(
        contacts=tuple(_renumbered(c, number) for c in found if isinstance(c, Contacts)),
        loads=tuple(Load(x.name, number[x.a], number[x.b], x.watts) for x in found if isinstance(x, Load)),
        nets=nets,
        rails=tuple(network.rails.get(net, ()) for net in nets),
        terminals=tuple(t for t, _ in terminals),
        at=tuple(i for _, i in terminals),
        known=network.doubtful.isdisjoint(own),
    )


def _renumbered(contacts: Contacts, number: dict[int, int]) -> Contacts:
    joins = tuple(tuple((number[a], number[b]) for a, b in pairs) for pairs in contacts.joins)
    return Contacts(contacts.switch, contacts.positions, joins, contacts.terminals)
