"""The lamps that are on at once, what every conductor then carries, and the volts lost on the way to each lamp."""

from __future__ import annotations

from collections import ChainMap
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from sheetgen.model.accessory import Terminal
from sheetgen.model.reckoning import DropFigures
from sheetgen.model.solution import Group, LampState, Row, Solution
from sheetgen.model.wiring import Wiring
from sheetgen.reckoning.conductors import volts_per_ampere
from sheetgen.reckoning.flow import solve
from sheetgen.reckoning.paths import (
    Route,
    conductor_steps,
    contact_steps,
    rails,
    routes_from,
    routes_on,
    switch_joins,
)
from sheetgen.reckoning.tables import LIGHTING_DROP, OTHER_DROP

NEXT_TO_NOTHING = 1e-6  # ohm of a link, and of a conductor of unknown length, across which no drop is given
MOST_ROWS = 16  # settings of one group that are searched for the worst
CARRYING = (LampState.ON, LampState.DIM)

Chosen = Mapping[int, Row]  # number of the group -> its row


@dataclass(frozen=True)
class Load:
    """A lamp or other load with its two contacts."""

    name: str
    accessory: str
    contacts: tuple[Terminal, Terminal]
    watts: Fraction
    what: str


@dataclass(frozen=True)
class Flow:
    """What flows in one choice of settings: amperes of each core, from its first end to its second; volts lost up to
    each terminal."""

    amps: Mapping[str, float]
    volts: Mapping[Terminal, float]


class Loads:
    """The loads of a wiring, with what is looked up again and again."""

    def __init__(self, wiring: Wiring, solution: Solution):
        self.wiring, self.solution, self.joins = wiring, solution, switch_joins(wiring)
        self.loads = {
            name: Load(name, a.name, (a.terminal(x.a), a.terminal(x.b)), x.watts, x.what)
            for name, a, x in wiring.loads()
        }
        self.all_on: Chosen = {
            i: max(sound, key=lambda row, g=group: self.watts(g, row))
            for i, group in enumerate(solution.groups) if (sound := [r for r in group.rows if not r.shorts])
        }
        self._ends = [
            (core.key, a, b, float(known) if known else NEXT_TO_NOTHING)
            for cable in wiring.cables for core in cable.cores
            if (a := core.ends[0].node) and (b := core.ends[1].node) and a != b
            for known in (volts_per_ampere(cable, core),)
        ]

    def watts(self, group: Group, row: Row) -> Fraction:
        """Of everything in a group that carries current in a row."""
        pairs = zip(group.lamps, row.lamps, strict=True)
        return sum((self.loads[name].watts * lamp.fraction ** 2 for name, lamp in pairs), Fraction(0))

    def condition(self, group: Group, row: Row, terminal: Terminal):
        """Of a terminal in a row of its group."""
        if terminal in self.solution.constant:
            return self.solution.constant[terminal]
        return row.conditions[group.terminals.index(terminal)]

    def flow(self, chosen: Chosen) -> Flow:
        """Solve for the currents with every group in the row chosen for it."""
        knot = self._knots(chosen)
        injected: dict[Terminal, float] = {}
        for i, row in chosen.items():
            group = self.solution.groups[i]
            for name, lamp in zip(group.lamps, row.lamps, strict=True):
                if lamp.state in CARRYING:
                    into, out = self.line_first(group, row, self.loads[name])
                    amps = float(self.loads[name].watts * lamp.fraction / self.wiring.board.voltage)
                    injected[knot.get(into, into)] = injected.get(knot.get(into, into), 0.0) - amps
                    injected[knot.get(out, out)] = injected.get(knot.get(out, out), 0.0) + amps
        ends = [(key, knot.get(a, a), knot.get(b, b), ohms) for key, a, b, ohms in self._ends]
        fixed = [knot.get(t, t) for kind in ("line", "neutral", "earth") for t in rails(self.wiring, kind)]
        volts = solve(((a, b, 1 / ohms) for _, a, b, ohms in ends), injected, fixed)
        amps = {key: (volts.get(a, 0.0) - volts.get(b, 0.0)) / ohms for key, a, b, ohms in ends}
        everywhere = {t: volts.get(knot.get(t, t), 0.0) for t in self.solution.nets}
        return Flow(amps, everywhere)

    def line_first(self, group: Group, row: Row, load: Load) -> tuple[Terminal, Terminal]:
        """The contacts of a load in a row, the one at the higher potential first."""
        a, b = load.contacts
        higher = self.condition(group, row, a).fraction or 0
        return (a, b) if higher > (self.condition(group, row, b).fraction or 0) else (b, a)

    def _knots(self, chosen: Chosen) -> dict[Terminal, Terminal]:
        """Terminals joined by closed contacts, each -> one of them."""
        knot: dict[Terminal, Terminal] = {}
        for i, row in chosen.items():
            for here, leaving in contact_steps(self.joins, self.solution.groups[i], row).items():
                for step in leaving:
                    one, two = knot.get(here, here), knot.get(step.to, step.to)
                    if one != two:
                        for terminal in [t for t, k in knot.items() if k == two] or [two]:
                            knot[terminal] = one
                        knot[here] = knot[two] = one
        return knot


@dataclass
class Greatest:
    """The greatest current of each core (by key), and the greatest sum of currents along each cable's route."""

    amps: dict[str, float]
    unbalanced: dict[str, float]

    def note(self, wiring: Wiring, flow: Flow) -> None:
        """Take one more flow into account."""
        for key, value in flow.amps.items():
            self.amps[key] = max(self.amps.get(key, 0.0), abs(value))
        for name, value in route_sums(wiring, flow).items():
            self.unbalanced[name] = max(self.unbalanced.get(name, 0.0), value)


def route_sums(wiring: Wiring, flow: Flow) -> dict[str, float]:
    """Cable -> the sum of the currents of all cores between the same two accessories; the ways are one place."""
    board = {a.name for a in wiring.accessories if a.kind.rails}
    sums: dict[tuple[str, str], float] = {}
    route: dict[str, tuple[str, str]] = {}
    for cable in wiring.cables:
        a, b = ("" if end in board else end for end in cable.ends)
        route[cable.name] = (min(a, b), max(a, b))
        along = sum(flow.amps.get(core.key, 0.0) for core in cable.cores)
        sums[route[cable.name]] = sums.get(route[cable.name], 0.0) + (along if a <= b else -along)
    return {name: abs(sums[key]) for name, key in route.items()}


def drops_of(loads: Loads) -> tuple[tuple[DropFigures, ...], Greatest]:
    """The drop at each lamp in its worst setting; and the greatest currents."""
    base = loads.flow(loads.all_on)
    greatest = Greatest({}, {})
    greatest.note(loads.wiring, base)
    worst: dict[str, DropFigures] = {}
    routes = _Routes(loads)
    for i, group in enumerate(loads.solution.groups):
        for row in _worth_trying(group, loads.all_on.get(i)):
            flow = base if row == loads.all_on.get(i) else loads.flow({**loads.all_on, i: row})
            greatest.note(loads.wiring, flow)
            for figures in _row_drops(loads, group, row, flow, routes):
                before = worst.get(figures.lamp)
                if before is None or (figures.volts or 0) > (before.volts or 0) + 1e-9:
                    worst[figures.lamp] = figures
    return tuple(worst[name] for name in loads.loads if name in worst), greatest


def _worth_trying(group: Group, first: Row | None) -> Iterable[Row]:
    if first is None:
        return ()
    carrying = [r for r in group.rows if not r.shorts and any(x.state in CARRYING for x in r.lamps)]
    return dict.fromkeys([first, *carrying[:MOST_ROWS]])


class _Routes:
    """Routes along line and neutral, to see which lengths a drop would need."""

    def __init__(self, loads: Loads):
        self.loads, self.steps = loads, conductor_steps(loads.wiring)
        self.base = [routes_from(rails(loads.wiring, kind), self.steps) for kind in ("line", "neutral")]

    def row(self, group: Group, row: Row) -> list[ChainMap[Terminal, Route]]:
        contacts = contact_steps(self.loads.joins, group, row)
        return [ChainMap(routes_on(base, self.steps, contacts), base) for base in self.base]


def _row_drops(loads: Loads, group: Group, row: Row, flow: Flow, routes: _Routes) -> Iterable[DropFigures]:
    lines, neutrals = routes.row(group, row)
    setting = tuple(zip(group.switches, row.setting, strict=True))
    for name, lamp in zip(group.lamps, row.lamps, strict=True):
        load = loads.loads[name]
        line, neutral = (_before_flex(loads.wiring, t) for t in loads.line_first(group, row, load))
        if lamp.state is not LampState.ON or line not in lines or neutral not in neutrals:
            continue
        missing = tuple(dict.fromkeys((*lines[line].missing, *neutrals[neutral].missing)))
        share = LIGHTING_DROP if load.what == "lamp" else OTHER_DROP
        yield DropFigures(
            name, line.accessory, lines[line].start.accessory,
            None if missing else flow.volts[neutral] - flow.volts[line], share * loads.wiring.board.voltage,
            amps=float(load.watts / loads.wiring.board.voltage), setting=setting, missing=missing,
        )


def _before_flex(wiring: Wiring, terminal: Terminal) -> Terminal:
    """The other end of a flex of unknown length, else the terminal itself."""
    for cable in wiring.cables:
        if cable.flex and cable.length is None and terminal.accessory in cable.ends:
            for core in cable.cores:
                nodes = [end.node for end in core.ends]
                if terminal in nodes and nodes[1 - nodes.index(terminal)] is not None:
                    return nodes[1 - nodes.index(terminal)]
    return terminal
