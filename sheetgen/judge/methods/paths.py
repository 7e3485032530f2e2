"""Conductors as a map to walk on: from terminal to terminal along cores, never across a contact or a load."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import groupby

from sheetgen.circuit import Circuit
from sheetgen.circuit.graph import Kept, traced
from sheetgen.model.accessory import Terminal
from sheetgen.model.solution import Potential
from sheetgen.model.wiring import Core


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


class Conductors:
    """The conductors of a solved circuit as its methods are read from them: nets, and walks along cores."""

    def __init__(self, circuit: Circuit, idle: Mapping[str, tuple[str, ...]]):
        """`idle`: lamps that never light because of what never triggers, and that."""
        self.circuit, self.wiring, self.solution, self.idle = circuit, circuit.wiring, circuit.solution, idle
        self._from: dict[tuple[Terminal, ...], Kept] = {}

    @cached_property
    def accessories_on(self) -> dict[Terminal, frozenset[str]]:
        """Every net -> the accessories in which a conductor of it ends."""
        found: dict[Terminal, set[str]] = {}
        for terminal in self.circuit.conductors.conductors:
            found.setdefault(self.net(terminal), set()).add(terminal.accessory)
        return {net: frozenset(names) for net, names in found.items()}

    def net(self, terminal: Terminal) -> Terminal:
        """What stands for everything joined to the terminal by conductors alone."""
        return self.solution.nets.get(terminal, terminal)

    def constant(self, net: Terminal) -> Potential | None:
        """The potential of a net that no switch changes, or None."""
        condition = self.solution.constant.get(net)
        return condition.potential if condition else None

    def walk(self, starts: Iterable[Terminal], ends: Iterable[Terminal]) -> Walk | None:
        """The shortest walk from any start to any end, or None."""
        kept = self._reached(tuple(starts))
        nearest = min({*ends} & kept.came.keys(), key=kept.place.__getitem__, default=None)
        if nearest is None:
            return None
        steps = traced(kept.came, nearest)
        first = steps[0].start if steps else nearest
        return Walk((first, *(step.end for step in steps)), tuple(self.circuit.cores[step.name] for step in steps))

    def walks(self, starts: Iterable[Terminal], ends: Iterable[Terminal]) -> tuple[Walk, ...]:
        """The shortest walk to each end that is reached and is no start itself; they part but never meet again."""
        found = (self.walk(starts, [end]) for end in ends)
        return tuple(walk for walk in found if walk and walk.cores)

    def _reached(self, starts: tuple[Terminal, ...]) -> Kept:
        if starts not in self._from:
            self._from[starts] = Kept(self.circuit.conductors, starts)
        return self._from[starts]
