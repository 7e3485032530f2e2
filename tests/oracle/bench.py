"""A wiring in one setting, solved as any textbook of circuit theory solves a network of resistances.

Two steps, so that no conductor needs a made-up small resistance beside the lamps. First the conductors are ideal: what
they join is one knot, and the lamps between the knots give the potentials (Kirchhoff's current law, numpy). Then every
knot is opened: the currents that lamps draw from its terminals are known, each core and each made contact is one unit
of resistance, and the same law gives the current in every one of them. Currents are in watts at the nominal voltage.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import product

import numpy

from sheetgen.model.accessory import Terminal
from sheetgen.model.wiring import Wiring

NIL = 1e-7  # a share of the voltage, or watts, that counts as none
DARK = 0.1  # of the voltage; with less a filament stays dark (common practice)
FULL = 0.94  # of the voltage; a supply may stand so low: 230 V +10 % -6 %, ESQCR 2002 regulation 27 (from memory)


@dataclass(frozen=True)
class Edge:
    """A core or a made contact between two terminals."""

    kind: str  # "core" | "contact"
    name: str  # Core.key, or the switch
    a: Terminal
    b: Terminal


@dataclass(frozen=True)
class Consumer:
    """A load between two terminals; `a` is the live contact as the maker means it."""

    name: str
    what: str
    a: Terminal
    b: Terminal
    watts: float


class Bench:
    """A wiring taken apart into edges, contacts, loads and rails."""

    def __init__(self, wiring: Wiring):
        self.wiring = wiring
        self.terminals = list(wiring.nodes())
        self.cores = [
            Edge("core", core.key, a, b) for core in wiring.cores()
            for a, b in ((core.ends[0].node, core.ends[1].node),) if a and b
        ]
        self.landed = {  # Core.key -> a terminal it is on, loose ends apart
            core.key: node for core in wiring.cores() for node in (core.ends[0].node or core.ends[1].node,) if node
        }
        self.loads = [
            Consumer(name, x.what, acc.terminal(x.a), acc.terminal(x.b), float(x.watts))
            for name, acc, x in wiring.loads()
        ]
        self.rails: dict[Terminal, str] = {
            acc.terminal(t): kind for acc in wiring.accessories for t, kind in acc.kind.rails
        }
        self.switches: dict[str, dict[str, list[tuple[Terminal, Terminal]]]] = {
            name: {p.name: [(acc.terminal(a), acc.terminal(b)) for a, b in p.joins] for p in switch.positions}
            for name, acc, switch in wiring.switches()
        }
        self.by_conductors = self.components(self.cores)
        self.through_switches = self.components([*self.cores, *(
            Edge("contact", name, a, b) for name, positions in self.switches.items()
            for joins in positions.values() for a, b in joins)])  # every contact of every position made

    def components(self, edges: list[Edge]) -> dict[Terminal, int]:
        """Terminal -> number of what the edges join it to."""
        near: dict[Terminal, list[Terminal]] = {t: [] for t in self.terminals}
        for edge in edges:
            near[edge.a].append(edge.b)
            near[edge.b].append(edge.a)
        knot: dict[Terminal, int] = {}
        number = -1
        for start in self.terminals:
            if start in knot:
                continue
            number += 1
            ahead = [start]
            knot[start] = number
            while ahead:
                for there in near[ahead.pop()]:
                    if there not in knot:
                        knot[there] = number
                        ahead.append(there)
        return knot

    def settings(self, most: int = 256) -> Iterator[dict[str, str]]:
        """Every setting of all switches; where there are too many, the first and each switch and each pair moved."""
        names = list(self.switches)
        positions = [list(self.switches[n]) for n in names]
        if int(numpy.prod([len(p) for p in positions], dtype=float)) <= most:
            for chosen in product(*positions):
                yield dict(zip(names, chosen, strict=True))
            return
        for first in (0, -1):
            base = {n: p[first] for n, p in zip(names, positions, strict=True)}
            yield base
            for i, name in enumerate(names):
                for position in positions[i]:
                    yield {**base, name: position}
                    for j in range(i):
                        yield from ({**base, name: position, names[j]: other} for other in positions[j])

    def multipole(self) -> dict[str, str]:
        """Switches that part several poles together (isolators) -> the position in which they are closed."""
        found = {}
        for name, positions in self.switches.items():
            made = [p for p, joins in positions.items() if joins]
            if len(made) == 1 and len(positions[made[0]]) > 1:
                found[name] = made[0]
        return found


class Solved:
    """One setting of a bench: knots, potentials, load currents, core and contact currents, currents of the rails."""

    def __init__(self, bench: Bench, setting: Mapping[str, str]):
        self.bench, self.setting = bench, dict(setting)
        contacts = [
            Edge("contact", name, a, b) for name, positions in bench.switches.items()
            for a, b in positions[setting[name]]
        ]
        self.edges = [*bench.cores, *contacts]
        self.knot = bench.components(self.edges)
        self.kinds: dict[int, set[str]] = {}
        for rail, kind in bench.rails.items():
            self.kinds.setdefault(self.knot[rail], set()).add(kind)
        self.shorted = {k for k, kinds in self.kinds.items() if "line" in kinds and len(kinds) > 1}
        self.volts = self._volts()
        self.amps = {x.name: self._drawn_by(x) for x in bench.loads}
        self.flow: dict[Edge, float] = dict.fromkeys(self.edges, 0.0)
        self.drawn: dict[Terminal, float] = dict.fromkeys(bench.rails, 0.0)
        self._currents()

    def volt(self, terminal: Terminal) -> float | None:
        """Its share of the line voltage; None where it floats."""
        return self.volts.get(self.knot[terminal])

    def _drawn_by(self, load: Consumer) -> float:
        a, b = self.volt(load.a), self.volt(load.b)
        amps = 0.0 if a is None or b is None else (a - b) * load.watts
        return 0.0 if abs(amps) < NIL else amps

    def solid(self, terminal: Terminal) -> str:
        """The rail it is joined to without a load: "line", "neutral", "earth", "short", or "" for none."""
        knot = self.knot[terminal]
        if knot in self.shorted:
            return "short"
        kinds = self.kinds.get(knot, set())
        return next((k for k in ("line", "neutral", "earth") if k in kinds), "")

    def _volts(self) -> dict[int, float]:
        fixed = {k: 1.0 if "line" in kinds else 0.0 for k, kinds in self.kinds.items()}
        pairs = [(self.knot[x.a], self.knot[x.b], x.watts) for x in self.bench.loads]
        near: dict[int, list[int]] = {}
        for a, b, _ in pairs:
            near.setdefault(a, []).append(b)
            near.setdefault(b, []).append(a)
        reached, ahead = set(fixed), list(fixed)
        while ahead:
            for there in near.get(ahead.pop(), ()):
                if there not in reached:
                    reached.add(there)
                    ahead.append(there)
        column = {k: i for i, k in enumerate(sorted(reached - set(fixed)))}
        matrix, right = numpy.zeros((len(column), len(column))), numpy.zeros(len(column))
        for a, b, g in pairs:
            for here, there in ((a, b), (b, a)):
                if here in column and here != there:
                    matrix[column[here], column[here]] += g
                    if there in column:
                        matrix[column[here], column[there]] -= g
                    else:
                        right[column[here]] += g * fixed[there]
        found = numpy.linalg.solve(matrix, right) if column else ()
        return {**fixed, **{k: float(found[i]) for k, i in column.items()}}

    def _currents(self) -> None:
        leaves: dict[Terminal, float] = {}
        for x in self.bench.loads:
            if amps := self.amps[x.name]:
                leaves[x.a] = leaves.get(x.a, 0.0) + amps
                leaves[x.b] = leaves.get(x.b, 0.0) - amps
        inside: dict[int, list[Edge]] = {}
        for edge in self.edges:
            inside.setdefault(self.knot[edge.a], []).append(edge)
        at: dict[int, dict[Terminal, float]] = {}
        for terminal, amps in leaves.items():
            at.setdefault(self.knot[terminal], {})[terminal] = amps
        for knot, taken in at.items():
            if knot not in self.shorted:
                self._open(knot, inside.get(knot, []), taken)

    def _open(self, knot: int, edges: list[Edge], taken: Mapping[Terminal, float]) -> None:
        """Kirchhoff's law among the terminals of one knot; its rails, or else its first terminal, are the reference."""
        rails = [r for r in self.bench.rails if self.knot[r] == knot]
        members = list(dict.fromkeys(t for e in edges for t in (e.a, e.b)))
        ground = set(rails or members[:1])
        column = {t: i for i, t in enumerate(t for t in members if t not in ground)}
        matrix, right = numpy.zeros((len(column), len(column))), numpy.zeros(len(column))
        for edge in edges:
            for here, there in ((edge.a, edge.b), (edge.b, edge.a)):
                if here in column and here != there:
                    matrix[column[here], column[here]] += 1
                    if there in column:
                        matrix[column[here], column[there]] -= 1
        for terminal, amps in taken.items():
            if terminal in column:
                right[column[terminal]] -= amps
            elif terminal in self.drawn:
                self.drawn[terminal] += amps
        level = numpy.linalg.solve(matrix, right) if column else ()
        height = {**dict.fromkeys(ground, 0.0), **{t: float(level[i]) for t, i in column.items()}}
        for edge in edges:
            amps = height[edge.a] - height[edge.b]  # from a to b
            self.flow[edge] = amps = 0.0 if abs(amps) < NIL else amps
            if edge.a in self.drawn:
                self.drawn[edge.a] += amps
            if edge.b in self.drawn:
                self.drawn[edge.b] -= amps

    @property
    def short(self) -> bool:
        """Some line meets a neutral or an earth."""
        return bool(self.shorted)

    def lit(self, load: str) -> bool:
        """It carries current, and no short puts its way out."""
        return abs(self.across(load)) >= DARK and not self.put_out(load)

    def across(self, load: str) -> float:
        """The share of the voltage on a load."""
        found = next(x for x in self.bench.loads if x.name == load)
        a, b = self.volt(found.a), self.volt(found.b)
        return 0.0 if a is None or b is None else a - b

    def put_out(self, load: str) -> bool:
        """A line that feeds it is shorted: the device of that way has opened."""
        if not self.shorted:
            return False
        lines = self.feeding(load)
        shorted = {r.accessory for r, kind in self.bench.rails.items()
                   if kind == "line" and self.knot[r] in self.shorted}
        return bool(lines & shorted) and lines <= shorted

    def feeding(self, load: str) -> set[str]:
        """The ways whose line reaches a load, through other loads too but not past a rail."""
        mine = next(x for x in self.bench.loads if x.name == load)
        near: dict[int, list[int]] = {}
        for x in self.bench.loads:
            near.setdefault(self.knot[x.a], []).append(self.knot[x.b])
            near.setdefault(self.knot[x.b], []).append(self.knot[x.a])
        seen = {self.knot[mine.a], self.knot[mine.b]}
        ahead = list(seen)
        while ahead:
            here = ahead.pop()
            if here in self.kinds:
                continue
            for there in near.get(here, ()):
                if there not in seen:
                    seen.add(there)
                    ahead.append(there)
        return {r.accessory for r, kind in self.bench.rails.items() if kind == "line" and self.knot[r] in seen}
