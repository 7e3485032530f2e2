"""What a rule of the check looks at: the solved wiring, what was read from it, and the names to speak of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from sheetgen.catalogue.colours import CODES
from sheetgen.model.accessory import Accessory, LoadKind, SwitchKind, Terminal
from sheetgen.model.reading import Role, Sleeve
from sheetgen.model.reckoning import Reckoning
from sheetgen.model.solution import Condition, Group, Lamp, Potential, Row, Solution
from sheetgen.model.style import ColourSet
from sheetgen.model.wiring import Cable, Core, Way, Wiring
from sheetgen.model.words import joined


def muddled_nets(wiring: Wiring, solution: Solution) -> frozenset[Terminal]:
    """The nets on which conductors alone join rails of two kinds, line, neutral or earth."""
    kinds: dict[Terminal, set[str]] = {}
    for accessory in wiring.accessories:
        for name, kind in accessory.kind.rails:
            kinds.setdefault(solution.nets[accessory.terminal(name)], set()).add(kind)
    return frozenset(net for net, found in kinds.items() if len(found) > 1)


@dataclass(frozen=True)
class Subject:
    """A solved wiring and what has been read from it so far."""

    wiring: Wiring
    solution: Solution
    roles: Mapping[str, Role]  # Core.key -> role
    ways: Mapping[str, tuple[str, ...]]  # Core.key -> the ways whose rails reach it
    sleeves: tuple[Sleeve, ...]
    sets: Mapping[str, ColourSet]
    reckoning: Reckoning

    # What there is

    @cached_property
    def accessories(self) -> dict[str, Accessory]:
        """Accessories by name."""
        return {a.name: a for a in self.wiring.accessories}

    @cached_property
    def cables(self) -> dict[str, Cable]:
        """Cables by name."""
        return {c.name: c for c in self.wiring.cables}

    @cached_property
    def cores(self) -> dict[str, Core]:
        """Cores by key."""
        return {core.key: core for core in self.wiring.cores()}

    @cached_property
    def switches(self) -> dict[str, tuple[Accessory, SwitchKind]]:
        """Switches by their name in the solution."""
        return {name: (accessory, switch) for name, accessory, switch in self.wiring.switches()}

    @cached_property
    def loads(self) -> dict[str, tuple[Accessory, LoadKind]]:
        """Loads by their name in the solution."""
        return {name: (accessory, load) for name, accessory, load in self.wiring.loads()}

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
    def board(self) -> frozenset[str]:
        """The accessories that stand for ways."""
        return frozenset(a.name for a in self.wiring.accessories if a.kind.rails)

    @cached_property
    def kept(self) -> dict[tuple[str, ...], object]:
        """What was found by solving changed wirings, kept so that no second rule has to."""
        return {}

    # What it does

    @cached_property
    def group_of(self) -> dict[Terminal, tuple[Group, int]]:
        """The group whose switches may change a terminal, and its place there."""
        return {t: (group, i) for group in self.solution.groups for i, t in enumerate(group.terminals)}

    @cached_property
    def muddled(self) -> frozenset[Terminal]:
        """Nets on which conductors alone join rails of two kinds: that is one finding, and nothing more is said."""
        return muddled_nets(self.wiring, self.solution)

    @cached_property
    def conditions(self) -> dict[Terminal, tuple[Condition, ...]]:
        """Every condition of each terminal in the settings without a short."""
        found = {
            terminal: (condition,) for terminal, condition in self.solution.constant.items()
            if self.solution.nets[terminal] not in self.muddled
        }
        for group in self.solution.groups:
            sound = [row.conditions for row in group.rows if not row.shorts]
            for terminal, seen in zip(group.terminals, zip(*sound, strict=True) if sound else (), strict=False):
                found[terminal] = tuple(dict.fromkeys(seen))
        return found

    def at(self, terminal: Terminal, *potentials: Potential) -> bool:
        """In some setting the terminal is at one of these, joined by conductors and closed contacts alone."""
        return any(c.solid and c.potential in potentials for c in self.conditions.get(terminal, ()))

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

    def condition(self, group: Group, row: Row, terminal: Terminal) -> Condition:
        """A terminal's condition in a row of a group that it belongs to or borders on."""
        if terminal in self.solution.constant:
            return self.solution.constant[terminal]
        return row.conditions[self.group_of[terminal][1]]

    def lamps(self) -> Iterator[tuple[Group, Row, str, Lamp]]:
        """Every load in every setting without a short."""
        for group in self.solution.groups:
            for row in group.rows:
                if not row.shorts:
                    for name, lamp in zip(group.lamps, row.lamps, strict=True):
                        yield group, row, name, lamp

    # How to speak of it

    def terminal(self, terminal: Terminal) -> str:
        """'Hall L1'; on a plate 'Hall landing L1'; the user's own name where there is one."""
        accessory = self.accessories[terminal.accessory]
        given = accessory.label(terminal.name)
        gang, dot, rest = given.partition(".")
        if dot and gang in {s.name for s in accessory.kind.switches}:
            given = f"{gang} {rest}"
        return f"{accessory.name} {given}"

    def terminals(self, terminals: Iterable[Terminal]) -> str:
        """'Hall L1 and Top COM'."""
        return joined(self.terminal(t) for t in terminals)

    def part(self, name: str) -> str:
        """A switch or a load by its printed name: 'Hall landing'."""
        accessory, kind = self.switches[name] if name in self.switches else self.loads[name]
        return f"{accessory.name} {kind.name}".strip()

    def setting(self, group: Group | None, row: Row | None, only: Iterable[str] | None = None) -> str:
        """'Hall at L1, Porch on'; '' where there are no switches."""
        if group is None or row is None:
            return ""
        wanted = group.switches if only is None else tuple(only)
        pairs = zip(group.switches, row.setting, strict=True)
        return ", ".join(f"{self.part(s)} {self.position(s, p)}" for s, p in pairs if s in wanted)

    def position(self, switch: str, position: str) -> str:
        """'on', 'crossed', 'at L1'."""
        accessory, kind = self.switches[switch]
        name = f"{kind.name}.{position}" if kind.name else position
        if name not in {t.name for t in accessory.kind.terminals}:
            return position
        return "at " + accessory.label(name).removeprefix(f"{kind.name}.")

    def core(self, core: Core | str) -> str:
        """'the blue core of W3', 'the red single W1', 'the bare core of W2'."""
        core = self.cores[core] if isinstance(core, str) else core
        colour = CODES.get(core.colour, core.colour) or "bare"
        colour = f"{colour} {core.mark}".strip()
        if self.cables[core.cable].single:
            return f"the {colour} single {core.cable}"
        return f"the {colour} core of {core.cable}"

    def way(self, way: str) -> str:
        """'way 4 (Upstairs lights)'."""
        found: Way | None = self.wiring.way(way)
        return f"{way} ({found.serves})" if found and found.serves else way

    def all_ways(self, ways: Iterable[str]) -> str:
        """'way 4 (Upstairs lights) and way 5', in the order of the board."""
        wanted = set(ways)
        return joined(self.way(w) for w in self.accessories if w in wanted)
