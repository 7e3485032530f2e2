"""What might mend a finding, the fewest and the nearest changes first; each is still to be proven."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, product

from sheetgen.judge.case import Case
from sheetgen.judge.loose_cpcs import loose_cpcs
from sheetgen.model.accessory import Meant, Terminal
from sheetgen.model.reading import AddLink, Edit, End, Exchange, Finding, Land, Role, TakeOff, TakeOutLink
from sheetgen.model.wiring import Core, CoreEnd

REACH = 2  # cables between the finding and the accessories at which a change is tried
MOST_PLACES = 12
OF_EARTH = ("no_cpc", "cpc_interrupted")
OF_A_CPC = ("protective_misused", "earth_terminal_live", "neutral_earth", "earth_return")  # on a terminal of another

Remedy = tuple[Edit, ...]


def remedies(case: Case, finding: Finding) -> Iterator[Remedy]:
    """Single changes place by place, then two exchanges at two of the places.

    A loose neutral that would join that of another way comes to stand in its place, and where a neutral is borrowed
    so does a core that is free at both ends. What has no earth is given it by a loose cpc or not at all; a cpc that is
    used as something else changes places with what is on an earth terminal, or there is no cure."""
    if _is_of_earth(case, finding):
        yield from _cpcs_landed(case, finding)
        return
    places = _places(case, finding)
    for place in places if finding.rule in OF_A_CPC else ():
        yield from _cpcs_exchanged(case, place)
    if finding.rule == "protective_misused":
        return
    for place in places:
        yield from _loose_ends(case, place)
    for place in places:
        yield from _neutrals_replaced(case, place)
    if finding.rule == "borrowed_neutral":
        for place in places:
            yield from _neutrals_brought(case, place)
    for changes in (_exchanges, _links, _moves, _joins):
        for place in places:
            yield from changes(case, place)
    if finding.rule == "multiway":
        switches = [p for p in places if case.accessories[p].kind.switches]
        for a, b in combinations(switches, 2):
            for one, two in product(_exchanges(case, a), _exchanges(case, b)):
                yield (*one, *two)


def _is_of_earth(case: Case, finding: Finding) -> bool:
    return finding.rule in OF_EARTH or (
        finding.rule == "loose_core" and case.cores[finding.core].cpc and case.roles[finding.core] is Role.CPC)


def _cpcs_landed(case: Case, finding: Finding) -> Iterator[Remedy]:
    """Loose cpcs put where they bring earth to the terminal that the finding names, or that have the core it names."""
    nets = case.solution.nets
    named = nets[Terminal(finding.accessory, finding.terminal)] if finding.terminal else None
    for loose in loose_cpcs(case):
        if loose.brings is not None and (loose.core.key == finding.core or nets[loose.brings] == named):
            yield loose.lands


def _places(case: Case, finding: Finding) -> list[str]:
    """Where the finding is, its loads, the switches that belong to them, and what is near, nearest first."""
    found = dict.fromkeys([finding.accessory] if finding.accessory in case.accessories else [])
    for name in finding.lamps:
        found[case.loads[name][0].name] = None
    for group in case.solution.groups:
        if set(group.lamps) & set(finding.lamps):
            found.update((case.switches[s][0].name, None) for s in group.switches)
    for _ in range(REACH):
        near = [b for cable in case.wiring.cables for a, b in (cable.ends, cable.ends[::-1]) if a in found]
        found.update(dict.fromkeys(near))
    ways = [place for place in found if place in case.board]
    return [p for p in found if p not in case.board][:MOST_PLACES] + ways


def _ends_at(case: Case, place: str) -> list[tuple[End, CoreEnd]]:
    """The core ends in an accessory, cpcs left out."""
    return [((core.key, i), end) for core in case.wiring.cores() if not core.cpc
            for i, end in enumerate(core.ends) if end.accessory == place and not end.unknown]


def _terminals(case: Case, place: str, end: End) -> Iterator[str]:
    """Where an end could go: not where it is, not to earth, not where its other end is."""
    core = case.cores[end[0]]
    for kind in case.accessories[place].kind.terminals:
        there = Terminal(place, kind.name)
        if kind.ways and kind.meant is not Meant.EARTH and there not in (core.ends[0].node, core.ends[1].node):
            yield kind.name


def _loose_ends(case: Case, place: str) -> Iterator[Remedy]:
    for end, here in _ends_at(case, place):
        if here.nothing:
            yield from ((Land(end, terminal),) for terminal in _terminals(case, place, end))


def _neutrals_replaced(case: Case, place: str) -> Iterator[Remedy]:
    """The neutral of another way taken off, on both ends, and the loose one put where it was."""
    for loose, core, here in foreign_neutrals(case, place):
        if (node := core.ends[here].node) is not None and core.ends[1 - here].node is not None:
            yield (*_off(case, core, here), Land(loose, node.name))


def _off(case: Case, core: Core, here: int) -> Remedy:
    """A core off at both ends; a single or a link taken out."""
    cable = case.cables[core.cable]
    if len(cable.cores) == 1:
        return (TakeOutLink(cable.name),)
    return TakeOff((core.key, here)), TakeOff((core.key, 1 - here))


def _neutrals_brought(case: Case, place: str) -> Iterator[Remedy]:
    """The neutral of another way taken off, on both ends, and a free core to a neutral of another put where it was."""
    for free, core, here, far in free_neutrals(case, place):
        if (node := core.ends[here].node) is not None and core.ends[1 - here].node is not None:
            yield (*_off(case, core, here), Land((free[0], 1 - free[1]), far.name), Land(free, node.name))


def free_neutrals(case: Case, place: str) -> Iterator[tuple[End, Core, int, Terminal]]:
    """Each core that lies free in an accessory and ends free where there is a neutral of another way than that of a
    core from elsewhere: the free end here, that core with the number of its end here, the terminal of that neutral."""
    here = _ends_at(case, place)
    for (key, i), end in here:
        other = case.cores[key].ends[1 - i]
        if not (end.nothing and other.nothing) or case.cables[case.cores[key].cable].flex or other.accessory == place:
            continue
        far = {there.node: k for (k, _), there in _ends_at(case, other.accessory)
               if there.node is not None and case.roles[k] is Role.NEUTRAL}
        for (borrowed, j), at in here:
            if at.node is not None and case.roles[borrowed] is Role.NEUTRAL:
                for node, neutral in far.items():
                    if not set(case.ways[neutral]) & set(case.ways[borrowed]):
                        yield (key, i), case.cores[borrowed], j, node


def foreign_neutrals(case: Case, place: str) -> Iterator[tuple[End, Core, int]]:
    """Each loose end of a neutral, with each neutral from elsewhere that is landed there, of none of its ways."""
    found = [((key, i), end) for (key, i), end in _ends_at(case, place)
             if case.roles[key] is Role.NEUTRAL and not case.cables[case.cores[key].cable].flex]
    for loose, end in found:
        for (key, i), other in found if end.nothing else ():
            if other.node is not None and not set(case.ways[key]) & set(case.ways[loose[0]]):
                yield loose, case.cores[key], i


def _exchanges(case: Case, place: str) -> Iterator[Remedy]:
    for (one, here), (two, there) in combinations(_ends_at(case, place), 2):
        if here.node and there.node and here.node != there.node and one[0] != two[0]:
            yield (Exchange(one, two),)


def _cpcs_exchanged(case: Case, place: str) -> Iterator[Remedy]:
    """A cpc that is not on an earth terminal and a coloured core that is change places."""
    if place in case.board:
        return
    there = [((core.key, i), end.node) for core in case.wiring.cores() for i, end in enumerate(core.ends)
             if end.accessory == place and end.node is not None]
    earths = {case.accessories[place].terminal(kind.name) for kind in case.accessories[place].kind.terminals
              if kind.meant is Meant.EARTH}
    for (cpc, here), (core, on_earth) in product(there, there):
        if case.cores[cpc[0]].cpc and not case.cores[core[0]].cpc and here not in earths and on_earth in earths:
            yield (Exchange(cpc, core),)


def _moves(case: Case, place: str) -> Iterator[Remedy]:
    if place not in case.board:
        for end, here in _ends_at(case, place):
            if here.node:
                yield from ((Land(end, terminal),) for terminal in _terminals(case, place, end))


def _links(case: Case, place: str) -> Iterator[Remedy]:
    """Links and singles taken out."""
    for cable in case.wiring.cables:
        if len(cable.cores) == 1 and place in cable.ends and not cable.cores[0].cpc:
            yield (TakeOutLink(cable.name),)


def _joins(case: Case, place: str) -> Iterator[Remedy]:
    """A link between the line or common terminals of two gangs of one plate."""
    kind = case.accessories[place].kind
    if len(kind.switches) > 1:
        firsts = [p.joins[0][0] for s in kind.switches for p in s.positions[-1:] if p.joins]
        for a, b in combinations(dict.fromkeys(firsts), 2):
            yield (AddLink(place, a, b, case.sets[case.wiring.colours].line),)
