"""Continuity on the dead circuit: what a meter reads between two terminals, with the supply off and the lamps out.

A way that is off parts its line from the board. Earths are one bar; neutrals, and neutral and earth, may or may not be
joined beyond the board, so that a reading that rests on it is no reading.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property

from sheetgen.model.accessory import Terminal
from sheetgen.model.finding_out import Settings
from sheetgen.model.wiring import Wiring
from sheetgen.solve.joined import Joined

Pair = tuple[Terminal, Terminal]
Roots = tuple[list[int], list[int]]  # what surely is joined; what may be


class Bench:
    """One wiring under test. Terminals that it does not have are joined to nothing."""

    def __init__(self, wiring: Wiring):
        self.wiring = wiring
        self.number = {terminal: i for i, terminal in enumerate(wiring.nodes())}
        self._roots: dict[tuple[Settings, frozenset[Pair]], Roots] = {}

    @cached_property
    def _conductors(self) -> list[tuple[int, int]]:
        found = []
        for core in self.wiring.cores():
            a, b = core.ends[0].node, core.ends[1].node
            if a is not None and b is not None:
                found.append((self.number[a], self.number[b]))
        return found + self._bar("earth")

    def _bar(self, *kinds: str) -> list[tuple[int, int]]:
        rails = [self.number[a.terminal(t)] for a in self.wiring.accessories for t, kind in a.kind.rails
                 if kind in kinds]
        return [(rails[0], other) for other in rails[1:]]

    @cached_property
    def _contacts(self) -> Mapping[tuple[str, str], list[tuple[int, int]]]:
        return {
            (name, p.name): [(self.number[a.terminal(x)], self.number[a.terminal(y)]) for x, y in p.joins]
            for name, a, switch in self.wiring.switches() for p in switch.positions
        }

    @cached_property
    def _fixed(self) -> list[int]:
        joined = Joined(len(self.number))
        for a, b in self._conductors:
            joined.join(a, b)
        return joined.all()

    def roots(self, setting: Settings, by_hand: Iterable[Pair] = ()) -> Roots:
        """A number for each terminal, the same for those that are joined, with links made by hand as well."""
        key = (setting, frozenset(by_hand))
        if key not in self._roots:
            pairs = [pair for at in setting for pair in self._contacts.get(at, ())]
            pairs += [(self.number[a], self.number[b]) for a, b in key[1]]
            self._roots[key] = (self._joined(pairs), self._joined([*pairs, *self._bar("neutral", "earth")]))
        return self._roots[key]

    def _joined(self, pairs: Sequence[tuple[int, int]]) -> list[int]:
        joined = Joined(len(self.number))
        for terminal, root in enumerate(self._fixed):
            if terminal != root:
                joined.join(terminal, root)
        for a, b in pairs:
            joined.join(a, b)
        return joined.all()

    def closed(self, setting: Settings, a: Terminal, b: Terminal, by_hand: Iterable[Pair] = ()) -> bool | None:
        """Whether a meter reads continuity; None where that rests on what lies beyond the board."""
        sure, may = self.roots(setting, by_hand)
        i, j = self.number[a], self.number[b]
        return True if sure[i] == sure[j] else None if may[i] == may[j] else False
