"""The lamps that are on at once, and what every conductor then carries."""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from sheetgen.judge.figures.conductors import volts_per_ampere
from sheetgen.judge.figures.flow import solve
from sheetgen.judge.figures.paths import contact_steps, rails, switch_joins
from sheetgen.model.accessory import Terminal
from sheetgen.model.solution import Condition, Group, Row, Solution
from sheetgen.model.wiring import Wiring

NEXT_TO_NOTHING = 1e-6  # ohm of a link, and of a conductor of unknown length, across which no drop is given

Chosen = Mapping[int, Row]  # number of the group -> its row


@dataclass(frozen=True)
class WiredLoad:
    """A lamp or other load with its two contacts."""

    name: str
    accessory: str
    contacts: tuple[Terminal, Terminal]
    watts: Fraction
    what: str


@dataclass(frozen=True)
class Currents:
    """What flows in one choice of settings: amperes of each core, from its first end to its second; volts lost up to
    each terminal."""

    amps: Mapping[str, float]
    volts: Mapping[Terminal, float]


class Loads:
    """The loads of a wiring, with what is looked up again and again."""

    def __init__(self, wiring: Wiring, solution: Solution):
        self.wiring, self.solution, self.joins = wiring, solution, switch_joins(wiring)
        self.loads = {
            name: WiredLoad(name, a.name, (a.terminal(x.a), a.terminal(x.b)), x.watts, x.what)
            for name, a, x in wiring.loads()
        }
        self.all_on: Chosen = {
            i: self._most_taken(group, sound)
            for i, group in enumerate(solution.groups) if (sound := [r for r in group.rows if not r.shorts])
        }
        self._ends = [
            (core.key, a, b, float(known) if known else NEXT_TO_NOTHING)
            for cable in wiring.cables for core in cable.cores
            if (a := core.ends[0].node) and (b := core.ends[1].node) and a != b
            for known in (volts_per_ampere(cable, core),)
        ]

    def _most_taken(self, group: Group, rows: Sequence[Row]) -> Row:
        return max(rows, key=lambda row: self.watts(group, row))

    def watts(self, group: Group, row: Row) -> Fraction:
        """Of everything in a group that carries current in a row."""
        pairs = zip(group.lamps, row.lamps, strict=True)
        return sum((self.loads[name].watts * lamp.fraction ** 2 for name, lamp in pairs if lamp.fraction),
                   Fraction(0))

    def condition(self, group: Group, row: Row, terminal: Terminal) -> Condition:
        """Of a terminal in a row of its group."""
        if terminal in self.solution.constant:
            return self.solution.constant[terminal]
        return row.conditions[group.terminals.index(terminal)]

    def flow(self, chosen: Chosen) -> Currents:
        """Solve for the currents with every group in the row chosen for it."""
        knot = self._knots(chosen)
        injected: dict[Hashable, float] = {}
        for i, row in chosen.items():
            group = self.solution.groups[i]
            for name, lamp in zip(group.lamps, row.lamps, strict=True):
                if lamp.fraction:
                    into, out = self.line_first(group, row, self.loads[name])
                    drawn = float(self.loads[name].watts * lamp.fraction / self.wiring.board.voltage)
                    injected[knot.get(into, into)] = injected.get(knot.get(into, into), 0.0) - drawn
                    injected[knot.get(out, out)] = injected.get(knot.get(out, out), 0.0) + drawn
        ends = [(key, knot.get(a, a), knot.get(b, b), ohms) for key, a, b, ohms in self._ends]
        fixed = [knot.get(t, t) for kind in ("line", "neutral", "earth") for t in rails(self.wiring, kind)]
        volts = solve(((a, b, 1 / ohms) for _, a, b, ohms in ends), injected, fixed)
        amps = {key: (volts.get(a, 0.0) - volts.get(b, 0.0)) / ohms for key, a, b, ohms in ends}
        everywhere = {t: volts.get(knot.get(t, t), 0.0) for t in self.solution.nets}
        return Currents(amps, everywhere)

    def line_first(self, group: Group, row: Row, load: WiredLoad) -> tuple[Terminal, Terminal]:
        """The contacts of a load in a row, the one at the higher potential first."""
        a, b = load.contacts
        higher = self.condition(group, row, a).fraction or 0
        return (a, b) if higher > (self.condition(group, row, b).fraction or 0) else (b, a)

    def _knots(self, chosen: Chosen) -> dict[Terminal, Terminal]:
        """Terminals joined by closed contacts, each -> one of them."""
        knot: dict[Terminal, Terminal] = {}
        for i, row in chosen.items():
            for here, leaving in contact_steps(self.joins, self.solution.groups[i], row).items():
                for step in leaving:
                    one, two = knot.get(here, here), knot.get(step.to, step.to)
                    if one != two:
                        for terminal in [t for t, k in knot.items() if k == two] or [two]:
                            knot[terminal] = one
                        knot[here] = knot[two] = one
        return knot
