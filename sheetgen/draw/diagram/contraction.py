"""Leaves out of a diagram what only joins: terminals between two cores, cores beside one another, stubs."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from sheetgen.model.accessory import Terminal
from sheetgen.model.diagram import Connection

SPAN = " \N{EN DASH} "  # between the first core of several and the last


def contracted(
    wires: tuple[Connection, ...], joints: Collection[Terminal], rails: Mapping[Terminal, Terminal]
) -> tuple[Connection, ...]:
    """The connections with every joint left out that has fewer than three, and one for all between the same two pins.

    `rails` has for every terminal that stands for a rail the rail itself.
    """
    left = list(wires)
    while True:
        left = _one_of_parallel(left, rails)
        joint = next((j for j in joints if 0 < sum(j in wire.ends for wire in left) < 3), None)
        if joint is None:
            return tuple(left)
        here = [wire for wire in left if joint in wire.ends]
        first = left.index(here[0])
        left = [wire for wire in left if joint not in wire.ends]
        if len(here) == 2:
            left.insert(first, _in_series(_turned(here[0], joint, last=True), _turned(here[1], joint, last=False)))


def _turned(wire: Connection, pin: Terminal, last: bool) -> Connection:
    """The connection with a pin as its last or first end."""
    return wire if (wire.ends[1] == pin) == last else _backwards(wire)


def _backwards(wire: Connection) -> Connection:
    cores = tuple((core, end, start) for core, start, end in reversed(wire.cores))
    return Connection(cores, wire.ends[::-1], SPAN.join(reversed(wire.label.split(SPAN))))


def _in_series(first: Connection, second: Connection) -> Connection:
    """Two connections that meet at a joint, as one; named after its first and its last core.

    Where one of them is several branches, which have no name, after the other alone.
    """
    both = first.label and second.label
    name = f"{first.label.split(SPAN)[0]}{SPAN}{second.label.split(SPAN)[-1]}" if both else first.label or second.label
    return Connection((*first.cores, *second.cores), (first.ends[0], second.ends[1]), name)


def _one_of_parallel(wires: list[Connection], rails: Mapping[Terminal, Terminal]) -> list[Connection]:
    """One connection for all between the same two pins or rails, and none from a pin to itself.

    It has no name, and leaves a rail at no terminal in particular where they do not: no branch is taken for another.
    """
    found: dict[frozenset[Terminal], Connection] = {}
    for wire in wires:
        ends = frozenset(rails.get(end, end) for end in wire.ends)
        if len(ends) < 2:
            continue
        if ends in found:
            kept = found[ends]
            same = rails.get(kept.ends[0], kept.ends[0]) == rails.get(wire.ends[0], wire.ends[0])
            other = wire if same else _backwards(wire)
            a, b = (one if one == two else rails[one] for one, two in zip(kept.ends, other.ends, strict=True))
            found[ends] = Connection((*kept.cores, *other.cores), (a, b), "")
        else:
            found[ends] = wire
    return list(found.values())
