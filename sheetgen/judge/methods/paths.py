"""Conductors as a map to walk on: from terminal to terminal along cores, never across a contact or a load."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import groupby

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
    best: dict[tuple[int, int], int] = {}
    for i, here in enumerate(one):
        for k, there in enumerate(other):
            if here == there:
                best[i, k] = 1 + max((n for (a, b), n in best.items() if a < i and b < k), default=0)
    return max(best, key=lambda visits: (best[visits], visits), default=None)


class Conductors:
    """The cores of a wiring that end on terminals at both ends, and the nets they make."""

    def __init__(self, wiring: Wiring, solution: Solution):
        self.wiring, self.solution = wiring, solution
        self.next: dict[Terminal, list[tuple[Terminal, Core]]] = {}
        for core in wiring.cores():
            a, b = (end.node for end in core.ends)
            if a and b:
                self.next.setdefault(a, []).append((b, core))
                self.next.setdefault(b, []).append((a, core))

    def net(self, terminal: Terminal) -> Terminal:
        """What stands for everything joined to the terminal by conductors alone."""
        return self.solution.nets.get(terminal, terminal)

    def constant(self, net: Terminal) -> Potential | None:
        """The potential of a net that no switch changes, or None."""
        condition = self.solution.constant.get(net)
        return condition.potential if condition else None

    def walk(self, starts: Iterable[Terminal], ends: Iterable[Terminal]) -> Walk | None:
        """The shortest walk from any start to any end, or None."""
        goals = set(ends)
        before: dict[Terminal, tuple[Terminal, Core] | None] = dict.fromkeys(starts)
        queue = deque(before)
        while queue:
            here = queue.popleft()
            if here in goals:
                return self._back(here, before)
            for there, core in self.next.get(here, ()):
                if there not in before:
                    before[there] = (here, core)
                    queue.append(there)
        return None

    def walks(self, starts: Iterable[Terminal], ends: Iterable[Terminal]) -> tuple[Walk, ...]:
        """The shortest walk to each end that is reached and is no start itself; they part but never meet again."""
        found = (self.walk(starts, [end]) for end in ends)
        return tuple(walk for walk in found if walk and walk.cores)

    @staticmethod
    def _back(here: Terminal, before: Mapping[Terminal, tuple[Terminal, Core] | None]) -> Walk:
        terminals, cores = [here], []
        while came := before[here]:
            here, core = came
            terminals.append(here)
            cores.append(core)
        return Walk(tuple(reversed(terminals)), tuple(reversed(cores)))
