"""R1+R2, Rn+R2 and Zs at every accessory, from the lengths."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from sheetgen.judge.figures.paths import (
    Route,
    Steps,
    conductor_steps,
    contact_steps,
    rails,
    routes_from,
    routes_on,
    switch_joins,
)
from sheetgen.judge.figures.tables import HOT
from sheetgen.model.accessory import Accessory, Level, Meant, Terminal
from sheetgen.model.reckoning import PointFigures
from sheetgen.model.solution import Solution
from sheetgen.model.wiring import Wiring

MOST_ROWS = 64  # settings of one group that are searched for the longest way to a terminal

Routes = Mapping[Terminal, Route]


def points_of(wiring: Wiring, solution: Solution) -> tuple[PointFigures, ...]:
    """Every accessory that the line of a way reaches and that has, or should have, an earth terminal."""
    steps = conductor_steps(wiring)
    lines, neutrals = _longest(wiring, solution, "line", steps), _longest(wiring, solution, "neutral", steps)
    earths = routes_from(rails(wiring, "earth"), steps)
    return tuple(_points(wiring, lines, neutrals, earths))


def _longest(wiring: Wiring, solution: Solution, kind: str, steps: Steps) -> dict[Terminal, Route]:
    """The shortest route in each setting; of those the longest, which a test must not exceed."""
    found = routes_from(rails(wiring, kind), steps)
    joins = switch_joins(wiring)
    beyond: dict[Terminal, Route] = {}
    for group in solution.groups:
        for row in group.rows[:MOST_ROWS]:
            if group.switches and not row.shorts:
                for terminal, route in routes_on(found, steps, contact_steps(joins, group, row)).items():
                    if terminal not in beyond or route.length > beyond[terminal].length:
                        beyond[terminal] = route
    return {**found, **beyond}


def _points(wiring: Wiring, lines: Routes, neutrals: Routes, earths: Routes) -> Iterator[PointFigures]:
    for accessory in wiring.accessories:
        if accessory.kind.level is Level.BOARD or not any(t.meant is Meant.EARTH for t in accessory.kind.terminals):
            continue
        line = _furthest(accessory, lines)
        if line is not None:
            yield _point(wiring, accessory, line, _furthest(accessory, neutrals), lines, neutrals, earths)


def _furthest(accessory: Accessory, routes: Routes) -> Terminal | None:
    here = [t for t in (accessory.terminal(k.name) for k in accessory.kind.terminals) if t in routes]
    return max(here, key=lambda t: routes[t].length, default=None)


def _point(
    wiring: Wiring, accessory: Accessory, line: Terminal, neutral: Terminal | None, lines: Routes, neutrals: Routes,
    earths: Routes,
) -> PointFigures:
    earth = next((t for k in accessory.kind.terminals if k.meant is Meant.EARTH
                  and (t := accessory.terminal(k.name)) in earths), None)
    route = lines[line]
    back = earths[earth] if earth else None
    r1_r2, missing = _sum(route, back, accessory)
    rn_r2, missing_n = _sum(neutrals[neutral], back, accessory) if neutral else (None, ())
    ze = wiring.board.ze
    return PointFigures(
        accessory.name, route.start.accessory, line, neutral, tuple(dict.fromkeys(route.setting)), _float(r1_r2),
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
