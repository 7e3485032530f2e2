"""R1+R2 of a point is what a meter reads, however the switches stand that the tests page does not name.

The oracle is the effective resistance of the whole network of cores and closed contacts, by nodal analysis.
"""

from __future__ import annotations

from pathlib import Path

import networkx
import numpy
import pytest
from circuits import sound_wirings
from hypothesis import given, settings
from reckoned import reckoned, with_lengths

from sheetgen.model.solution import Solution
from sheetgen.model.wiring import Wiring
from sheetgen.pipeline import judged
from sheetgen.solve.wiring_to_solution import wiring_to_solution

EXAMPLES = Path(__file__).parents[1] / "examples"
NAMES = ("bungalow", "by-method", "large-house", "three-switches", "two-way-conversion", "two-way-line-at-switch")
MILLIOHM = {"1.0": 18.1, "1.5": 12.1, "2.5": 7.41}  # a metre at 20 degC, On-Site Guide Table I1
FLEX = {"0.75": 26.0}


def measured(wiring: Wiring, stands: dict[str, str], start, end) -> float | None:
    """Ohms between two terminals, the lines of the board apart from each other; None where nothing joins them."""
    graph = networkx.MultiGraph()
    graph.add_nodes_from(wiring.nodes())
    for name, accessory, switch in wiring.switches():
        for position in switch.positions:
            if position.name == stands.get(name):
                graph.add_edges_from((accessory.terminal(a), accessory.terminal(b)) for a, b in position.joins)
    for cable in wiring.cables:
        graph.add_edges_from((c.ends[0].node, c.ends[1].node) for c in cable.cores
                             if cable.link and c.ends[0].node and c.ends[1].node)
    knot = {t: i for i, part in enumerate(networkx.connected_components(graph)) for t in part}
    cores = networkx.MultiGraph()
    for cable in wiring.cables:
        for core in cable.cores:
            a, b = core.ends[0].node, core.ends[1].node
            if a and b and not cable.link and knot[a] != knot[b]:
                size = cable.cpc_size if core.cpc and cable.cpc_size else cable.size
                metre = (FLEX if cable.flex else MILLIOHM)[size.text]
                cores.add_edge(knot[a], knot[b], siemens=1000 / (metre * float(cable.length or 0) or 1e-6))
    a, b = knot[start], knot[end]
    if a == b:
        return 0.0
    part = networkx.node_connected_component(cores, a) if a in cores else set()
    if b not in part:
        return None
    order = {node: i for i, node in enumerate(part)}
    matrix = numpy.zeros((len(part), len(part)))
    for c, d, siemens in cores.subgraph(part).edges(data="siemens"):
        for i, k in ((order[c], order[d]), (order[d], order[c])):
            matrix[i, i] += siemens
            matrix[i, k] -= siemens
    free = [i for node, i in order.items() if node != a]
    amps = numpy.zeros(len(part))
    amps[order[b]] = 1.0
    volts = numpy.zeros(len(part))
    volts[free] = numpy.linalg.solve(matrix[numpy.ix_(free, free)], amps[free])
    return float(volts[order[b]])


def check_points(wiring: Wiring, solution: Solution, points) -> int:
    """Every point with a figure, in every setting that agrees with what is named; how many settings there were."""
    checked = 0
    for point in points:
        group = next((g for g in solution.groups if point.line in g.terminals), None)
        earth = [a.terminal(t.name) for a in wiring.accessories if a.name == point.accessory
                 for t in a.kind.terminals if t.name.endswith("E")]
        if point.r1_r2 is None or group is None or not earth:
            continue
        line = next(a.terminal(t) for a in wiring.accessories if a.name == point.way
                    for t, kind in a.kind.rails if kind == "line")
        rails = [a.terminal(t) for a in wiring.accessories for t, kind in a.kind.rails if kind == "earth"]
        back = min(r for rail in rails if (r := measured(wiring, {}, rail, earth[0])) is not None)
        for row in group.rows:
            stands = dict(zip(group.switches, row.setting, strict=True))
            if not row.shorts and all(stands.get(s, p) == p for s, p in point.setting):
                out = measured(wiring, stands, line, point.line)
                assert out is not None, (point, stands)
                assert out + back == pytest.approx(point.r1_r2, abs=1e-4), (point, stands)
                checked += 1
                assert len(group.rows) > 64 or named_for_nothing(wiring, group, point, line, out) == [], point
    return checked


def named_for_nothing(wiring: Wiring, group, point, line, out: float) -> list[str]:
    """Switches that are named though no setting that differs in them alone from what is named reads otherwise."""
    found = []
    for switch, _ in point.setting:
        others = [(s, p) for s, p in point.setting if s != switch]
        rows = [dict(zip(group.switches, row.setting, strict=True)) for row in group.rows if not row.shorts]
        agreeing = [stands for stands in rows if all(stands.get(s, p) == p for s, p in others)]
        reads = [measured(wiring, stands, line, point.line) for stands in agreeing]
        if all(r is not None and abs(r - out) < 1e-4 for r in reads):
            found.append(switch)
    return found


@pytest.mark.parametrize("name", NAMES)
def test_the_figure_of_a_point_holds_with_every_switch_that_is_not_named_anyhow(name):
    circuit, reading = judged((EXAMPLES / f"{name}.yaml").read_bytes())
    assert check_points(circuit.wiring, circuit.solution, reading.figures.points)


@settings(deadline=None, max_examples=25, derandomize=True)
@given(sound_wirings())
def test_so_it_does_in_any_sound_house(wiring: Wiring):
    wiring = with_lengths(wiring)
    check_points(wiring, wiring_to_solution(wiring), reckoned(wiring).points)


def test_a_switch_of_a_conversion_is_named_beside_the_one_before_it():
    (bottom,) = [p for p in judged((EXAMPLES / "two-way-conversion.yaml").read_bytes())[1].figures.points
                 if p.accessory == "Bottom"]
    assert dict(bottom.setting) == {"Top": "L1", "Bottom": "L2"}
    # out by W1 and W2, to the top switch and back again; then the earth, all of 1.0 mm2
    assert bottom.r1_r2 == pytest.approx(0.0181 * (9 + 4 + 5 + 5) + 0.0181 * (9 + 4))
