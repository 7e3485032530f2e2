"""Which steps lie on a way between two points: against networkx, which finds the same by enumerating every path."""

from __future__ import annotations

import networkx
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.circuit.graph import Graph, Step, both_ways
from sheetgen.model.accessory import Terminal

POINTS = [Terminal("box", name) for name in "abcdefg"]
pairs = st.lists(st.tuples(*[st.sampled_from(POINTS)] * 2).filter(lambda p: p[0] != p[1]), max_size=12)


def by_enumeration(steps: list[Step], start: Terminal, goals: list[Terminal]) -> set[str]:
    graph = networkx.MultiGraph()
    graph.add_nodes_from(POINTS)
    for step in steps:
        graph.add_edge(*("sink" if t in goals else t for t in (step.start, step.end)), key=step.name)
    graph.remove_edges_from([edge for edge in graph.edges(keys=True) if edge[0] == edge[1]])
    if "sink" not in graph:
        return set()
    return {key for path in networkx.all_simple_edge_paths(graph, start, "sink") for _, _, key in path}


@settings(deadline=None, max_examples=300, derandomize=True)
@given(pairs, st.sets(st.sampled_from(POINTS[1:]), min_size=1, max_size=3))
def test_the_steps_on_the_way_are_those_of_every_path(found, goals):
    steps = [Step("core", f"W{i}", a, b) for i, (a, b) in enumerate(found)]
    graph = Graph(both_ways(steps))
    on_the_way = {step.name for step in graph.on_the_way(POINTS[0], sorted(goals))}
    assert on_the_way == by_enumeration(steps, POINTS[0], sorted(goals))


def test_two_cores_in_parallel_both_carry():
    a, b, c = POINTS[:3]
    steps = [Step("core", "W1", a, b), Step("core", "W2", a, b), Step("core", "spur", b, c)]
    assert {s.name for s in Graph(both_ways(steps)).on_the_way(a, [b])} == {"W1", "W2"}


def test_no_way_leads_through_what_is_barred():
    a, b, c, d = POINTS[:4]
    steps = [Step("core", "W1", a, b), Step("core", "W2", b, d), Step("core", "W3", a, c), Step("core", "W4", c, d)]
    assert {s.name for s in Graph(both_ways(steps)).on_the_way(a, [d], barred=[b])} == {"W3", "W4"}
