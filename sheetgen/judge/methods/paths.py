"""Conductors as a map to walk on: from terminal to terminal along cores, never across a contact or a load."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import groupby
from typing import NamedTuple

from sheetgen.circuit.names import Names
from sheetgen.model.accessory import Terminal
from sheetgen.model.solution import Potential, Solution
from sheetgen.model.wiring import Core, Wiring


@dataclass(frozen=True)
class Walk:
    """A way along conductors: the terminals passed, and the cores between them (one fewer)."""

    terminals: tuple[Terminal, ...]
    cores: tuple[Core, ...]

    @property
    def accessories(self) -> tuple[str, ...]:
        """The accessories passed, in order; one that is passed twice stands twice."""
        return tuple(name for name, _ in groupby(t.accessory for t in self.terminals))


def parting(one: tuple[str, ...], other: tuple[str, ...]) -> tuple[int, int] | None:
    """Where two walks part: the visits, in each, of the last accessory of the longest sequence that both pass.

    Not just the last accessory common to both: a walk may come back to a plate that it has left before.
    """
    alike = next((i for i, (a, b) in enumerate(zip(one, other, strict=False)) if a != b), min(len(one), len(other)))
    begin = max(0, alike - 1)  # what both begin with, all but its last, is in every longest sequence
    best: dict[tuple[int, int], int] = {}
    for i, here in enumerate(one[begin:], begin):
        for k, there in enumerate(other[begin:], begin):
            if here == there:
                best[i, k] = 1 + max((n for (a, b), n in best.items() if a < i and b < k), default=0)
    return max(best, key=lambda visits: (best[visits], visits), default=None)


class _Came(NamedTuple):
    """How a terminal was reached: as which of all, from where, along which core."""

    place: int
    terminal: Terminal | None = None
    core: Core | None = None


class Conductors:
    """The cores of a wiring that end on terminals at both ends, and the nets they make."""

    def __init__(self, wiring: Wiring, solution: Solution):
        self.wiring, self.solution, self.names = wiring, solution, Names(wiring)
        self._kept: dict[tuple[Terminal, ...], dict[Terminal, _Came]] = {}
        self.next: dict[Terminal, list[tuple[Terminal, Core]]] = {}
        for core in wiring.cores():
            a, b = (end.node for end in core.ends)
            if a and b:
                self.next.setdefault(a, []).append((b, core))
                self.next.setdefault(b, []).append((a, core))

    @cached_property
    def accessories_on(self) -> dict[Terminal, frozenset[str]]:
        """Every net -> the accessories in which a conductor of it ends."""
        found: dict[Terminal, set[str]] = {}
        for terminal in self.next:
            found.setdefault(self.net(terminal), set()).add(terminal.accessory)
        return {net: frozenset(names) for net, names in found.items()}

    @cached_property
    def rails(self) -> dict[str, tuple[Terminal, ...]]:
        """The terminals of the board, by kind."""
        found: dict[str, tuple[Terminal, ...]] = {}
        for accessory in self.wiring.accessories:
            for name, kind in accessory.kind.rails:
                found[kind] = (*found.get(kind, ()), accessory.terminal(name))
        return found

    def net(self, terminal: Terminal) -> Terminal:
        """What stands for everything joined to the terminal by conductors alone."""
        return self.solution.nets.get(terminal, terminal)

    def constant(self, net: Terminal) -> Potential | None:
        """The potential of a net that no switch changes, or None."""
        condition = self.solution.constant.get(net)
        return condition.potential if condition else None

    def walk(self, starts: Iterable[Terminal], ends: Iterable[Terminal]) -> Walk | None:
        """The shortest walk from any start to any end, or None."""
        starts, goals = tuple(starts), set(ends)
        if starts and any(starts[0] in rails for rails in self.rails.values()):
            kept = self._from_rails(starts)
            nearest = min(goals & kept.keys(), key=lambda goal: kept[goal].place, default=None)
            return self._back(nearest, kept) if nearest else None
        before: dict[Terminal, _Came] = {}
        for here in self._outwards(starts, before):
            if here in goals:
                return self._back(here, before)
        return None

    def _from_rails(self, starts: tuple[Terminal, ...]) -> dict[Terminal, _Came]:
        """All that some rails reach; worked out once, for every light is looked for from them."""
        if starts not in self._kept:
            self._kept[starts] = {}
            deque(self._outwards(starts, self._kept[starts]), maxlen=0)
        return self._kept[starts]

    def _outwards(self, starts: Iterable[Terminal], before: dict[Terminal, _Came]) -> Iterator[Terminal]:
        """Every terminal that is reached, the nearest first; `before` is filled with how."""
        for start in starts:
            before.setdefault(start, _Came(len(before)))
        queue = deque(before)
        while queue:
            here = queue.popleft()
            yield here
            for there, core in self.next.get(here, ()):
                if there not in before:
                    before[there] = _Came(len(before), here, core)
                    queue.append(there)

    def walks(self, starts: Iterable[Terminal], ends: Iterable[Terminal]) -> tuple[Walk, ...]:
        """The shortest walk to each end that is reached and is no start itself; they part but never meet again."""
        found = (self.walk(starts, [end]) for end in ends)
        return tuple(walk for walk in found if walk and walk.cores)

    @staticmethod
    def _back(here: Terminal, before: Mapping[Terminal, _Came]) -> Walk:
        terminals, cores = [here], []
        while (came := before[here]).terminal and came.core:
            here = came.terminal
            terminals.append(here)
            cores.append(came.core)
        return Walk(tuple(reversed(terminals)), tuple(reversed(cores)))
