"""The way along conductors and closed contacts from the board to every terminal."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from heapq import heappop, heappush

from sheetgen.judge.figures.conductors import ohms, what_is_missing
from sheetgen.model.accessory import Terminal
from sheetgen.model.solution import Group, Row
from sheetgen.model.wiring import Wiring


@dataclass(frozen=True)
class RouteStep:
    """A conductor or a closed contact between two terminals."""

    to: Terminal
    ohms: Fraction = Fraction(0)
    cable: str = ""  # "" for a contact
    missing: str = ""  # what must be given for its resistance
    switch: str = ""  # the switch whose contact it is
    position: str = ""


@dataclass(frozen=True)
class Route:
    """The shortest way to one terminal from where it starts."""

    start: Terminal
    ohms: Fraction = Fraction(0)  # of what is given
    cables: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    setting: tuple[tuple[str, str], ...] = ()

    @property
    def length(self) -> tuple[Fraction, int]:
        """By resistance, then by the number of conductors."""
        return self.ohms, len(self.cables)

    def then(self, step: RouteStep) -> Route:
        """One step further."""
        missing = (step.missing,) if step.missing and step.missing not in self.missing else ()
        setting = ((step.switch, step.position),) if step.switch else ()
        cables = (step.cable,) if step.cable else ()
        return Route(
            self.start, self.ohms + step.ohms if step.ohms else self.ohms, self.cables + cables,
            self.missing + missing, self.setting + setting,
        )


Steps = Mapping[Terminal, list[RouteStep]]


def conductor_steps(wiring: Wiring) -> dict[Terminal, list[RouteStep]]:
    """Each terminal -> the conductors that leave it."""
    steps: dict[Terminal, list[RouteStep]] = {}
    for cable in wiring.cables:
        for core in cable.cores:
            a, b = core.ends[0].node, core.ends[1].node
            if a and b:
                known = ohms(cable, core)
                missing = "" if known is not None else what_is_missing(cable)
                for here, there in ((a, b), (b, a)):
                    steps.setdefault(here, []).append(RouteStep(there, known or Fraction(0), cable.name, missing))
    return steps


Joins = Mapping[tuple[str, str], list[tuple[Terminal, Terminal]]]


def switch_joins(wiring: Wiring) -> dict[tuple[str, str], list[tuple[Terminal, Terminal]]]:
    """Switch and position -> the pairs of terminals joined in it."""
    return {
        (name, position.name): [(accessory.terminal(a), accessory.terminal(b)) for a, b in position.joins]
        for name, accessory, switch in wiring.switches() for position in switch.positions
    }


def contact_steps(joins: Joins, group: Group, row: Row) -> dict[Terminal, list[RouteStep]]:
    """Each terminal -> the contacts closed in a setting that leave it."""
    steps: dict[Terminal, list[RouteStep]] = {}
    for switch, position in zip(group.switches, row.setting, strict=True):
        add_contacts(steps, joins, switch, position)
    return steps


def add_contacts(steps: dict[Terminal, list[RouteStep]], joins: Joins, switch: str, position: str) -> None:
    """The contacts of one switch that are closed in a position, from either side."""
    for a, b in joins[switch, position]:
        for here, there in ((a, b), (b, a)):
            steps.setdefault(here, []).append(RouteStep(there, switch=switch, position=position))


def routes_from(starts: Iterable[Terminal], steps: Steps) -> dict[Terminal, Route]:
    """The shortest route to every terminal that conductors alone reach."""
    return _spread([(Route(start), start) for start in starts], steps, {}, {})


def routes_on(reached: Mapping[Terminal, Route], steps: Steps, contacts: Steps) -> dict[Terminal, Route]:
    """The terminals that closed contacts add to those reached already."""
    beyond = [
        (reached[here].then(step), step.to)
        for here, leaving in contacts.items() if here in reached
        for step in leaving if step.to not in reached
    ]
    return _spread(beyond, steps, contacts, reached)


def _spread(
    first: list[tuple[Route, Terminal]], steps: Steps, contacts: Steps, reached: Mapping[Terminal, Route]
) -> dict[Terminal, Route]:
    found: dict[Terminal, Route] = {}
    ahead: list[tuple[tuple[Fraction, int], int, Route, Terminal]] = []
    for i, (route, terminal) in enumerate(first):
        heappush(ahead, (route.length, i, route, terminal))
    order = len(ahead)
    while ahead:
        _, _, route, here = heappop(ahead)
        if here in found or here in reached:
            continue
        found[here] = route
        for step in (*steps.get(here, ()), *contacts.get(here, ())):
            if step.to not in found and step.to not in reached:
                order += 1
                further = route.then(step)
                heappush(ahead, (further.length, order, further, step.to))
    return found


def rails(wiring: Wiring, kind: str) -> tuple[Terminal, ...]:
    """The terminals of the board that are of this kind: "line", "neutral", "earth"."""
    return tuple(a.terminal(t) for a in wiring.accessories for t, k in a.kind.rails if k == kind)
