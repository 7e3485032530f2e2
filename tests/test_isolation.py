"""Whoever opens an accessory with the named circuits off touches nothing live, whatever is parted there.

The oracle is a walk of its own: one way of the board alone is on, every core is off its terminal at the accessory, and
what then hangs on a line, be it through loads, with no solid neutral or earth, is live.
"""

from __future__ import annotations

from pathlib import Path

import networkx
import pytest
from circuits import Circuit
from hypothesis import given, settings
from kept_houses import houses, one_process
from kept_houses import judged as judged_house

from sheetgen.circuit import Circuit as OfCircuit
from sheetgen.judge.isolation import to_open
from sheetgen.judge.roles import nets_of
from sheetgen.model.solution import Solution
from sheetgen.model.wiring import Wiring
from sheetgen.pipeline import wiring_of
from sheetgen.solve.wiring_to_solution import wiring_to_solution

HERE = Path(__file__).parent
EXAMPLES = HERE.parent / "examples"
MOST_ROWS = 16
MEETING = [EXAMPLES / "landing-borrowed-neutral.yaml", *(HERE / "pages" / "faulty").glob("*.yaml")]


def live_when_parted(wiring: Wiring, solution: Solution, accessory: str) -> set[str]:
    """The ways that, alone switched on, make a core end at an accessory live in any setting when all are parted."""
    rails = {a.terminal(t): (a.name, kind) for a in wiring.accessories for t, kind in a.kind.rails}
    contacts = {(name, p.name): [(a.terminal(x), a.terminal(y)) for x, y in p.joins]
                for name, a, switch in wiring.switches() for p in switch.positions}
    solid, ends = networkx.Graph(), []
    solid.add_nodes_from(wiring.nodes())
    for core in wiring.cores():
        a, b = [(core.key, i) if end.accessory == accessory else end.node for i, end in enumerate(core.ends)]
        solid.add_nodes_from(filter(None, (a, b)))
        if a and b:
            solid.add_edge(a, b)
        ends += [node for node, end in zip((a, b), core.ends, strict=True) if end.accessory == accessory
                 and not core.cpc]
    loads = [(a.terminal(x.a), a.terminal(x.b)) for a in wiring.accessories for x in a.kind.loads]
    found = set()
    for rows in [[(g, row) for row in g.rows[:MOST_ROWS]] for g in solution.groups] or [[(None, None)]]:
        for group, row in rows:
            graph = solid.copy()
            for name, position in zip(group.switches, row.setting, strict=True) if group else ():
                graph.add_edges_from(contacts[name, position])
            knot = {t: i for i, part in enumerate(networkx.connected_components(graph)) for t in part}
            held = {knot[t] for t, (_, kind) in rails.items() if kind in ("neutral", "earth")}
            through = networkx.Graph()
            through.add_nodes_from(set(knot.values()) - held)
            through.add_edges_from((knot[a], knot[b]) for a, b in loads if not {knot[a], knot[b]} & held)
            for rail, (way, kind) in rails.items():
                if kind == "line" and knot[rail] not in held:
                    live = networkx.node_connected_component(through, knot[rail])
                    if any(knot[end] in live for end in ends):
                        found.add(way)
    return found


def check(wiring: Wiring, solution: Solution, at) -> None:
    board = {a.name for a in wiring.accessories if a.kind.rails}
    for accessory in wiring.accessories:
        if accessory.name not in board:
            live = live_when_parted(wiring, solution, accessory.name)
            assert live <= set(at.get(accessory.name, ())), accessory.name


def check_of(wiring: Wiring) -> None:
    circuit = OfCircuit(wiring, wiring_to_solution(wiring))
    check(wiring, circuit.solution, to_open(circuit, nets_of(circuit)))


@pytest.mark.parametrize("path", MEETING, ids=lambda path: path.stem)
def test_with_the_named_circuits_off_nothing_is_live_whatever_is_parted_where_circuits_meet(path):
    check_of(wiring_of(path.read_bytes()))


@one_process
@settings(deadline=None, max_examples=48, derandomize=True)
@given(houses())
def test_so_it_is_in_any_house(wiring: Wiring):
    check_of(wiring)


def test_a_box_that_the_borrowed_neutral_alone_passes_is_opened_with_the_circuit_of_the_line_off():
    c = Circuit()
    one, two = c.way("1"), c.way("2")
    c.put("Rose", "ceiling rose")
    c.put("Switch", "one-way switch")
    c.put("Box", "joint box")
    line, neutral = (c.accessories[-1].kind.terminals[i].name for i in (0, 1))
    c.single(one.accessory, "L", "Switch", "COM")
    c.single("Switch", "L1", "Rose", "SL")
    c.neutral(two.accessory, "N", "Box", neutral)
    c.neutral("Box", neutral, "Rose", "N")
    c.pendant("Rose")
    wiring = c.wiring()
    solution, reading = judged_house(wiring)
    check(wiring, solution, reading.isolation.at)
    assert line != neutral and reading.isolation.at == {
        "Switch": ("way 1",), "Rose": ("way 1", "way 2"), "Box": ("way 1", "way 2"), "Rose lamp": ("way 1", "way 2")}
    assert reading.isolation.with_way == {"way 1": ("way 1", "way 2"), "way 2": ("way 1", "way 2")}
    assert reading.isolation.meets == dict.fromkeys(("way 1", "way 2"), ("Rose", "Box", "Rose lamp"))


def test_circuits_that_share_a_box_and_nothing_else_are_isolated_together_there_alone():
    c = Circuit()
    feeds = [c.way("1"), c.way("2")]
    c.put("Plate", "plate", gangs={"a": "one-way", "b": "one-way"})
    for feed, gang in zip(feeds, "ab", strict=True):
        light = c.put(f"Light {gang}", "light fitting")
        c.single(feed.accessory, "L", "Plate", f"{gang}.COM")
        c.single("Plate", f"{gang}.L1", light, "L")
        c.neutral(feed.accessory, "N", light, "N")
    at = judged_house(c.wiring())[1].isolation.at
    assert at == {"Plate": ("way 1", "way 2"), "Light a": ("way 1",), "Light b": ("way 2",)}


def test_a_neutral_that_a_switch_puts_at_the_line_of_another_circuit_is_worked_on_with_both_off():
    c = Circuit()
    one, two = c.way("1"), c.way("2")
    c.put("Switch", "one-way switch")
    c.put("Light", "light fitting")
    c.put("Box", "joint box")
    joint = c.accessories[-1].kind.terminals[0].name
    c.single(one.accessory, "L", "Switch", "COM")
    c.single("Switch", "L1", "Light", "N")
    c.neutral("Light", "N", "Box", joint)
    c.neutral("Box", joint, two.accessory, "N")
    wiring = c.wiring()
    check_of(wiring)
    assert judged_house(wiring)[1].isolation.at["Box"] == ("way 1", "way 2")
