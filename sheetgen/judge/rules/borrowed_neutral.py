"""A lamp that takes its line from one way and returns its neutral to another; neutrals of two ways joined."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.circuit.current import path_of
from sheetgen.judge.case import Case
from sheetgen.judge.earth import earth_terminal
from sheetgen.judge.rcds import amperes, may_trip
from sheetgen.judge.remedies import free_neutrals
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.accessory import Terminal
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import Condition, Group, LampState, Potential, Row
from sheetgen.model.wiring import Cable, Core
from sheetgen.model.words import joined

CLAUSE = "BS 7671 314.4"


def check(case: Case) -> Iterator[Finding]:
    """One finding for each lamp, one for each pair of neutrals."""
    yield from _lamps(case)
    yield from _joined(case)


def borrowing(case: Case) -> dict[str, tuple[Group, Row, set[str], set[str]]]:
    """Lamps that are on between two ways: the first such setting, the ways of the line, those of the neutral."""
    found = {}
    for group, row, name, lamp in case.lamps():
        accessory, load = case.loads[name]
        if lamp.state not in (LampState.ON, LampState.DIM) or name in found:
            continue
        ends = [case.condition(group, row, accessory.terminal(t)) for t in (load.a, load.b)]
        if lamp.state is LampState.DIM:
            ends = _in_turn(case, group, row, lamp.ways)
        line = {w for c in ends if c.potential is Potential.LINE for w in c.ways}
        neutral = {w for c in ends if c.potential is Potential.NEUTRAL for w in c.ways}
        if line and neutral and not line & neutral:
            found[name] = group, row, line, neutral
    return found


def _in_turn(case: Case, group: Group, row: Row, ways: tuple[str, ...]) -> list[Condition]:
    """What loads that stand one after another between the same ways have at their contacts."""
    found = []
    for name, lamp in zip(group.lamps, row.lamps, strict=True):
        if lamp.state is LampState.DIM and lamp.ways == ways:
            accessory, load = case.loads[name]
            found += [case.condition(group, row, accessory.terminal(t)) for t in (load.a, load.b)]
    return found


def _lamps(case: Case) -> Iterator[Finding]:
    for name, (group, row, line, neutral) in borrowing(case).items():
        yield Finding(
            "borrowed_neutral", Gravity.DANGER,
            says=f"{case.part(name)} takes its line from {case.all_ways(line)} and returns its neutral to "
            f"{case.all_ways(neutral)}.",
            means=f"With {case.all_ways(neutral)} isolated its neutral can still become live through this lamp"
            f"{_rcds(case, group, row, name, line | neutral)}.",
            advice=f"Isolate {case.all_ways(line | neutral)} before work here, and feed the lamp's line and "
            f"neutral from one circuit{_cpc_too(case, name, line, neutral)}.{_branch(case, group, row, name, line)}"
            f"{_line_brought(case, group, neutral)}{_three_cores(case, group)}",
            accessory=case.loads[name][0].name, setting=case.setting(group, row), clause=CLAUSE,
        )


def _rcds(case: Case, group: Group, row: Row, load: str, ways: set[str]) -> str:
    """Which RCDs its current may trip: it flows out through one and back past it, through the other."""
    amps = amperes(case, group, row, [load])
    tripped = may_trip(case, sorted(ways), amps)
    if not tripped:
        return ""
    which = "either of them" if len(tripped) == len(ways) else case.circuits(tripped)
    return f"; an RCD on {which} may trip"


def _cpc_too(case: Case, load: str, line: set[str], neutral: set[str]) -> str:
    """The cpc that goes with the neutral, where the lamp, or what it hangs from, has none of the way of its line."""
    accessory = case.loads[load][0]
    for place in (accessory, case.accessories.get(accessory.hangs_from or "")):
        terminal = earth_terminal(place) if place else None
        earths = {way for c in case.conditions.get(terminal, ()) if c.solid and c.potential is Potential.EARTH
                  for way in c.ways} if terminal else set()
        if place and earths and earths <= neutral and not earths & line:
            return (f"; the only cpc at {case.wiring.printed(place.name)} is that of {case.circuits(sorted(earths))}: "
                    f"where it is taken out with the neutral, bring a cpc of {case.circuits(sorted(line))} too")
    return ""


def _branch(case: Case, group: Group, row: Row, load: str, ways: set[str]) -> str:
    """Where its line parts from what else the way feeds, before any of its own switches; "" where it has it alone."""
    found = path_of(case, group, row, load)
    path = found.there if found else ()
    before = []
    for step in path:
        if step.kind != "core":
            break
        before.append(step)
    for step in reversed(before):
        others = {s for s, (accessory, switch) in case.switches.items() if s not in group.switches
                  for p in switch.positions for pair in p.joins for t in pair if accessory.terminal(t) == step.start}
        if step.start not in case.rails and (others or len(case.landed[step.start]) > 2):
            return f" Its line leaves {case.circuits(sorted(ways))} at {case.terminal(step.start)}, by " \
                   f"{case.core(step.name)}: take that off there before another line is brought in."
    return ""


def _line_brought(case: Case, group: Group, ways: set[str]) -> str:
    """Where the way of the neutral has its line, and the cables with a free core from there to one of the switches."""
    said = [f" The line of {case.circuits(sorted(ways))} is at {case.terminal(line)}: the free "
            f"{joined(case.colour(core.colour) for core in _free_cores(cable))} "
            f"core{'s' if len(_free_cores(cable)) > 1 else ''} of {cable.name} can take it to "
            f"{case.wiring.printed(switch)}." for line, switch, cable in _from_line(case, group, ways)]
    said += [f" The line of {case.circuits(sorted(ways))} comes to {case.wiring.printed(place)} already: "
             f"{case.core(core)} ends in nothing there." for core, place in _loose_lines(case, group, ways)]
    return "".join(said)


def _from_line(case: Case, group: Group, ways: set[str]) -> Iterator[tuple[Terminal, str, Cable]]:
    """Where a way has its line, an accessory with a switch of the group, and a cable between them with free cores."""
    places = _places(case, group)
    for cable in case.wiring.cables:
        for here, there in (cable.ends, cable.ends[::-1]):
            if there in places and here not in places and here not in case.board and _free_cores(cable):
                lines = [terminal for found in case.accessories[here].kind.terminals
                         if (at := case.solution.constant.get(terminal := case.accessories[here].terminal(found.name)))
                         and at.solid and at.potential is Potential.LINE and {*at.ways} <= ways]
                if lines:
                    yield lines[0], there, cable


def _loose_lines(case: Case, group: Group, ways: set[str]) -> Iterator[tuple[Core, str]]:
    """The cores that bring the line of a way, always, to an accessory with a switch of the group and end in nothing
    there."""
    places = _places(case, group)
    for core in case.wiring.cores():
        for here, there in (core.ends, core.ends[::-1]):
            at = case.solution.constant.get(there.node) if there.node else None
            if (here.nothing and here.accessory in places and at and at.solid and at.potential is Potential.LINE
                    and {*at.ways} <= ways and not core.cpc):
                yield core, here.accessory


def _three_cores(case: Case, group: Group) -> str:
    """What two-way switching from one circuit needs between the switches, and what of it is there."""
    places = _places(case, group)
    if len(places) < 2:
        return ""
    there = _with_three_cores(case, places)
    if not there:
        return " For two-way switching use three cores between the switches."
    return " For two-way switching use the three cores between the switches: " + "; ".join(
        f"{c.name} has them{_free(case, c)}" for c in there) + "."


def _places(case: Case, group: Group) -> dict[str, None]:
    """The accessories with the switches of a group."""
    return dict.fromkeys(case.switches[s][0].name for s in group.switches)


def _with_three_cores(case: Case, places: dict[str, None]) -> list[Cable]:
    """The cables between the switches that have three cores or more beside a cpc."""
    between = [c for c in case.wiring.cables if c.ends[0] != c.ends[1] and all(end in places for end in c.ends)]
    return [c for c in between if sum(not core.cpc for core in c.cores) > 2]


def _free_cores(cable: Cable) -> list[Core]:
    return [core for core in cable.cores if not core.cpc and all(end.nothing for end in core.ends)]


def wanted_for_cure(case: Case) -> frozenset[str]:
    """The free cores that what is advised for a borrowed neutral makes use of."""
    found = set()
    for group, _, _, neutral in borrowing(case).values():
        cables = [cable for *_, cable in _from_line(case, group, neutral)]
        if len(_places(case, group)) > 1:
            cables += _with_three_cores(case, _places(case, group))
        found |= {core.key for cable in cables for core in _free_cores(cable)}
        found |= {end[0] for place in _places(case, group) for end, core, *_ in free_neutrals(case, place)
                  if {*case.ways[core.key]} <= neutral}
    return frozenset(found)


def lines_at_hand(case: Case, accessory: str) -> frozenset[str]:
    """The cores that bring the line of the way of the neutral to the switches of the lamps of an accessory, and end in
    nothing there."""
    return frozenset(core.key for name, (group, _, _, neutral) in borrowing(case).items()
                     if case.loads[name][0].name == accessory for core, _ in _loose_lines(case, group, neutral))


def _free(case: Case, cable: Cable) -> str:
    free = [case.colour(core.colour) for core in _free_cores(cable)]
    return f", its {joined(free)} core{'s' if len(free) > 1 else ''} free" if free else ""


def _joined(case: Case) -> Iterator[Finding]:
    meetings = [*case.solution.meetings]
    for group in case.solution.groups:
        meetings += [m for row in group.rows for m in row.meetings]
    seen = set()
    for meeting in meetings:
        a, b = meeting.rails
        if meeting.kinds == ("neutral", "neutral") and (a, b) not in seen:
            seen.add((a, b))
            place = next((t for t in meeting.through if t.accessory not in case.board), a)
            yield Finding(
                "borrowed_neutral", Gravity.DANGER,
                says=f"The neutrals of {case.way(a.accessory)} and {case.way(b.accessory)} are joined, at "
                f"{case.terminal(place)}.",
                means="With one of them isolated its neutral still carries the current of the other, and can become "
                "live when it is parted.",
                advice="Isolate both circuits, find where the neutrals meet and part them.",
                accessory=place.accessory, terminal=place.name, clause=CLAUSE,
            )


RULE = Rule("borrowed_neutral", "neutral of one circuit used by another", check)
