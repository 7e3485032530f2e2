"""The volts lost on the way to each lamp in its worst setting, and the greatest current of every conductor."""

from __future__ import annotations

from collections import ChainMap
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from sheetgen.circuit.conduit import passed_by, stretches
from sheetgen.judge.figures.loads import Currents, Loads
from sheetgen.judge.figures.paths import Route, conductor_steps, contact_steps, rails, routes_from, routes_on
from sheetgen.judge.figures.tables import LIGHTING_DROP, OTHER_DROP
from sheetgen.model.accessory import Terminal
from sheetgen.model.reckoning import DropFigures
from sheetgen.model.solution import LIT, Group, LampState, Row
from sheetgen.model.wiring import Wiring

MOST_ROWS = 16  # settings of one group that are searched for the worst


@dataclass
class Greatest:
    """The greatest current of each core (by key), and the greatest sum of currents along each cable's route."""

    runs: Runs
    amps: dict[str, float] = field(default_factory=dict)
    unbalanced: dict[str, float] = field(default_factory=dict)

    def note(self, wiring: Wiring, flow: Currents) -> None:
        """Take one more flow into account."""
        for key, value in flow.amps.items():
            self.amps[key] = max(self.amps.get(key, 0.0), abs(value))
        for name, value in route_sums(wiring, self.runs, flow).items():
            self.unbalanced[name] = max(self.unbalanced.get(name, 0.0), value)


Runs = Mapping[str, Sequence[tuple[str, str]]]  # cable -> its way from box to box; the board is ""


def runs_of(wiring: Wiring) -> Runs:
    """The stretches of every cable: one, or, of a single that passes boxes in its conduit, several."""
    board = {a.name for a in wiring.accessories if a.kind.rails}
    passed = passed_by(wiring)
    return {cable.name: [("" if a in board else a, "" if b in board else b) for a, b in stretches(cable, passed)]
            for cable in wiring.cables}


def route_sums(wiring: Wiring, runs: Runs, flow: Currents) -> dict[str, float]:
    """Cable -> the sum of the currents of all cores that run together, where along its way it is greatest."""
    sums: dict[tuple[str, str], float] = {}
    for cable in wiring.cables:
        along = sum(flow.amps.get(core.key, 0.0) for core in cable.cores)
        for a, b in runs[cable.name]:
            key, share = ((a, b), along) if a <= b else ((b, a), -along)
            sums[key] = sums.get(key, 0.0) + share
    return {name: max(abs(sums[min(a, b), max(a, b)]) for a, b in ways) for name, ways in runs.items()}


def drops_of(loads: Loads) -> tuple[tuple[DropFigures, ...], Greatest]:
    """The drop at each lamp in its worst setting; and the greatest currents."""
    base = loads.flow(loads.all_on)
    greatest = Greatest(runs_of(loads.wiring))
    greatest.note(loads.wiring, base)
    worst: dict[str, DropFigures] = {}
    routes = _Routes(loads)
    for i, first in loads.all_on.items():
        group = loads.solution.groups[i]
        seen = set()
        for row in _worth_trying(group, first):
            ways = routes.row(group, row)
            taken = _taken(loads, group, row, ways)
            if taken in seen:
                continue  # the same lamps by the same cables: the same currents and drops
            seen.add(taken)
            flow = base
            if row is not first:
                flow = loads.flow({**loads.all_on, i: row})
                greatest.note(loads.wiring, flow)
            for figures in _row_drops(loads, group, row, flow, ways):
                before = worst.get(figures.lamp)
                if before is None or (figures.volts or 0) > (before.volts or 0) + 1e-9:
                    worst[figures.lamp] = figures
    return tuple(worst[name] for name in loads.loads if name in worst), greatest


def _worth_trying(group: Group, first: Row) -> Iterable[Row]:
    carrying = [r for r in group.rows if not r.shorts and any(x.state in LIT for x in r.lamps)]
    return dict.fromkeys([first, *carrying[:MOST_ROWS]])


Ways = list[ChainMap[Terminal, Route]]
Taken = tuple[str, tuple[str, ...], tuple[str, ...]]  # a lamp, and the cables of its line and its neutral


def _taken(loads: Loads, group: Group, row: Row, ways: Ways) -> tuple[Taken, ...]:
    """The lamps that are on and the cables that their line and neutral come by."""
    lines, neutrals = ways
    taken = []
    for name, lamp in zip(group.lamps, row.lamps, strict=True):
        if lamp.state in LIT:
            line, neutral = loads.line_first(group, row, loads.loads[name])
            taken.append((name, _came_by(lines, line, row), _came_by(neutrals, neutral, row)))
    return tuple(taken)


def _came_by(routes: Mapping[Terminal, Route], terminal: Terminal, row: Row) -> tuple[str, ...]:
    """The cables by which it is reached; where it is not, the setting, which no other shares."""
    return tuple(sorted(routes[terminal].cables)) if terminal in routes else ("", *row.setting)


class _Routes:
    """Routes along line and neutral, to see which lengths a drop would need."""

    def __init__(self, loads: Loads):
        self.loads, self.steps = loads, conductor_steps(loads.wiring)
        self.base = [routes_from(rails(loads.wiring, kind), self.steps) for kind in ("line", "neutral")]

    def row(self, group: Group, row: Row) -> Ways:
        contacts = contact_steps(self.loads.joins, group, row)
        return [ChainMap(routes_on(base, self.steps, contacts), base) for base in self.base]


def _row_drops(loads: Loads, group: Group, row: Row, flow: Currents, ways: Ways) -> Iterable[DropFigures]:
    lines, neutrals = ways
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
                one, other = (end.node for end in core.ends)
                if one and other and terminal in (one, other):
                    return other if terminal == one else one
    return terminal
