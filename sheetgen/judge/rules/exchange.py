"""Which exchange of two conductors, or move of one, would make a set of switches work: found by solving each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import combinations

from sheetgen.judge.rules.subject import Subject
from sheetgen.judge.rules.toggling import changeovers, fails, works
from sheetgen.model.accessory import Terminal
from sheetgen.model.solution import Group, LampState
from sheetgen.model.wiring import CoreEnd, Wiring
from sheetgen.solve.solve import solve

MOST_TRIES = 200
MOST_ROWS = 64  # of a group for which exchanges are tried
MOST_CURES = 3

End = tuple[str, int]  # Core.key and which of its ends


@dataclass(frozen=True)
class Cure:
    """One change that cures it, in words without a capital."""

    says: str
    accessory: str
    core: str


def cures(subject: Subject, group: Group, lamps: list[str]) -> list[Cure]:
    """The exchanges that cure it, or where there is none the moves of one core end."""
    reduced = _only(subject.wiring, group)
    for changes in (_exchanges(subject, group), _moves(subject, group)):
        found = []
        for tries, (landings, cure) in enumerate(changes):
            if tries == MOST_TRIES or len(found) == MOST_CURES:
                break
            if _is_sound(landed(reduced, landings), group, lamps):
                found.append(cure)
        if found:
            return found
    return []


def _only(wiring: Wiring, group: Group) -> Wiring:
    """The wiring with the switches and loads of other groups taken out: they cannot matter."""
    mine = {(a.name, s.name) for n, a, s in wiring.switches() if n in group.switches}
    loads = {(a.name, x.name) for n, a, x in wiring.loads() if n in group.lamps}
    return replace(wiring, accessories=tuple(
        replace(a, kind=replace(
            a.kind,
            switches=tuple(s for s in a.kind.switches if (a.name, s.name) in mine),
            loads=tuple(x for x in a.kind.loads if (a.name, x.name) in loads),
        )) for a in wiring.accessories))


def _ends(subject: Subject, group: Group) -> dict[str, list[tuple[End, str]]]:
    """Accessory of a switch of the group -> its core ends with the terminal each is on, cpcs left out."""
    places = dict.fromkeys(subject.switches[s][0].name for s in group.switches)
    found: dict[str, list[tuple[End, str]]] = {place: [] for place in places}
    for core in subject.wiring.cores():
        for i, end in enumerate(core.ends):
            if end.accessory in found and end.terminal is not None and not core.cpc:
                found[end.accessory].append(((core.key, i), end.terminal))
    return found


def _exchanges(subject: Subject, group: Group) -> Iterator[tuple[dict[End, str], Cure]]:
    for place, ends in _ends(subject, group).items():
        for (one, here), (two, there) in combinations(ends, 2):
            if here != there and one[0] != two[0]:
                words = (
                    f"exchange {subject.core(one[0])} on {subject.terminal(Terminal(place, here))} and "
                    f"{subject.core(two[0])} on {subject.terminal(Terminal(place, there))}"
                )
                yield {one: there, two: here}, Cure(words, place, one[0])


def _moves(subject: Subject, group: Group) -> Iterator[tuple[dict[End, str], Cure]]:
    contacts = {
        (subject.switches[s][0].name, t): None
        for s in group.switches for p in subject.switches[s][1].positions for pair in p.joins for t in pair
    }
    for place, ends in _ends(subject, group).items():
        for end, here in ends:
            other = subject.cores[end[0]].ends[1 - end[1]].node
            for accessory, there in contacts:
                if accessory == place and there != here and other != Terminal(place, there):
                    words = (
                        f"move {subject.core(end[0])} from {subject.terminal(Terminal(place, here))} to "
                        f"{subject.terminal(Terminal(place, there))}"
                    )
                    yield {end: there}, Cure(words, place, end[0])


def landed(wiring: Wiring, landings: dict[End, str]) -> Wiring:
    """The wiring with some core ends on other terminals of the same accessory."""
    changed = {key for key, _ in landings}

    def ends(core) -> tuple[CoreEnd, CoreEnd]:
        return tuple(
            replace(end, terminal=landings.get((core.key, i), end.terminal)) for i, end in enumerate(core.ends)
        )

    return replace(wiring, cables=tuple(
        replace(cable, cores=tuple(replace(c, ends=ends(c)) if c.key in changed else c for c in cable.cores))
        if any(c.key in changed for c in cable.cores) else cable
        for cable in wiring.cables))


def _is_sound(wiring: Wiring, before: Group, lamps: list[str]) -> bool:
    """Every operation of every changeover switch changes these lamps, and nothing is shorted or dim."""
    solution = solve(wiring)
    if solution.shorts or any(row.shorts for g in solution.groups for row in g.rows):
        return False
    for lamp in lamps:
        group = solution.group_of_lamp(lamp)
        i = group.lamps.index(lamp)
        switches = changeovers(wiring, group)
        if set(group.switches) != set(before.switches) or fails(group, lamp, switches):
            return False
        if not all(works(group, lamp, s) for s in switches):
            return False
        if any(row.lamps[i].state not in (LampState.ON, LampState.OFF) for row in group.rows):
            return False
    return True
