"""A solved circuit: what there is, what it does in every setting, what its cores join."""

from __future__ import annotations

from collections import ChainMap
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from sheetgen.circuit.graph import Came, Graph, Kept, Step, both_ways, conductors_of
from sheetgen.circuit.names import Names
from sheetgen.circuit.rail_tree import RailTree, rail_tree
from sheetgen.model.accessory import Terminal
from sheetgen.model.solution import LIT, Condition, Group, Lamp, Meeting, Potential, Row, Solution
from sheetgen.model.wiring import Core, CoreEnd, Way, Wiring
from sheetgen.solve.solve import Solver


@dataclass(frozen=True)
class Circuit(Names):
    """A wiring with its solution, and the answers about both; each is worked out once and kept."""

    solution: Solution

    # What there is

    @cached_property
    def landed(self) -> dict[Terminal, list[Core]]:
        """The cores that end on each terminal that has any, one entry for each end."""
        found: dict[Terminal, list[Core]] = {}
        for core in self.wiring.cores():
            for end in core.ends:
                if end.node is not None:
                    found.setdefault(end.node, []).append(core)
        return found

    @cached_property
    def on_nothing(self) -> dict[str, list[tuple[Core, CoreEnd]]]:
        """Accessory -> the cores that end in nothing there, each with its other end."""
        found: dict[str, list[tuple[Core, CoreEnd]]] = {}
        for core in self.wiring.cores():
            for here, there in (core.ends, core.ends[::-1]):
                if here.nothing:
                    found.setdefault(here.accessory, []).append((core, there))
        return found

    @cached_property
    def core_number(self) -> dict[str, int]:
        """The place of each core in the wiring, by its key."""
        return {core.key: i for i, core in enumerate(self.wiring.cores())}

    @cached_property
    def board(self) -> frozenset[str]:
        """The accessories that stand for ways."""
        return frozenset(a.name for a in self.wiring.accessories if a.kind.rails)

    @cached_property
    def rails(self) -> dict[Terminal, str]:
        """The terminals of the board -> "line", "neutral" or "earth"."""
        return {a.terminal(name): kind for a in self.wiring.accessories for name, kind in a.kind.rails}

    @cached_property
    def contacts(self) -> dict[str, tuple[Terminal, Terminal]]:
        """The two terminals of every load, by its name in the solution."""
        return {name: (a.terminal(load.a), a.terminal(load.b)) for name, (a, load) in self.loads.items()}

    @cached_property
    def lamp_names(self) -> frozenset[str]:
        """The loads that give light."""
        return frozenset(name for name, (_, load) in self.loads.items() if load.what == "lamp")

    # What it does

    @cached_property
    def group_of(self) -> dict[Terminal, tuple[Group, int]]:
        """The group whose switches may change a terminal, and its place there."""
        return {t: (group, i) for group in self.solution.groups for i, t in enumerate(group.terminals)}

    @cached_property
    def muddled(self) -> frozenset[Terminal]:
        """Nets on which conductors alone join rails of two kinds: that is one finding, and nothing more is said."""
        kinds: dict[Terminal, set[str]] = {}
        for terminal, kind in self.rails.items():
            kinds.setdefault(self.solution.nets[terminal], set()).add(kind)
        return frozenset(net for net, found in kinds.items() if len(found) > 1)

    @cached_property
    def conditions(self) -> dict[Terminal, tuple[Condition, ...]]:
        """Every condition of each terminal in the settings without a short."""
        found: dict[Terminal, tuple[Condition, ...]] = {
            terminal: (condition,) for terminal, condition in self.solution.constant.items()
            if self.solution.nets[terminal] not in self.muddled
        }
        for group in self.solution.groups:
            sound = [row for row in group.rows if not row.shorts]
            if sound:
                kept = group if len(sound) == len(group.rows) else replace(group, rows=tuple(sound))
                found.update(zip(group.terminals, kept.seen, strict=True))
        return found

    def at(self, terminal: Terminal, *potentials: Potential) -> bool:
        """In some setting the terminal is at one of these, joined by conductors and closed contacts alone."""
        return any(c.solid and c.potential in potentials for c in self.conditions.get(terminal, ()))

    def may_be_joined(self, terminal: Terminal) -> bool:
        """A conductor whose end nobody knows may reach the terminal: what is said of it would rest on that."""
        return any(c.potential is Potential.NOT_KNOWN for c in self.conditions.get(terminal, ()))

    def settings(self, terminal: Terminal) -> Iterator[tuple[Group | None, Row | None, Condition]]:
        """Every setting without a short with the terminal's condition; (None, None, ...) where no switch changes it."""
        if terminal in self.solution.constant:
            if self.solution.nets[terminal] not in self.muddled:
                yield None, None, self.solution.constant[terminal]
            return
        group, i = self.group_of[terminal]
        for row in group.rows:
            if not row.shorts:
                yield group, row, row.conditions[i]

    def line_from(self, way: Way, *terminals: Terminal) -> bool:
        """Whether the line of a way reaches one of some terminals in any setting."""
        conditions = (c for t in terminals for c in self.solution.conditions(t))
        return any(c.potential is Potential.LINE and way.accessory in c.ways for c in conditions)

    def condition(self, group: Group, row: Row, terminal: Terminal) -> Condition:
        """A terminal's condition in a row of a group; of a terminal of another group, in that group's first."""
        if terminal in self.solution.constant:
            return self.solution.constant[terminal]
        own, i = self.group_of[terminal]
        if own is group:
            return row.conditions[i]
        if terminal in group.terminals:
            return row.conditions[group.terminals.index(terminal)]
        return own.rows[0].conditions[i]

    def conditions_in(self, group: Group, row: Row) -> Mapping[Terminal, Condition]:
        """The condition in a setting of every terminal whose condition this group, or nothing, changes."""
        return ChainMap(dict(zip(group.terminals, row.conditions, strict=True)), self._constant)

    @cached_property
    def _constant(self) -> dict[Terminal, Condition]:
        return dict(self.solution.constant)

    def lamps(self) -> Iterator[tuple[Group, Row, str, Lamp]]:
        """Every load in every setting without a short."""
        for group in self.solution.groups:
            for row in group.rows:
                if not row.shorts:
                    for name, lamp in zip(group.lamps, row.lamps, strict=True):
                        yield group, row, name, lamp

    def meetings(self) -> Iterator[tuple[Group | None, Row | None, Meeting]]:
        """Every meeting of rails, and the setting that makes it; (None, None, ...) where conductors alone do."""
        yield from ((None, None, meeting) for meeting in self.solution.meetings)
        for group in self.solution.groups:
            for row in group.rows:
                yield from ((group, row, meeting) for meeting in row.meetings)

    @cached_property
    def states(self) -> dict[str, frozenset[str]]:
        """Every load -> what it does over all settings, as the state table says it."""
        return {
            name: frozenset(row.lamps[i].state.value for row in group.rows)
            for group in self.solution.groups for i, name in enumerate(group.lamps)
        }

    def any_lit(self, group: Group, row: Row) -> bool:
        """Some lamp of a group gives light in a setting."""
        return any(x.state in LIT and name in self.lamp_names for name, x in zip(group.lamps, row.lamps, strict=True))

    # What is joined to what

    @cached_property
    def conductors(self) -> Graph:
        """The cores alone."""
        return Graph(both_ways(conductors_of(self.wiring)))

    def made_contacts(self, group: Group, row: Row) -> tuple[Step, ...]:
        """The contacts that the switches of a group make in a setting."""
        return tuple(
            Step("contact", name, accessory.terminal(a), accessory.terminal(b))
            for name, position in zip(group.switches, row.setting, strict=True)
            for accessory, switch in (self.switches[name],)
            for made in switch.positions if made.name == position
            for a, b in made.joins
        )

    @cached_property
    def members(self) -> dict[Terminal, tuple[Terminal, ...]]:
        """Every net, by its representative -> the terminals that conductors alone join."""
        found: dict[Terminal, list[Terminal]] = {}
        for terminal, net in self.solution.nets.items():
            found.setdefault(net, []).append(terminal)
        return {net: tuple(terminals) for net, terminals in found.items()}

    @cached_property
    def rails_on(self) -> dict[Terminal, tuple[Terminal, ...]]:
        """The rails on each net that has any."""
        found: dict[Terminal, tuple[Terminal, ...]] = {}
        for rail in self.rails:
            net = self.solution.nets[rail]
            found[net] = (*found.get(net, ()), rail)
        return found

    def rail_tree(self, net: Terminal) -> RailTree | None:
        """A net from its one rail outwards; None where there is no rail or more than one, or the net has rings."""
        if net not in self._trees:
            rails = self.rails_on.get(net, ())
            self._trees[net] = (
                rail_tree(rails[0], self.members[net], self.conductors.conductors) if len(rails) == 1 else None)
        return self._trees[net]

    @cached_property
    def _trees(self) -> dict[Terminal, RailTree | None]:
        return {}

    def reached_from_rails(self, graph: Graph, *kinds: str) -> Came:
        """What the rails of some kinds reach along the conductors and the closed contacts of a setting."""
        if kinds not in self._walks:
            self._walks[kinds] = Kept(self.conductors, [t for t, kind in self.rails.items() if kind in kinds])
        return graph.reached_from(self._walks[kinds])

    @cached_property
    def _walks(self) -> dict[tuple[str, ...], Kept]:
        return {}

    def graph(self, group: Group, row: Row) -> Graph:
        """The cores, and the contacts that a group's switches make in a setting."""
        return Graph(self.conductors.conductors, self.made_contacts(group, row))


def circuit_of(wiring: Wiring, solver: Solver | None = None) -> Circuit:
    """Solve a wiring, with a solver that knows what others have in common with it, or in every setting."""
    return Circuit(wiring, (solver or Solver()).solve(wiring))
