"""Where current flows in one setting of a group: from line through contacts, conductors and lamps to neutral.

What is joined is at one potential, so within it the current is led the shortest way from the rail; where conductors lie
in parallel, the others carry a share that is not told.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from sheetgen.circuit.circuit import Circuit
from sheetgen.circuit.graph import Graph, Step, traced, turned
from sheetgen.model.accessory import Terminal
from sheetgen.model.solution import Group, Row


@dataclass(frozen=True)
class Path:
    """How current reaches a load and returns: the last step of `there` ends on it, the first of `back` begins on it."""

    load: str
    there: tuple[Step, ...]
    through: Step
    back: tuple[Step, ...]


@dataclass(frozen=True)
class Flow:
    """The paths of every load that carries current, in the order of the group's loads."""

    paths: tuple[Path, ...]

    def steps(self) -> dict[tuple[str, str], Step]:
        """Every step once, by kind and name; a switch of two poles may appear under each of its contacts."""
        found: dict[tuple[str, str], Step] = {}
        for path in self.paths:
            for step in (*path.there, path.through, *path.back):
                key = step.name if step.kind != "contact" else f"{step.name}: {min(step.start, step.end)}"
                found.setdefault((step.kind, key), step)
        return found


def flow_of(circuit: Circuit, group: Group, row: Row) -> Flow:
    """Where current flows in a setting; nowhere while it shorts a line, for then the device opens."""
    return Flow(tuple(_paths(circuit, group, row, group.lamps)))


def path_of(circuit: Circuit, group: Group, row: Row, load: str) -> Path | None:
    """The path of one load in a setting; None where it carries no current."""
    return next(_paths(circuit, group, row, (load,)), None)


def _paths(circuit: Circuit, group: Group, row: Row, wanted: Collection[str]) -> Iterator[Path]:
    if row.shorts or circuit.solution.shorts:
        return
    loads = carrying(circuit, group, row)
    led = _Led(circuit, circuit.graph(group, row), loads)
    for load in loads:
        if load.name in wanted:
            yield Path(load.name, led.there(load.start), load, led.back(load.end))


def carrying(circuit: Circuit, group: Group, row: Row) -> list[Step]:
    """The loads that carry current in a setting, each as a step from its higher contact to its lower."""
    found = []
    for name, lamp in zip(group.lamps, row.lamps, strict=True):
        if lamp.fraction:
            a, b = circuit.contacts[name]
            at_a, at_b = (circuit.condition(group, row, t).fraction or 0 for t in (a, b))
            found.append(Step("load", name, *((a, b) if at_a > at_b else (b, a))))
    return found


class _Led:
    """The shortest way from the rails to every terminal that is joined to one, and on through other loads."""

    def __init__(self, circuit: Circuit, graph: Graph, loads: list[Step]):
        self.graph = graph
        self.after = {load.end: load for load in loads}
        self.before = {load.start: load for load in loads}
        self.came = circuit.reached_from_rails(graph, "line", "neutral", "earth")

    def there(self, terminal: Terminal) -> tuple[Step, ...]:
        """The steps from line to a terminal; through the load before it where only that brings line to it."""
        if terminal in self.came:
            return traced(self.came, terminal)
        came = self.graph.reached([terminal])
        first = next(t for t in came if t in self.after)
        load = self.after[first]
        return (*self.there(load.start), load, *turned(traced(came, first)))

    def back(self, terminal: Terminal) -> tuple[Step, ...]:
        """The steps from a terminal to neutral; through the load after it where there is no other way."""
        if terminal in self.came:
            return turned(traced(self.came, terminal))
        came = self.graph.reached([terminal])
        first = next(t for t in came if t in self.before)
        load = self.before[first]
        return (*traced(came, first), load, *self.back(load.end))
