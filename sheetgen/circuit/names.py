"""Names as they are printed: terminals, cores, switches and their positions, loads, ways. The user's own come first."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

from sheetgen.catalogue.colours import CODES
from sheetgen.model.accessory import Accessory, LoadKind, SwitchKind, Terminal
from sheetgen.model.solution import Group, Row
from sheetgen.model.wiring import Cable, Core, CoreEnd, Wiring
from sheetgen.model.words import joined, most_alike

MANY_SWITCHES = 6  # of more, those that stand alike are counted
DESIGNATION = re.compile(r"\d")  # a cable's name that reads as one in a sentence: W3, Flex 1; not "on" or "feed"


def cables_in_order(cables: Iterable[Cable]) -> list[Cable]:
    """W2 before W10; so the order in which cables are listed does not matter."""
    return sorted(cables, key=lambda cable: _numbered(cable.name))


@lru_cache(maxsize=4096)
def _numbered(name: str) -> tuple[tuple[int, str], ...]:
    return tuple((int(part), "") if part.isdigit() else (-1, part) for part in re.split(r"(\d+)", name))


@dataclass(frozen=True)
class Names:
    """The things of one wiring by name, and what they are called on paper."""

    wiring: Wiring

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
    def switch_terminals(self) -> frozenset[Terminal]:
        """The terminals that some switch joins in some position."""
        return frozenset(accessory.terminal(name) for accessory, switch in self.switches.values()
                         for position in switch.positions for pair in position.joins for name in pair)

    @cached_property
    def loads(self) -> dict[str, tuple[Accessory, LoadKind]]:
        """Loads by their name in the solution."""
        return {name: (accessory, load) for name, accessory, load in self.wiring.loads()}

    def out_of_reach(self, terminal: Terminal) -> bool:
        """A point within an accessory, that no hand and no probe can reach: it is for the solution only."""
        return self.accessories[terminal.accessory].kind.terminal(terminal.name).inner

    def gang(self, terminal: Terminal) -> str:
        """The gang of a plate that a terminal belongs to; "" where there are no gangs."""
        return self.accessories[terminal.accessory].gang(terminal.name)

    def short_label(self, terminal: Terminal) -> str:
        """A terminal's name without its gang: 'L1'."""
        label = self.accessories[terminal.accessory].label(terminal.name)
        gang = self.gang(terminal)
        return label.removeprefix(f"{gang}.") if gang else label

    def label(self, terminal: Terminal) -> str:
        """A terminal's name as printed beside its accessory: 'L1', on a plate 'landing L1'."""
        return self.accessories[terminal.accessory].printed_label(terminal.name)

    def terminal(self, terminal: Terminal) -> str:
        """A terminal with its accessory: 'Hall L1'; on a plate 'Hall landing L1'."""
        return f"{self.wiring.printed(terminal.accessory)} {self.label(terminal)}"

    def terminals(self, terminals: Iterable[Terminal]) -> str:
        """'Hall L1 and Top COM'."""
        return joined(self.terminal(t) for t in terminals)

    def end(self, end: CoreEnd) -> str:
        """Where a core goes: 'Top L1', or that it ends in nothing, or that nobody knows."""
        if end.node is not None:
            return self.terminal(end.node)
        place = self.wiring.printed(end.accessory)
        return f"{place}, terminal not known" if end.unknown else f"{place}, on nothing"

    def part(self, name: str) -> str:
        """A switch or a load: 'Hall'; of several in one accessory 'Hall landing'."""
        accessory, kind = self.switches[name] if name in self.switches else self.loads[name]
        return f"{accessory.name} {kind.name}".strip()

    def mark(self, switch: str, position: str) -> str:
        """A position as a table prints it: the user's name for the terminal the contact stands on, else its own."""
        accessory, kind = self.switches[switch]
        name = f"{kind.name}.{position}" if kind.name else position
        return self.short_label(accessory.terminal(name)) if self._stands_on(switch, position) else position

    def position(self, switch: str, position: str) -> str:
        """A position in a sentence: 'on', 'crossed', 'at L1'."""
        return f"at {self.mark(switch, position)}" if self._stands_on(switch, position) else position

    def standing(self, switch: str, position: str) -> str:
        """A switch and how it stands: 'Hall at L1'."""
        return f"{self.part(switch)} {self.position(switch, position)}"

    @cached_property
    def standings(self) -> dict[tuple[str, str], str]:
        """Every switch in every position, both by their names in the solution -> in words."""
        return {(name, position.name): self.standing(name, position.name)
                for name, (_, kind) in self.switches.items() for position in kind.positions}

    def _stands_on(self, switch: str, position: str) -> bool:
        accessory, kind = self.switches[switch]
        return (f"{kind.name}.{position}" if kind.name else position) in {t.name for t in accessory.kind.terminals}

    def setting(self, group: Group | None, row: Row | None, only: Iterable[str] | None = None) -> str:
        """A setting in words, of all switches or only some: 'Hall at L1, Porch on'; "" where there are none."""
        if group is None or row is None:
            return ""
        wanted = group.switches if only is None else tuple(only)
        return self.stand([(s, p) for s, p in zip(group.switches, row.setting, strict=True) if s in wanted])

    def stand(self, positions: Sequence[tuple[str, str]]) -> str:
        """How switches stand: 'Hall at L1, Porch on'; of many 'Porch on, the other 20 switches off'."""
        if len(positions) > MANY_SWITCHES:
            return most_alike([(self.part(s), self.position(s, p)) for s, p in positions], "switches")
        return ", ".join(self.standing(s, p) for s, p in positions)

    def colour(self, code: str) -> str:
        """A colour in words: 'brown', 'bare'."""
        return CODES.get(code, code) or "bare"

    def core(self, core: Core | str) -> str:
        """'the blue core of W3', 'the red single W1', 'the bare core of W2'."""
        core = self.cores[core] if isinstance(core, str) else core
        colour = f"{self.colour(core.colour)} {core.mark}".strip()
        kind = "single" if self.cables[core.cable].single else "core of"
        named = core.cable if DESIGNATION.search(core.cable) else f"the cable '{core.cable}'"
        return f"the {colour} {kind} {named}"

    def way(self, way: str) -> str:
        """'circuit 4 (Upstairs lights)'."""
        found = self.wiring.way(way)
        printed = self.wiring.printed(way)
        return f"{printed} ({found.serves})" if found and found.serves else printed

    def all_ways(self, ways: Iterable[str]) -> str:
        """'circuit 4 (Upstairs lights) and circuit 5', in the order of the board."""
        wanted = set(ways)
        return joined(self.way(w) for w in self.accessories if w in wanted)

    def circuits(self, ways: Iterable[str]) -> str:
        """'circuit 4', 'circuits 5 and 6'."""
        ways = list(ways)
        if len(ways) == 1:
            return self.wiring.printed(ways[0])
        found = [self.way_number(way) for way in ways]
        return f"circuit{'s' if len(found) > 1 else ''} {joined(found)}"

    def places(self, accessories: Iterable[str]) -> str:
        """'circuit 4, Hall and Top'."""
        return joined(dict.fromkeys(map(self.wiring.printed, accessories)))

    def way_number(self, way: str) -> str:
        """The number of the way that an accessory stands for; "" where nobody told it."""
        found = self.wiring.way(way)
        return found.number if found else way
