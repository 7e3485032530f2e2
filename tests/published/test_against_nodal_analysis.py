"""Every terminal and lamp in every setting, against general-purpose libraries that know nothing of lighting.

Connectivity by networkx, potentials by nodal analysis in floating point with numpy.linalg (the conductance matrix of
the loads, Kirchhoff's current law at every free node): any textbook of circuit theory.
"""

from __future__ import annotations

import math
from pathlib import Path

import networkx
import numpy
import pytest
from circuits import wirings
from hypothesis import given, settings

from sheetgen.model.accessory import Terminal
from sheetgen.model.solution import Group, Row, Solution
from sheetgen.model.wiring import Wiring
from sheetgen.pipeline import wiring_of
from sheetgen.solve.wiring_to_solution import wiring_to_solution

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))
ALIKE = 1e-9


class Reference:
    """The whole wiring with given contacts closed, solved another way."""

    def __init__(self, wiring: Wiring, positions: dict[str, str]):
        self.graph = networkx.Graph()
        self.graph.add_nodes_from(wiring.nodes())
        for core in wiring.cores():
            a, b = core.ends[0].node, core.ends[1].node
            if a and b:
                self.graph.add_edge(a, b)
        for name, accessory, switch in wiring.switches():
            for position in switch.positions:
                if positions.get(name) == position.name:
                    self.graph.add_edges_from((accessory.terminal(a), accessory.terminal(b)) for a, b in position.joins)
        self.rails = {a.terminal(t): kind for a in wiring.accessories for t, kind in a.kind.rails}
        self.knots = list(networkx.connected_components(self.graph))
        self.knot = {t: i for i, knot in enumerate(self.knots) for t in knot}
        self.loads = {
            name: (self.knot[a.terminal(x.a)], self.knot[a.terminal(x.b)], float(x.watts))
            for name, a, x in wiring.loads()
        }
        self.kinds = [{self.rails[t] for t in knot if t in self.rails} for knot in self.knots]
        self.volts = self._solve()

    def _solve(self) -> list[float | None]:
        fixed = {i: 1.0 if "line" in kinds else 0.0 for i, kinds in enumerate(self.kinds) if kinds}
        joined = networkx.Graph()
        joined.add_nodes_from(range(len(self.knots)))
        joined.add_edges_from((a, b) for a, b, _ in self.loads.values())
        reached = {i for part in networkx.connected_components(joined) if part & set(fixed) for i in part}
        free = sorted(reached - set(fixed))
        matrix, right = numpy.zeros((len(free), len(free))), numpy.zeros(len(free))
        column = {knot: i for i, knot in enumerate(free)}
        for a, b, g in self.loads.values():
            for here, there in ((a, b), (b, a)):
                if here in column and here != there:
                    matrix[column[here], column[here]] += g
                    if there in fixed:
                        right[column[here]] += g * fixed[there]
                    else:
                        matrix[column[here], column[there]] -= g
        found = dict(zip(free, numpy.linalg.solve(matrix, right) if free else [], strict=True))
        self.around = {
            i: {near for k in part for near in joined[k] if near in fixed}
            for part in networkx.connected_components(joined.subgraph(free)) for i in part
        }
        return [fixed.get(i, found.get(i)) for i in range(len(self.knots))]

    def potential(self, terminal: Terminal) -> tuple[str, float | None]:
        """What it is at, in the words of the model, and its share of the voltage."""
        i = self.knot[terminal]
        for kind in ("line", "neutral", "earth"):
            if kind in self.kinds[i]:
                return kind, 1.0 if kind == "line" else 0.0
        volts = self.volts[i]
        if volts is None:
            return "floating", None
        if abs(volts - 1) < ALIKE:
            return "through a load", 1.0
        if abs(volts) < ALIKE:
            near = {kind for k in self.around[i] for kind in self.kinds[k]}
            return "neutral" if "neutral" in near else "earth", 0.0
        return "between", float(volts)

    def ways(self, terminal: Terminal, potential: str) -> set[str]:
        """The ways behind what a terminal is at."""
        i = self.knot[terminal]
        kinds = {"through a load": {"line"}, "between": {"line", "neutral", "earth"}}.get(potential, {potential})
        knots = [i] if self.kinds[i] else self.around.get(i, ())
        return {t.accessory for k in knots for t in self.knots[k] if self.rails.get(t) in kinds}

    def lamp(self, name: str) -> tuple[str, float]:
        """State and share of the voltage, shorts apart."""
        a, b = (self.volts[i] for i in self.loads[name][:2])
        if a is None or b is None or abs(a - b) < ALIKE:
            return ("off but live" if a and b and abs(a) > ALIKE else "off"), 0.0
        return ("on" if abs(abs(a - b) - 1) < ALIKE else "dim"), float(abs(a - b))

    def shorted(self) -> list[set[Terminal]]:
        """Every knot that is a line and something else."""
        return [self.knots[i] for i, kinds in enumerate(self.kinds) if "line" in kinds and len(kinds) > 1]


def agrees(wiring: Wiring, solution: Solution, group: Group, row: Row, others: dict[str, str], ways: bool) -> None:
    """One row of one group, the switches of the other groups as given."""
    reference = Reference(wiring, {**others, **dict(zip(group.switches, row.setting, strict=True))})
    terminals = {**dict(zip(group.terminals, row.conditions, strict=True)), **solution.constant}
    own = set(group.terminals) | (set(solution.constant) if not group.switches else set())
    for terminal in own:
        condition = terminals[terminal]
        potential, fraction = reference.potential(terminal)
        assert condition.potential.value == potential, terminal
        assert (condition.fraction is None) == (fraction is None), terminal
        assert fraction is None or math.isclose(condition.fraction, fraction, abs_tol=ALIKE), terminal
        if ways:
            assert set(condition.ways) == reference.ways(terminal, potential), terminal
            assert condition.solid == bool(reference.kinds[reference.knot[terminal]]), terminal
    shorted = reference.shorted() if ways else []
    hit = any(group_touches(wiring, group, reference, knot) for knot in shorted)
    for name, lamp in zip(group.lamps, row.lamps, strict=True):
        state, fraction = reference.lamp(name)
        assert lamp.state.value == ("short" if hit else state), name
        assert hit or math.isclose(lamp.fraction, fraction, abs_tol=ALIKE), name


def group_touches(wiring: Wiring, group: Group, reference: Reference, knot: set[Terminal]) -> bool:
    """A switch or a load of the group has a terminal in the knot."""
    switch_terminals = {
        a.terminal(t) for name, a, s in wiring.switches() if name in group.switches
        for p in s.positions for pair in p.joins for t in pair
    }
    load_terminals = {a.terminal(t) for name, a, x in wiring.loads() if name in group.lamps for t in (x.a, x.b)}
    return bool(knot & (switch_terminals | load_terminals))


def shorts_agree(wiring: Wiring, solution: Solution, group: Group, row: Row) -> None:
    """Each line that is shorted is named, by a path that exists and is as short as can be."""
    reference = Reference(wiring, dict(zip(group.switches, row.setting, strict=True)))
    lines = {t for knot in reference.shorted() for t in knot if reference.rails.get(t) == "line"}
    found = {short.rails[0]: short for short in (*solution.shorts, *row.shorts)}
    assert set(found) == lines
    for line, short in found.items():
        assert all(reference.graph.has_edge(a, b) for a, b in zip(short.through, short.through[1:], strict=False))
        assert short.through[0] == line and reference.rails[short.through[-1]] in ("neutral", "earth")
        lengths = networkx.single_source_shortest_path_length(reference.graph, line)
        nearest = min(n for t, n in lengths.items() if reference.rails.get(t) in ("neutral", "earth"))
        assert len(short.through) - 1 == nearest


def compare(wiring: Wiring) -> int:
    """Every row of every group; the number compared."""
    solution = wiring_to_solution(wiring)
    compared = 0
    for group in solution.groups:
        for i, row in enumerate(group.rows):
            others = {g.switches: g.rows[i % len(g.rows)] for g in solution.groups if g is not group}
            met = [r for r in others.values() if r.shorts or r.meetings]
            positions = {s: p for switches, r in others.items() for s, p in zip(switches, r.setting, strict=True)}
            agrees(wiring, solution, group, row, {}, ways=True)
            if not met and not solution.shorts and not row.shorts:
                agrees(wiring, solution, group, row, positions, ways=False)
            shorts_agree(wiring, solution, group, row)
            compared += 1
    return compared


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_examples(path):
    assert compare(wiring_of(path.read_bytes())) > 0


@settings(deadline=None, max_examples=150, derandomize=True)
@given(wirings())
def test_random_houses_right_and_wrong(wiring: Wiring):
    compare(wiring)
