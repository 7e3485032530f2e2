"""What the program says of a circuit against what the oracle finds: every disagreement, with its kind."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from sheetgen.model.reading import Finding, Gravity, Reading, Standing
from sheetgen.model.solution import Group, Potential, Row, Solution
from sheetgen.model.wiring import Wiring

from . import dangers as d
from .bench import DARK, FULL, Bench, Solved
from .duties import Duty, breaches, duties

# The rules of the check that may tell each danger.
TOLD_BY = {
    d.SHORT: {"short"},
    d.EARTH_LIVE: {"earth_terminal_live", "earth_return", "short", "protective_misused"},
    d.EARTH_LIVE_THROUGH_LOAD: {
        "earth_terminal_live", "cpc_interrupted", "earth_return", "loose_core", "protective_misused"},
    d.EARTH_RETURN: {"earth_return", "neutral_earth", "protective_misused", "earth_terminal_live", "short"},
    d.MIXED_WAYS: {"borrowed_neutral", "linked_lines"},
    d.LINKED_LINES: {"borrowed_neutral", "linked_lines", "two_ways"},
    d.LINKED_NEUTRALS: {"borrowed_neutral"},
    d.OFF_BUT_LIVE: {
        "off_but_live", "switched_neutral", "alternate_polarity", "loose_core", "linked_lines", "borrowed_neutral"},
    d.SWITCHED_NEUTRAL: {"switched_neutral", "alternate_polarity", "off_but_live", "short", "neutral_earth"},
}
# Which dangers a rule speaks of when it says danger.
SPEAKS_OF = {
    "short": {d.SHORT},
    "borrowed_neutral": {d.MIXED_WAYS, d.LINKED_NEUTRALS, d.LINKED_LINES},
    "linked_lines": {d.LINKED_LINES, d.MIXED_WAYS},
    "switched_neutral": {d.SWITCHED_NEUTRAL, d.OFF_BUT_LIVE},
    "off_but_live": {d.OFF_BUT_LIVE},
    "alternate_polarity": {d.OFF_BUT_LIVE, d.SWITCHED_NEUTRAL, d.LINE_AND_NEUTRAL},
    "earth_terminal_live": {d.EARTH_LIVE, d.EARTH_LIVE_THROUGH_LOAD, d.SHORT, d.EARTH_AT_NEUTRAL},
    "earth_return": {d.EARTH_RETURN},
    "neutral_earth": {d.EARTH_AT_NEUTRAL},
}


def each(findings: Iterable[Finding]) -> Iterator[Finding]:
    """The findings, and those that are told with them."""
    for finding in findings:
        yield finding
        yield from each(finding.also)


@dataclass(frozen=True)
class Disagreement:
    """One thing on which program and oracle differ."""

    kind: str
    says: str


@dataclass(frozen=True)
class Judged:
    """A wiring as the oracle sees it."""

    bench: Bench
    solved: tuple[Solved, ...]
    duties: Mapping[str, Duty]
    dangers: frozenset[d.Danger]


def judged(wiring: Wiring) -> Judged:
    """Solve every setting and judge."""
    bench = Bench(wiring)
    solved = tuple(Solved(bench, setting) for setting in bench.settings())
    return Judged(bench, solved, duties(bench, solved), frozenset(d.dangers(bench, solved)))


def disagreements(wiring: Wiring, solution: Solution, reading: Reading) -> list[Disagreement]:
    """Everything on which they differ."""
    oracle = judged(wiring)
    return [*states(oracle, solution), *roles(oracle, reading), *sleeves(oracle, reading), *told(oracle, reading)]


def states(oracle: Judged, solution: Solution) -> list[Disagreement]:
    """Loads, terminals and shorts of every setting."""
    found: dict[tuple[str, str], Disagreement] = {}
    for s in oracle.solved:
        for one in _state(oracle, solution, s):
            found.setdefault((one.kind, one.says.split(":")[0]), one)
    return list(found.values())


def _state(oracle: Judged, solution: Solution, s: Solved) -> list[Disagreement]:
    rows: list[tuple[Group, Row]] = []
    for group in solution.groups:
        wanted = tuple(s.setting[n] for n in group.switches)
        row = next((row for row in group.rows if row.setting == wanted), None)
        if row is None:
            return []  # one of the settings that are left out of a large group
        rows.append((group, row))
    found = _shorts(solution, rows, s)
    if s.short:
        return found + _lit_in_a_short(solution, rows, s)
    for group, row in rows:
        for name, lamp in zip(group.lamps, row.lamps, strict=True):
            load = next(x for x in oracle.bench.loads if x.name == name)
            a, b = s.volt(load.a), s.volt(load.b)
            across = 0.0 if a is None or b is None else abs(a - b)
            live = a is not None and b is not None and a > 1e-7
            state = "off but live" if live else "off"
            if s.amps[name]:
                state = "all but off" if across < DARK else "dim" if across < FULL else "on"
            if lamp.state.value != state or not math.isclose(lamp.fraction, across, abs_tol=1e-7):
                says = f"{name}: {lamp.state.value}, oracle {state} in {s.setting}"
                found.append(Disagreement("state of a load", says))
    mixed = any(len(kinds) > 1 for kinds in s.kinds.values())
    for terminal in oracle.bench.terminals:
        condition = solution.constant.get(terminal)
        for group, row in rows:
            if condition is None and terminal in group.terminals:
                condition = row.conditions[group.terminals.index(terminal)]
        volt, solid = s.volt(terminal), s.solid(terminal)
        if condition is None:
            found.append(Disagreement("terminal without a condition", f"{terminal}: in {s.setting}"))
        elif (condition.fraction is None) != (volt is None) or (
            volt is not None and not math.isclose(condition.fraction or 0, volt, abs_tol=1e-7)
        ) or condition.solid != bool(solid) or (solid and not mixed and condition.potential is not Potential(solid)):
            says = f"{terminal}: {condition}, oracle {solid} {volt} in {s.setting}"
            found.append(Disagreement("condition of a terminal", says))
    return found


def _shorts(solution: Solution, rows: Sequence[tuple[Group, Row]], s: Solved) -> list[Disagreement]:
    meet = any(row.meetings for _, row in rows) or solution.meetings
    said = {short.rails[0].accessory for short in solution.shorts} | {
        short.rails[0].accessory for _, row in rows for short in row.shorts}
    real = {r.accessory for r, kind in s.bench.rails.items() if kind == "line" and s.knot[r] in s.shorted}
    if said != real and not meet:
        return [Disagreement("short", f"lines {sorted(said)} said to be shorted, oracle {sorted(real)} in {s.setting}")]
    return []


def _lit_in_a_short(solution: Solution, rows: Sequence[tuple[Group, Row]], s: Solved) -> list[Disagreement]:
    return [
        Disagreement("lit on a way that a short puts out", f"{name}: {lamp.state.value} in {s.setting}")
        for group, _ in rows for name in group.lamps for lamp in (solution.lamp(name, s.setting),)
        if lamp.state.value in ("on", "dim") and s.put_out(name)
    ]


def roles(oracle: Judged, reading: Reading) -> list[Disagreement]:
    """What the current says of every core."""
    found = []
    for key, duty in oracle.duties.items():
        role = str(reading.roles[key].value)
        if wrong := breaches(duty, role):
            found.append(Disagreement(f"role: {wrong}", key))
    return found


def sleeves(oracle: Judged, reading: Reading) -> list[Disagreement]:
    """Sleeves that contradict what the core carries."""
    found = []
    for sleeve in reading.sleeves:
        duty = oracle.duties.get(sleeve.core)
        asked = sleeve.colour in ("GNYE", "GN") and sleeve.standing is not Standing.NEEDLESS
        if asked and duty and duty.carries and not duty.protective:
            what = "sleeve: a core that carries load current is to be green-and-yellow"
            found.append(Disagreement(what, sleeve.core))
    return found


def told(oracle: Judged, reading: Reading) -> list[Disagreement]:
    """Dangers that the check does not tell, and dangers that it tells and are none."""
    grave = [f for f in each(reading.findings) if f.gravity is Gravity.DANGER]
    rules = {f.rule for f in grave}
    found = []
    for kind in sorted({x.kind for x in oracle.dangers}):
        subjects = ", ".join(sorted(x.subject for x in oracle.dangers if x.kind == kind))
        if not grave:
            found.append(Disagreement(f"danger not told, and no other: {kind}", subjects))
        elif TOLD_BY[kind] and not rules & TOLD_BY[kind]:
            found.append(Disagreement(f"danger not told: {kind}", subjects))
    kinds = {x.kind for x in oracle.dangers | d.lines_and_neutrals(oracle.bench, oracle.solved)
             | d.earths_at_neutral(oracle.solved)}
    mixed = any(len(k) > 1 for s in oracle.solved for k in s.kinds.values())  # the shares of the ways are not known
    for rule in sorted(rules & set(SPEAKS_OF)):
        if not kinds & SPEAKS_OF[rule] and not (rule == "borrowed_neutral" and mixed):
            says = next(f.says for f in grave if f.rule == rule)
            found.append(Disagreement(f"danger told that is none: {rule}", says))
    return found


__all__ = ["Disagreement", "Judged", "disagreements", "each", "judged"]
