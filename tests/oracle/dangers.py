"""The basic dangers of a circuit, found from the solved settings alone."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from sheetgen.model.accessory import Meant, Terminal

from .bench import DARK, NIL, Bench, Solved


@dataclass(frozen=True, order=True)
class Danger:
    """One danger and what it concerns: a load, a switch, a way, a terminal."""

    kind: str
    subject: str


FULL = 0.94  # of the voltage: a supply may itself stand so low
SHORT = "short"
EARTH_LIVE = "line on an earth terminal"
EARTH_LIVE_THROUGH_LOAD = "earth terminal live through a load"
EARTH_RETURN = "return through earth"
MIXED_WAYS = "current of one way returns by another"
LINKED_LINES = "lines of two ways joined"
LINKED_NEUTRALS = "neutrals of two ways joined"
OFF_BUT_LIVE = "off but live"
SWITCHED_NEUTRAL = "switched neutral"
EARTH_AT_NEUTRAL = "earth terminal joined to a neutral"
LINE_AND_NEUTRAL = "one switch is given line and neutral"  # no danger of itself in every circuit, but never meant


def dangers(bench: Bench, solved: Iterable[Solved]) -> set[Danger]:
    """Every danger in any setting."""
    found: set[Danger] = set()
    for s in solved:
        found |= _shorts(s) | _earths(s) | _ways(s) | _loads(s) | _contacts(s)
    return found


def lines_and_neutrals(bench: Bench, solved: Iterable[Solved]) -> set[Danger]:
    """Contacts that are solidly at line in one setting and at neutral in another, points inside an accessory apart."""
    at: dict[tuple[str, Terminal], set[str]] = {}
    for s in solved:
        for name, positions in bench.switches.items():
            for terminal in {t for joins in positions.values() for pair in joins for t in pair}:
                at.setdefault((name, terminal), set()).update(s.kinds.get(s.knot[terminal], ()))
    inner = {a.terminal(t.name) for a in bench.wiring.accessories for t in a.kind.terminals if t.inner}
    return {Danger(LINE_AND_NEUTRAL, name) for (name, terminal), kinds in at.items()
            if {"line", "neutral"} <= kinds and terminal not in inner}


def earths_at_neutral(solved: Iterable[Solved]) -> set[Danger]:
    """Earth terminals, and earths of the board, that something joins to a neutral."""
    return {Danger(EARTH_AT_NEUTRAL, str(node)) for s in solved for accessory in s.bench.wiring.accessories
            for kind in accessory.kind.terminals if kind.meant is Meant.EARTH
            for node in (accessory.terminal(kind.name),) if "neutral" in s.kinds.get(s.knot[node], ())}


def _shorts(s: Solved) -> set[Danger]:
    return {Danger(SHORT, rail.accessory) for rail, kind in s.bench.rails.items()
            if kind == "line" and s.knot[rail] in s.shorted}


def _earths(s: Solved) -> set[Danger]:
    found = set()
    for accessory in s.bench.wiring.accessories:
        for terminal in accessory.kind.terminals:
            node = accessory.terminal(terminal.name)
            if terminal.meant is Meant.EARTH and not s.short and (s.volt(node) or 0.0) > NIL:
                kind = EARTH_LIVE if s.solid(node) == "line" else EARTH_LIVE_THROUGH_LOAD
                found.add(Danger(kind, str(node)))
    return found


def _ways(s: Solved) -> set[Danger]:
    """Ways whose line gives another current than their neutral and earth take back; rails of two ways in one knot."""
    found: set[Danger] = set()
    balance: dict[str, float] = {}
    for rail, amps in s.drawn.items():
        balance[rail.accessory] = balance.get(rail.accessory, 0.0) + amps
    if any(k in s.kinds and len(s.kinds[k]) > 1 for k in s.kinds):
        balance = {}  # where a neutral meets an earth the shares are not known
    for kind, danger in (("line", LINKED_LINES), ("neutral", LINKED_NEUTRALS)):
        at: dict[int, list[str]] = {}
        for rail, own in s.bench.rails.items():
            if own == kind:
                at.setdefault(s.knot[rail], []).append(rail.accessory)
        for together in at.values():
            if len(together) > 1:
                found.update(Danger(danger, way) for way in together)
                balance = {w: x for w, x in balance.items() if w not in together}
    found.update(Danger(MIXED_WAYS, way) for way, amps in balance.items() if abs(amps) > NIL * 10)
    return found


def _loads(s: Solved) -> set[Danger]:
    found = set()
    for load in s.bench.loads:
        a, b = s.volt(load.a), s.volt(load.b)
        at_a_short = s.put_out(load.name) or {s.knot[load.a], s.knot[load.b]} & s.shorted
        least = DARK if s.amps[load.name] else NIL  # a trace of current leaves it dark, between contacts that are live
        if not at_a_short and abs(s.across(load.name)) < least and a and b and min(a, b) > least:
            found.add(Danger(OFF_BUT_LIVE, load.name))
        if s.amps[load.name]:
            for contact in (load.a, load.b):
                knot = s.knot[contact]
                taken = any(own == "earth" and s.knot[r] == knot and abs(s.drawn[r]) > NIL
                            for r, own in s.bench.rails.items())
                if taken and knot not in s.shorted:
                    found.add(Danger(EARTH_RETURN, load.name))
    return found


def _contacts(s: Solved) -> set[Danger]:
    """Single-pole contacts that carry current on the neutral side, where opening them would part something from it."""
    several = s.bench.multipole()
    neutral = {s.bench.by_conductors[rail] for rail, kind in s.bench.rails.items() if kind == "neutral"}
    return {
        Danger(SWITCHED_NEUTRAL, edge.name) for edge, amps in s.flow.items()
        if edge.kind == "contact" and amps and edge.name not in several
        and len({s.bench.by_conductors[edge.a], s.bench.by_conductors[edge.b]} - neutral)
        and s.bench.by_conductors[edge.a] != s.bench.by_conductors[edge.b]
        and "line" not in s.kinds.get(s.knot[edge.a], set()) and s.kinds.get(s.knot[edge.a])
    }


def worked_by(bench: Bench, solved: Iterable[Solved]) -> dict[str, set[str]]:
    """Load -> the switches that light it or put it out in some setting, operated alone."""
    return _working(bench, solved, lambda s, load: s.lit(load))


def fully_worked_by(bench: Bench, solved: Iterable[Solved]) -> dict[str, set[str]]:
    """The same by the whole voltage, of a load that has it in some setting but not always."""
    solved = tuple(solved)
    fully = _working(bench, solved, lambda s, load: s.lit(load) and abs(s.across(load)) >= FULL)
    return {load: fully[load] or switches for load, switches in worked_by(bench, solved).items()}


def _working(bench: Bench, solved: Iterable[Solved], on: Callable[[Solved, str], bool]) -> dict[str, set[str]]:
    rows = [s for s in solved if not s.short]  # what a short puts out is worked by nobody
    lit = {tuple(sorted(s.setting.items())): {x.name for x in bench.loads if on(s, x.name)} for s in rows}
    found: dict[str, set[str]] = {x.name: set() for x in bench.loads}
    for s in rows:
        here = lit[tuple(sorted(s.setting.items()))]
        for switch, positions in bench.switches.items():
            for position in positions:
                there = lit.get(tuple(sorted({**s.setting, switch: position}.items())))
                if there is not None:
                    for load in here ^ there:
                        found[load].add(switch)
    return found
