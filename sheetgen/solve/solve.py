"""The state of every terminal and load in every setting of the switches, exact.

Conductors are collapsed once; the network is cut at the rails; each part is solved in every setting of its own
switches, so the work grows with the largest part and not with the house. A way that conductors alone short feeds
nothing. Where a switch shorts it the other parts are solved as if the device held: `Solution.lamp` puts both together.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import chain

from sheetgen.model.accessory import Terminal
from sheetgen.model.solution import Condition, Group, Lamp, LampState, Meeting, Row, Rows, Short, Solution
from sheetgen.model.wiring import Wiring
from sheetgen.solve.network import Network, network_of
from sheetgen.solve.parts import Part, parts_of
from sheetgen.solve.setting import FLOATING, NOT_KNOWN, ZERO, rail_condition, state_of
from sheetgen.solve.settings import MOST, MOST_PAIRS, settings
from sheetgen.solve.shorts import Neighbours, meetings_of, neighbours_of


class Solver:
    """Solves wirings of which many may differ little: a group that two have alike is solved once.

    `most`: settings of a group that are all solved; of one that has more, some are, as `settings` chooses them, with
    operations of two switches where these are not more than `most_pairs`.
    `at_once`: of a group that has more of those, each is solved when it is asked for; None: all at once.
    """

    def __init__(self, most: int = MOST, most_pairs: int = MOST_PAIRS, at_once: int | None = None):
        self.most, self.most_pairs, self.at_once = most, most_pairs, at_once
        self._known: dict[object, Group] = {}

    def solve(self, wiring: Wiring) -> Solution:
        """Solve a wiring in every setting of its switches."""
        network = network_of(wiring)
        near = neighbours_of(network.conductors)
        groups: list[Group] = []
        constant = _on_rails_or_floating(network)
        for part in parts_of(network):
            if part.contacts:
                groups.append(self._group(part, near))
                for terminal in part.terminals:
                    del constant[terminal]
            else:
                state = state_of(part, ())
                constant.update(zip(part.terminals, (state.conditions[i] for i in part.at), strict=True))
                groups.append(Group((), (), tuple(x.name for x in part.loads), (), (Row((), state.lamps, ()),)))
        shorts, meetings = _fixed_meetings(network, near)
        if dead := frozenset(short.rails[0].accessory for short in shorts):
            groups = [replace(group, rows=tuple(_without(row, dead) for row in group.rows)) for group in groups]
        return Solution(tuple(groups), constant, _representatives(network), shorts, meetings)

    def _group(self, part: Part, near: Neighbours) -> Group:
        key = part.contacts, part.loads, part.rails, part.terminals, part.at, part.known
        if key not in self._known:
            chosen, complete = settings(tuple(len(c.positions) for c in part.contacts), self.most, self.most_pairs)
            group = _group(part, near, chosen, complete, at_once=self.at_once is None or len(chosen) <= self.at_once)
            if isinstance(group.rows, Rows) or any(row.shorts or row.meetings for row in group.rows):
                return group  # what a short or a meeting leads through may lie in other parts
            self._known[key] = group
        return self._known[key]


def _without(row: Row, dead: frozenset[str]) -> Row:
    """The row with every load dark that one of these ways would feed."""
    lamps = tuple(Lamp(LampState.SHORT, ZERO, x.ways) if dead.intersection(x.ways) else x for x in row.lamps)
    return replace(row, lamps=lamps)


def _on_rails_or_floating(network: Network) -> dict[Terminal, Condition]:
    on_rail = {net: rail_condition(rails) for net, rails in network.rails.items()}
    return {
        terminal: on_rail.get(net, NOT_KNOWN if net in network.doubtful else FLOATING)
        for terminal, net in network.net.items()
    }


def _group(part: Part, near: Neighbours, chosen: Sequence[tuple[int, ...]], complete: bool, at_once: bool) -> Group:
    once: dict[Condition, Condition] = {}

    def row(i: int) -> Row:
        return _row(part, chosen[i], near, once)

    if at_once:
        rows: Sequence[Row] = tuple(map(row, range(len(chosen))))
    else:
        rows = Rows([_positions(part, setting) for setting in chosen], row)
    return Group(
        switches=tuple(c.switch for c in part.contacts),
        positions=tuple(c.positions for c in part.contacts),
        lamps=tuple(x.name for x in part.loads),
        terminals=part.terminals,
        rows=rows,
        complete=complete,
    )


def _row(part: Part, setting: tuple[int, ...], near: Neighbours, once: dict[Condition, Condition]) -> Row:
    closed = chain.from_iterable(c.joins[i] for c, i in zip(part.contacts, setting, strict=True))
    state = state_of(part, closed, once)
    shorts: list[Short] = []
    meetings: list[Meeting] = []
    for together in state.together:
        if together in part.rails:
            continue  # joined by conductors alone: said once, for the whole solution
        made = chain.from_iterable(c.terminals[i] for c, i in zip(part.contacts, setting, strict=True))
        more_shorts, more_meetings = meetings_of(together, near, made)
        shorts += more_shorts
        meetings += more_meetings
    return Row(
        setting=_positions(part, setting),
        lamps=state.lamps,
        conditions=tuple(state.conditions[i] for i in part.at),
        shorts=tuple(shorts),
        meetings=tuple(meetings),
    )


def _positions(part: Part, setting: tuple[int, ...]) -> tuple[str, ...]:
    return tuple(c.positions[i] for c, i in zip(part.contacts, setting, strict=True))


def _fixed_meetings(network: Network, near: Neighbours) -> tuple[tuple[Short, ...], tuple[Meeting, ...]]:
    found = [meetings_of(rails, near) for rails in network.rails.values() if len(rails) > 1]
    return tuple(s for shorts, _ in found for s in shorts), tuple(m for _, meetings in found for m in meetings)


def _representatives(network: Network) -> dict[Terminal, Terminal]:
    first: dict[int, Terminal] = {}
    for terminal, net in network.net.items():
        first.setdefault(net, terminal)
    return {terminal: first[net] for terminal, net in network.net.items()}
