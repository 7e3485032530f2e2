"""What happens in a setting, as values: how far line comes, which contact stops it, which lamps lack what."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from sheetgen.circuit import Circuit
from sheetgen.circuit.current import Flow, flow_of
from sheetgen.circuit.graph import Came, Step, traced
from sheetgen.model.accessory import Terminal
from sheetgen.model.solution import LIT, Condition, Group, Lamp, LampState, Potential, Row


@dataclass(frozen=True)
class Fact:
    """One thing a sentence says. Which terminals it speaks of depends on `what`:

    "line at" (terminal), "neutral at" (terminal), "no line at" (terminal), "carries" (core `name` from terminal to
    other), "passes" (contact of switch `name` from terminal to other), "open" (contact of switch `name` between
    terminal and other), "position" (switch `name` at `value`), "lamp" (`name` is in state `value`), "short" (terminal
    to other).
    """

    what: str
    terminal: Terminal | None = None
    other: Terminal | None = None
    name: str = ""
    value: str = ""


@dataclass(frozen=True)
class Stop:
    """A contact that stands elsewhere: what comes to `near` is kept from `far`. `steps` lead to `near` from a rail."""

    switch: str
    near: Terminal
    far: Terminal
    steps: tuple[Step, ...]


@dataclass(frozen=True)
class Dark:
    """A lamp that is not lit: its contacts, what it lacks ("line", "neutral", "both", "neither"), what cuts it off."""

    lamp: str
    state: LampState
    lacks: str
    contacts: tuple[Terminal, Terminal]  # the one that lacks it first
    stops: tuple[Stop, ...]


@dataclass(frozen=True)
class Account:
    """One setting of a group."""

    setting: Mapping[str, str]
    lamps: Mapping[str, Lamp]
    at: Mapping[Terminal, Condition]
    flow: Flow
    dark: tuple[Dark, ...]
    fronts: tuple[Stop, ...]  # where line ends at a contact that stands elsewhere
    fed: bool  # line comes to a switch or a lamp of the group at all


def account_of(circuit: Circuit, group: Group, row: Row) -> Account:
    """What happens in a setting."""
    return _Looking(circuit, group, row).account()


class _Looking:
    def __init__(self, circuit: Circuit, group: Group, row: Row):
        self.circuit, self.group, self.row = circuit, group, row
        self.at = circuit.conditions_in(group, row)
        self.setting = dict(zip(group.switches, row.setting, strict=True))
        self.graph = circuit.graph(group, row)
        self.rows = {other.setting: other for other in group.rows}
        self.contacts = tuple(self._open_contacts())
        self.line = circuit.reached_from_rails(self.graph, "line")
        self.neutral = circuit.reached_from_rails(self.graph, "neutral", "earth")

    def account(self) -> Account:
        """The whole of it."""
        lamps = dict(zip(self.group.lamps, self.row.lamps, strict=True))
        ends = self.circuit.contacts
        dark = tuple(self._dark(name, lamp.state, ends[name]) for name, lamp in lamps.items()
                     if lamp.state not in LIT)
        own = [t for switch, a, b in self.contacts for t in (a, b)]
        own += [t for step in self.graph.contacts for t in (step.start, step.end)]
        own += [t for name in self.group.lamps for t in ends[name]]
        return Account(
            self.setting, lamps, self.at, self._flow(lamps), dark,
            self._stops(self.line, lambda far: not self.at[far].live and far not in self.line),
            any(t in self.line for t in own),
        )

    def _flow(self, lamps: Mapping[str, Lamp]) -> Flow:
        """The paths of the loads that are lit; a trace of current makes no path worth telling."""
        return Flow(tuple(path for path in flow_of(self.circuit, self.group, self.row).paths
                          if lamps[path.load].state in LIT))

    def _open_contacts(self) -> Iterable[tuple[str, Terminal, Terminal]]:
        """(switch, terminal, terminal) for every pair that another position of a switch of the group would join."""
        for name, stands in self.setting.items():
            accessory, switch = self.circuit.switches[name]
            made = {frozenset(p) for pos in switch.positions if pos.name == stands for p in pos.joins}
            pairs = dict.fromkeys(pair for pos in switch.positions for pair in pos.joins)
            for a, b in pairs:
                if frozenset((a, b)) not in made:
                    yield name, accessory.terminal(a), accessory.terminal(b)

    def _stops(self, came: Came, wanted: Callable[[Terminal], bool]) -> tuple[Stop, ...]:
        """Open contacts between what `came` reaches and a terminal that is wanted; the furthest from the rail first."""
        found = [
            Stop(switch, near, far, traced(came, near))
            for switch, a, b in self.contacts
            for near, far in ((a, b), (b, a))
            if near in came and far not in came and wanted(far)
        ]
        return tuple(sorted(found, key=lambda stop: -len(stop.steps)))

    def _dark(self, name: str, state: LampState, ends: tuple[Terminal, Terminal]) -> Dark:
        a, b = ends
        has_line = [t for t in ends if t in self.line]
        has_neutral = [t for t in ends if t in self.neutral]
        if has_line and not has_neutral:
            lacking = b if a in self.line else a
            lacks = "neutral" if len(has_line) == 1 else "neither"
            return Dark(name, state, lacks, self._first(lacking, ends), self._cuts(lacking, self.neutral))
        if has_neutral and not has_line:
            lacking = b if a in self.neutral else a
            lacks = "line" if len(has_neutral) == 1 else "neither"
            return Dark(name, state, lacks, self._first(lacking, ends), self._cuts(lacking, self.line))
        return Dark(name, state, "both", ends, self._cuts(a, self.line) or self._cuts(b, self.line))

    @staticmethod
    def _first(lacking: Terminal, ends: tuple[Terminal, Terminal]) -> tuple[Terminal, Terminal]:
        return ends if ends[0] == lacking else (ends[1], ends[0])

    def _cuts(self, lacking: Terminal, came: Mapping[Terminal, Step | None]) -> tuple[Stop, ...]:
        """The open contacts that part what a lamp's contact is joined to from what it lacks."""
        beyond = self.graph.reached([lacking])
        stops = self._stops(came, lambda far: far in beyond)
        for goal in (lambda _: lacking, lambda stop: stop.far):
            if passing := tuple(stop for stop in stops if self._would_pass(stop, goal(stop), came is self.line)):
                return passing
        return stops

    def _would_pass(self, stop: Stop, goal: Terminal, line: bool) -> bool:
        """Another position of the switch, the others as they stand, brings what is stopped to a terminal beyond.

        It does not where the position that joins the two parts what leads there: a fan's timer stops nothing of a lamp.
        """
        place = self.group.switches.index(stop.switch)
        accessory, switch = self.circuit.switches[stop.switch]
        pair = {stop.near, stop.far}
        for position in switch.positions:
            if pair in ({accessory.terminal(a), accessory.terminal(b)} for a, b in position.joins):
                row = self.rows.get((*self.row.setting[:place], position.name, *self.row.setting[place + 1:]))
                if row is None or row.shorts:
                    return True  # not worked out, or not as it would be
                there = self.circuit.condition(self.group, row, goal)
                wanted = (Potential.LINE,) if line else (Potential.NEUTRAL, Potential.EARTH)
                if there.solid and there.potential in wanted:
                    return True
        return False


def at_line(condition: Condition) -> bool:
    """Joined to a line without a load between."""
    return condition.potential is Potential.LINE and condition.solid
