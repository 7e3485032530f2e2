"""What happens if two core ends at an accessory are exchanged: found by solving the circuit that results."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import partial
from itertools import combinations

from sheetgen.model.accessory import Level, Terminal
from sheetgen.model.handout import Question
from sheetgen.model.reading import Role
from sheetgen.model.solution import LIT, Group, LampState, Potential, Solution
from sheetgen.model.wiring import Core, Wiring
from sheetgen.model.words import capital, joined
from sheetgen.pages.lookup import Landing, Lookup

MOST_SETTINGS = 16

MOST_NAMED = 4  # settings in one answer, for a class to find them all

Asked = tuple[str, str, Callable[[], Question | None]]  # key, sort, what builds the question


def exchange_questions(lookup: Lookup, solve: Callable[[Wiring], Solution]) -> Iterator[Asked]:
    """One for every pair of core ends on different terminals of an accessory, cpcs left out."""
    for name, landings in lookup.landings.items():
        if lookup.accessories[name].kind.level in (Level.BOARD, Level.PENDANT):
            continue
        ends = [end for end in landings if end.here.node and not end.cable.flex and not end.cable.link
                and lookup.job.reading.roles[end.core.key] is not Role.CPC]
        for one, two in combinations(ends, 2):
            roles = sorted(lookup.job.reading.roles[end.core.key] for end in (one, two))
            group = _group(lookup, one, two)
            if one.here.terminal != two.here.terminal and one.core != two.core and group:
                yield (f"{one.core.key}/{one.end}-{two.core.key}/{two.end}", f"{name}: {'/'.join(roles)}",
                       partial(_question, lookup, solve, group, one, two))


def _group(lookup: Lookup, one: Landing, two: Landing) -> Group | None:
    """The group that depends on one of two core ends, where it has switches and lamps and not too many settings."""
    for end in (one, two):
        for group in lookup.job.solution.groups:
            if end.here.node in group.terminals and group.lamps and 0 < len(group.rows) <= MOST_SETTINGS:
                return group if group.switches else None
    return None


def exchanged(wiring: Wiring, one: tuple[str, int], two: tuple[str, int]) -> Wiring:
    """The wiring with two core ends, given by core key and end, on each other's terminals."""
    at = {(core.key, i): core.ends[i].terminal for core in wiring.cores() for i in (0, 1)}
    moved = {one: at[two], two: at[one]}

    def landed(core: Core) -> Core:
        return core.with_ends(lambda i, end: replace(end, terminal=moved.get((core.key, i), end.terminal)))

    return replace(wiring, cables=tuple(
        replace(cable, cores=tuple(map(landed, cable.cores))) for cable in wiring.cables))


def _question(
    lookup: Lookup, solve: Callable[[Wiring], Solution], group: Group, one: Landing, two: Landing,
) -> Question | None:
    """None where nobody could give the answer: it names too many settings, or comes of too many."""
    solution = solve(exchanged(lookup.wiring, (one.core.key, one.end), (two.core.key, two.end)))
    asked = [name for name in group.lamps if name in lookup.circuit.lamp_names] or list(group.lamps)
    if not solution.shorts and not all(_can_be_told(lookup, solution, lamp) for lamp in asked):
        return None
    outcomes = _outcomes(lookup, group, asked, solution)
    says = "; ".join(filter(None, (*outcomes, *_opens(lookup, asked, solution), _newly_live(lookup, solution))))
    lamps = joined(lookup.loads[name] for name in asked)
    return Question(
        "exchange",
        f"At {lookup.wiring.printed(one.here.accessory)}, {one.core} on {lookup.on(one.here)} and {two.core} on "
        f"{lookup.on(two.here)} are exchanged by mistake. In which settings "
        f"{'is' if len(asked) == 1 else 'are'} {lamps} lit then?",
        f"{capital(says)}.", (("one", f"{one.core.key} {one.end}"), ("two", f"{two.core.key} {two.end}")),
    )


def _can_be_told(lookup: Lookup, solution: Solution, lamp: str) -> bool:
    """A class can work through the settings of the lamp, and name those in which it is lit and those that short."""
    own = solution.group_of_lamp(lamp)
    named = [_named(lookup, own, _lit(own, lamp))] if 0 < len(_lit(own, lamp)) < len(own.rows) else []
    named += [_named(lookup, group, short) for group in solution.groups if (short := _shorted(group))]
    return len(own.rows) <= MOST_SETTINGS and all(len(settings) <= MOST_NAMED for settings in named)


def _lit(group: Group, lamp: str) -> list[tuple[str, ...]]:
    i = group.lamps.index(lamp)
    return [row.setting for row in group.rows if row.lamps[i].state in LIT]


def _outcomes(lookup: Lookup, before: Group, asked: Sequence[str], solution: Solution) -> list[str]:
    """What comes of the exchange, each thing once, with the lamps of which it is true where there are several."""
    if solution.shorts:
        return ["line and neutral or earth are joined: the device opens at once"]
    lamps: dict[str, list[str]] = {}
    for lamp in asked:
        lamps.setdefault(_outcome(lookup, before, lamp, solution), []).append(lookup.loads[lamp])
    return [f"{joined(names)}: {says}" if len(asked) > 1 else says for says, names in lamps.items()]


def _outcome(lookup: Lookup, before: Group, lamp: str, solution: Solution) -> str:
    """In which settings the lamp is lit after the exchange, or that it is as before."""
    group = solution.group_of_lamp(lamp)
    i, k = group.lamps.index(lamp), before.lamps.index(lamp)
    lit = _lit(group, lamp)
    same = group.switches == before.switches and not _shorted(group) and all(
        row.lamps[i] == old.lamps[k] for row, old in zip(group.rows, before.rows, strict=True))
    if same:
        return "in the same as before"
    if not lit:
        return "in none"
    if len(lit) == len(group.rows):
        return "in all of them"
    return f"in {len(lit)} of {len(group.rows)}: {'; '.join(_named(lookup, group, lit))}"


def _opens(lookup: Lookup, asked: Sequence[str], solution: Solution) -> list[str]:
    """In which settings the device opens after the exchange, whichever switches those are of: a switch that shorts its
    line may work none of the lamps. 'But' where lamps are lit in settings of their own switches all the same."""
    if solution.shorts:
        return []
    own = [solution.group_of_lamp(lamp) for lamp in asked]
    lit = any(_lit(group, lamp) for group, lamp in zip(own, asked, strict=True))
    return [f"{'but ' if lit and group not in own else ''}the device opens {_when(lookup, group, short)}"
            for group in solution.groups if (short := _shorted(group))]


def _when(lookup: Lookup, group: Group, settings: Sequence[tuple[str, ...]]) -> str:
    if len(settings) == len(group.rows):
        return "in every setting"
    return f"with {' or with '.join(_named(lookup, group, settings))}"


def _shorted(group: Group) -> list[tuple[str, ...]]:
    return [row.setting for row in group.rows if row.shorts or any(x.state is LampState.SHORT for x in row.lamps)]


def _named(lookup: Lookup, group: Group, settings: Sequence[tuple[str, ...]]) -> list[str]:
    """Settings by the switches that make them different from all others; each choice of their positions once."""
    among = set(settings)
    others = {row.setting for row in group.rows} - among
    matter = [i for i in range(len(group.switches))
              if any((*setting[:i], position, *setting[i + 1:]) in others
                     for setting in among for position in group.positions[i])]
    shown = matter if group.complete else range(len(group.switches))
    return list(dict.fromkeys(
        ", ".join(lookup.circuit.standing(group.switches[i], setting[i]) for i in shown) for setting in settings))


def _newly_live(lookup: Lookup, solution: Solution) -> str:
    """Terminals that are at line in some setting and never were before; those of lights only."""
    found = [
        lookup.full(node) for node in lookup.wiring.nodes()
        if not lookup.accessories[node.accessory].kind.switches and not lookup.accessories[node.accessory].kind.rails
        and _ever_at_line(solution, node) and not _ever_at_line(lookup.job.solution, node)
    ]
    return f"but {joined(found)} can now be at line" if found else ""


def _ever_at_line(solution: Solution, node: Terminal) -> bool:
    return any(c.potential is Potential.LINE and c.solid for c in solution.conditions(node))
