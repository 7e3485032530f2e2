"""What meets at the rails alone, each branch arranged by itself, one below another: the work grows with the branches.

Requires: a structure. Ensures: no wire of one branch crosses one of another; equal branches look alike.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import NamedTuple

from sheetgen.draw.diagram.structure import LEFT, RIGHT, End, Structure
from sheetgen.model.diagram import ChannelRun, SymbolPlace

MANY = 3  # branches with a contact, from which on they are arranged apart


class Arranged(NamedTuple):
    """Where everything of a structure stands, from row 0 down to its height."""

    places: tuple[SymbolPlace, ...]
    routes: tuple[tuple[ChannelRun, ...], ...]
    columns: int
    crossings: int
    height: int


class _Branch(NamedTuple):
    """A branch as a structure of its own, and which symbols and wires of the whole those are."""

    net: Structure
    symbols: list[int]
    wires: list[int]


def arranged(net: Structure, by_itself: Callable[[Structure], Arranged]) -> Arranged:
    """A whole, its branches one below another where they are many; `by_itself` arranges what is not parted."""
    branches = list(_branches(net))
    if sum(any(branch.net.contacts) for branch in branches) < MANY:
        return by_itself(net)
    found = [by_itself(branch.net) for branch in branches]
    columns = max(part.columns for part in found)
    places: dict[int, SymbolPlace] = {}
    routes: dict[int, tuple[ChannelRun, ...]] = {}
    down = 0
    for branch, part in zip(branches, found, strict=True):
        for i, place in zip(branch.symbols, part.places, strict=True):
            places[i] = replace(place, row=place.row + down)
        for i, route in zip(branch.wires, part.routes, strict=True):
            lowered = [replace(run, rows=(run.rows[0] + down, run.rows[1] + down)) for run in route]
            routes[i] = tuple(_as_wide(lowered, part.columns, columns))
        down += part.height
    return Arranged(tuple(places[i] for i in range(len(net.kinds))), tuple(routes[i] for i in range(len(net.ends))),
                    columns, sum(part.crossings for part in found), down)


def _branches(net: Structure) -> Iterator[_Branch]:
    """The branches in the order of their first symbols; then what leads from rail to rail."""
    of_branch: dict[int, list[int]] = {}
    for i, branch in enumerate(net.branches):
        of_branch.setdefault(branch, []).append(i)
    wires: dict[int, list[int]] = {}
    for i, ends in enumerate(net.ends):
        met = [net.branches[symbol] for symbol, _, _ in ends if symbol >= 0]
        wires.setdefault(met[0] if met else -1, []).append(i)
    for branch, symbols in (*of_branch.items(), (-1, [])):
        own = wires.get(branch, [])
        if symbols or own:
            yield _Branch(_of(net, symbols, own), symbols, own)


def _of(net: Structure, symbols: list[int], wires: list[int]) -> Structure:
    number = {symbol: i for i, symbol in enumerate(symbols)}

    def renumbered(end: End) -> End:
        return number.get(end[0], end[0]), *end[1:]

    return Structure(
        tuple(net.kinds[i] for i in symbols), tuple(net.pins[i] for i in symbols),
        tuple(net.rungs[i] for i in symbols),
        tuple((renumbered(a), renumbered(b)) for a, b in (net.ends[i] for i in wires)),
    )


def _as_wide(route: list[ChannelRun], columns: int, wanted: int) -> Iterator[ChannelRun]:
    """The same route where so many columns more lie before the rail at the right: straight on through them."""
    onward = range(columns + 1, wanted + 1)
    for run in route:
        at_rail = [side == RIGHT and run.channel == columns for side in run.sides]
        if not onward or not any(at_rail):
            yield run
        elif all(at_rail):  # from one rail at the right to another
            yield replace(run, channel=wanted)
        elif at_rail[0]:
            yield from (ChannelRun(k, (RIGHT, LEFT), (run.rows[0],) * 2) for k in reversed(onward))
            yield run
        else:
            yield run
            yield from (ChannelRun(k, (LEFT, RIGHT), (run.rows[1],) * 2) for k in onward)
