"""Where current flows in one setting of a group: from line through contacts, conductors and lamps to neutral.

Not a stage: the story and the diagram both ask it. What is joined is at one potential, so within it the current is led
the shortest way from the rail; where conductors lie in parallel, the others carry a share that is not told.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from sheetgen.model.accessory import Terminal
from sheetgen.model.solution import Condition, Group, Row, Solution
from sheetgen.model.wiring import Wiring


class Step(NamedTuple):
    """Current from one terminal to the next, by a core, a contact or a load."""

    kind: str  # "core", "contact", "load"
    name: str  # Core.key, the switch, the load
    start: Terminal
    end: Terminal


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


def made_contacts(wiring: Wiring, group: Group, row: Row) -> tuple[Step, ...]:
    """The contacts that the switches of a group make in a setting."""
    setting = dict(zip(group.switches, row.setting, strict=True))
    return tuple(
        Step("contact", name, accessory.terminal(a), accessory.terminal(b))
        for name, accessory, switch in wiring.switches()
        if name in setting
        for position in switch.positions
        if position.name == setting[name]
        for a, b in position.joins
    )


def conditions_of(solution: Solution, group: Group, row: Row) -> Mapping[Terminal, Condition]:
    """The condition in a setting of every terminal whose condition this group, or nothing, changes."""
    return {**solution.constant, **dict(zip(group.terminals, row.conditions, strict=True))}


def flow_of(wiring: Wiring, solution: Solution, group: Group, row: Row) -> Flow:
    """Where current flows in a setting; nowhere while it shorts a line, for then the device opens."""
    if row.shorts or solution.shorts:
        return Flow(())
    at = conditions_of(solution, group, row)
    near = _near(wiring, made_contacts(wiring, group, row))
    rails = [accessory.terminal(name) for accessory in wiring.accessories for name, _ in accessory.kind.rails]
    ends = {name: (accessory.terminal(load.a), accessory.terminal(load.b)) for name, accessory, load in wiring.loads()}
    loads = [
        Step("load", name, *(pair if at[pair[0]].fraction > at[pair[1]].fraction else pair[::-1]))
        for name, lamp in zip(group.lamps, row.lamps, strict=True)
        if lamp.fraction
        for pair in (ends[name],)
    ]
    led = _Led(near, rails, loads)
    return Flow(tuple(Path(load.name, led.there(load.start), load, led.back(load.end)) for load in loads))


Near = Mapping[Terminal, list[Step]]


def _near(wiring: Wiring, contacts: tuple[Step, ...]) -> dict[Terminal, list[Step]]:
    near: dict[Terminal, list[Step]] = {}
    for step in (*_conductors(wiring), *contacts):
        near.setdefault(step.start, []).append(step)
        near.setdefault(step.end, []).append(step._replace(start=step.end, end=step.start))
    return near


def _conductors(wiring: Wiring) -> Iterator[Step]:
    for core in wiring.cores():
        a, b = core.ends[0].node, core.ends[1].node
        if a is not None and b is not None and a != b:
            yield Step("core", core.key, a, b)


class _Led:
    """The shortest way from the rails to every terminal that is joined to one, and on through other loads."""

    def __init__(self, near: Near, rails: list[Terminal], loads: list[Step]):
        self.near = near
        self.after = {load.end: load for load in loads}
        self.before = {load.start: load for load in loads}
        self.came = self._reached(rails)

    def _reached(self, starts: Collection[Terminal]) -> dict[Terminal, Step | None]:
        came: dict[Terminal, Step | None] = dict.fromkeys(starts)
        ahead = deque(starts)
        while ahead:
            for step in self.near.get(ahead.popleft(), ()):
                if step.end not in came:
                    came[step.end] = step
                    ahead.append(step.end)
        return came

    def there(self, terminal: Terminal) -> tuple[Step, ...]:
        """The steps from line to a terminal; through the load before it where only that brings line to it."""
        if terminal in self.came:
            return _traced(self.came, terminal)
        came = self._reached([terminal])
        first = next(t for t in came if t in self.after)
        load = self.after[first]
        return (*self.there(load.start), load, *_turned(_traced(came, first)))

    def back(self, terminal: Terminal) -> tuple[Step, ...]:
        """The steps from a terminal to neutral; through the load after it where there is no other way."""
        if terminal in self.came:
            return _turned(_traced(self.came, terminal))
        came = self._reached([terminal])
        first = next(t for t in came if t in self.before)
        load = self.before[first]
        return (*_traced(came, first), load, *self.back(load.end))


def _traced(came: Mapping[Terminal, Step | None], terminal: Terminal) -> tuple[Step, ...]:
    """The steps by which a terminal was reached."""
    steps: list[Step] = []
    while (step := came.get(terminal)) is not None:
        steps.append(step)
        terminal = step.start
    return tuple(reversed(steps))


def _turned(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The same steps the other way."""
    return tuple(step._replace(start=step.end, end=step.start) for step in reversed(steps))
