"""R1+R2, Rn+R2 and Zs at every accessory, from the lengths."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from sheetgen.judge.figures.parallel import earth_routes
from sheetgen.judge.figures.paths import (
    Route,
    RouteStep,
    Steps,
    add_contacts,
    conductor_steps,
    contact_steps,
    rails,
    routes_from,
    routes_on,
    switch_joins,
)
from sheetgen.judge.figures.tables import HOT
from sheetgen.model.accessory import Accessory, Level, Meant, Terminal
from sheetgen.model.reckoning import PointFigures, Setting
from sheetgen.model.solution import Group, Row, Solution
from sheetgen.model.wiring import Wiring

MOST_ROWS = 64  # settings of one group that are searched for the longest way to a terminal

Routes = Mapping[Terminal, Route]


def points_of(wiring: Wiring, solution: Solution) -> tuple[PointFigures, ...]:
    """Every accessory with an earth terminal that the line of a way reaches, once for each way.

    The neutral is that of the way; of one that comes with none, what else returns there.
    """
    steps = conductor_steps(wiring)
    lines, neutrals = _Longest(wiring, solution, "line", steps), _Longest(wiring, solution, "neutral", steps)
    return tuple(_points(wiring, lines, neutrals.routes, earth_routes(wiring, steps)))


class _Longest:
    """To every terminal the shortest route in each setting; of those the longest, which a test must not exceed."""

    def __init__(self, wiring: Wiring, solution: Solution, kind: str, steps: Steps):
        self.steps, self.joins = steps, switch_joins(wiring)
        self.by_conductors = routes_from(rails(wiring, kind), steps)
        self.routes: dict[Terminal, Route] = dict(self.by_conductors)
        self.stands: dict[Terminal, tuple[Group, Row]] = {}  # the setting that gives a route its length
        for group in solution.groups:
            for row in group.rows[:MOST_ROWS]:
                if group.switches and not row.shorts:
                    self._add(group, row)

    def _add(self, group: Group, row: Row) -> None:
        for terminal, route in routes_on(self.by_conductors, self.steps, contact_steps(self.joins, group, row)).items():
            if terminal not in self.routes or route.length > self.routes[terminal].length:
                self.routes[terminal], self.stands[terminal] = route, (group, row)

    def setting(self, terminal: Terminal) -> Setting:
        """What the route passes, and what at another position would make it shorter.

        No position of any other switch of the group changes the length.
        """
        route = self.routes[terminal]
        named = dict(route.setting)
        if terminal in self.stands:
            group, row = self.stands[terminal]
            stands = dict(zip(group.switches, row.setting, strict=True))
            while (shorter := self._shortest(terminal, group, named)).length < route.length:
                switch = next(switch for switch, _ in shorter.setting if switch not in named)
                named[switch] = stands[switch]
        return tuple(named.items())

    def _shortest(self, terminal: Terminal, group: Group, named: Mapping[str, str]) -> Route:
        """With every switch that is not named at all of its positions at once."""
        contacts: dict[Terminal, list[RouteStep]] = {}
        for switch, positions in zip(group.switches, group.positions, strict=True):
            for position in positions:
                if named.get(switch, position) == position:
                    add_contacts(contacts, self.joins, switch, position)
        return routes_on(self.by_conductors, self.steps, contacts)[terminal]


def _points(wiring: Wiring, longest: _Longest, neutrals: Routes, earths: Routes) -> Iterator[PointFigures]:
    for accessory in wiring.accessories:
        if accessory.kind.level is Level.BOARD or not any(t.meant is Meant.EARTH for t in accessory.kind.terminals):
            continue
        lines, returns = _furthest(accessory, longest.routes), _furthest(accessory, neutrals)
        for way, line in ((w.accessory, lines[w.accessory]) for w in wiring.board.ways if w.accessory in lines):
            neutral = returns.get(way) or next((t for w, t in returns.items() if w not in lines), None)
            yield _point(wiring, accessory, line, neutral, longest, neutrals, earths)


def _furthest(accessory: Accessory, routes: Routes) -> dict[str, Terminal]:
    """Of each way that reaches an accessory the terminal that lies furthest."""
    found: dict[str, Terminal] = {}
    for terminal in (accessory.terminal(k.name) for k in accessory.kind.terminals):
        if terminal in routes:
            way = routes[terminal].start.accessory
            if way not in found or routes[terminal].length > routes[found[way]].length:
                found[way] = terminal
    return found


def _point(
    wiring: Wiring, accessory: Accessory, line: Terminal, neutral: Terminal | None, longest: _Longest,
    neutrals: Routes, earths: Routes,
) -> PointFigures:
    earth = next((t for k in accessory.kind.terminals if k.meant is Meant.EARTH
                  and (t := accessory.terminal(k.name)) in earths), None)
    route = longest.routes[line]
    back = earths[earth] if earth else None
    r1_r2, missing = _sum(route, back, accessory)
    rn_r2, missing_n = _sum(neutrals[neutral], back, accessory) if neutral else (None, ())
    ze = wiring.board.ze
    return PointFigures(
        accessory.name, route.start.accessory, line, neutral, longest.setting(line), _float(r1_r2),
        _float(rn_r2),
        zs=None if r1_r2 is None or ze is None else float(ze + r1_r2),
        zs_hot=None if r1_r2 is None or ze is None else float(ze + r1_r2 * HOT),
        missing=tuple(dict.fromkeys((*missing, *missing_n, *(() if ze is not None else ("Ze",))))),
    )


def _sum(out: Route, back: Route | None, accessory: Accessory) -> tuple[Fraction | None, tuple[str, ...]]:
    if back is None:
        return None, (*out.missing, f"a cpc at {accessory.name}")
    missing = (*out.missing, *back.missing)
    return (None if missing else out.ohms + back.ohms), missing


def _float(value: Fraction | None) -> float | None:
    return None if value is None else float(value)
