"""Which steps lie on a way between two points: against networkx, which finds the same by enumerating every path."""

from __future__ import annotations

import networkx
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.circuit.graph import Graph, Kept, Step, both_ways, traced
from sheetgen.circuit.rail_tree import rail_tree
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


@settings(deadline=None, max_examples=300, derandomize=True)
@given(pairs, pairs, st.sets(st.sampled_from(POINTS[1:]), min_size=1, max_size=3))
def test_between_its_ends_a_graph_has_every_way_it_had_and_no_dead_end(found, made, goals):
    cores = [Step("core", f"W{i}", a, b) for i, (a, b) in enumerate(found)]
    contacts = [Step("contact", f"S{i}", a, b) for i, (a, b) in enumerate(made)]
    ends = {POINTS[0], *goals}
    graph = Graph(both_ways(cores), tuple(contacts)).between(ends)
    on_the_way = {step.name for step in graph.on_the_way(POINTS[0], sorted(goals))}
    assert on_the_way == by_enumeration([*cores, *contacts], POINTS[0], sorted(goals))
    ends.update(t for a, b in made for t in (a, b))
    left = {terminal: [s for s in leaving if s.end in graph.conductors]
            for terminal, leaving in graph.conductors.items() if terminal not in ends}
    assert all(len(leaving) > 1 for leaving in left.values())


@settings(deadline=None, max_examples=300, derandomize=True)
@given(pairs, pairs, st.sets(st.sampled_from(POINTS), min_size=1, max_size=3))
def test_a_walk_that_was_kept_goes_on_by_contacts_to_all_that_is_joined_each_by_a_shortest_way(cores, made, starts):
    conductors = Graph(both_ways(Step("core", f"W{i}", a, b) for i, (a, b) in enumerate(cores)))
    contacts = tuple(Step("contact", f"S{i}", a, b) for i, (a, b) in enumerate(made))
    came = Graph(conductors.conductors, contacts).reached_from(Kept(conductors, sorted(starts)))
    joined = networkx.Graph([*cores, *made])
    joined.add_nodes_from(POINTS)
    away = networkx.multi_source_dijkstra_path_length(joined, starts)
    assert {t: len(traced(came, t)) for t in POINTS if t in came} == away
    for terminal in away:
        steps = traced(came, terminal)
        assert [s.end for s in steps] == [*(s.start for s in steps[1:]), *([terminal] if steps else [])]
        assert (steps[0].start if steps else terminal) in starts


@settings(deadline=None, max_examples=300, derandomize=True)
@given(pairs, st.sets(st.sampled_from(POINTS[1:]), min_size=1, max_size=4))
def test_a_net_as_a_tree_from_its_rail(found, pins):
    joined = networkx.Graph(found)
    net = networkx.node_connected_component(joined, POINTS[0]) if POINTS[0] in joined else {POINTS[0]}
    steps = [Step("core", f"W{i}", a, b) for i, (a, b) in enumerate(found)]
    tree = rail_tree(POINTS[0], net, both_ways(steps))
    assert (tree is None) == (joined.subgraph(net).number_of_edges() >= len(net))
    for pin in pins & net if tree else ():
        way = networkx.shortest_path(joined, pin, POINTS[0])[1:]
        assert list(tree.way_up(pin)) == way
        assert tree.above(pin, pins & net) == next((t for t in way if t in pins), None)


def test_a_net_that_its_conductors_do_not_hold_together_is_no_tree():
    a, b, c = POINTS[:3]
    assert rail_tree(a, [a, b, c], both_ways([Step("core", "W1", a, b)])) is None
