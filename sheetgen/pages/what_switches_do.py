"""What switches do to a lamp, counted over all settings: what operating each switch does, how often it is lit."""

from __future__ import annotations

from math import prod

from sheetgen.circuit.names import MANY_SWITCHES
from sheetgen.model.solution import LIT, Group, Row
from sheetgen.model.words import capital, joined
from sheetgen.pages.lookup import Lookup

MANY, MANY_SAID = 10**6, "more than a million"  # settings
NAME = "\N{WHITE SQUARE}"  # stands for the load in a sentence, until it is known which loads share it
MOST_SAID = 12  # sentences, each of other loads
MANY_LOADS = 8  # of more, all that a group has are counted
CHANGE, CHANGES = "\N{WHITE CIRCLE}", "\N{WHITE DIAMOND}"  # for what a switch does, or switches do, to it


def operated_once(group: Group) -> tuple[Row, ...]:
    """The first setting, and each switch put from there to its next position."""
    first = group.rows[0].setting
    wanted = [first]
    for i, positions in enumerate(group.positions):
        wanted += [(*first[:i], p, *first[i + 1:]) for p in positions if p != first[i]]
    rows = {row.setting: row for row in group.rows}
    return tuple(rows[setting] for setting in wanted if setting in rows)


def changes(group: Group) -> list[list[tuple[int, int]]]:
    """For each load, and each switch: in how many pairs of settings that differ by that switch alone the load changes,
    and how many such pairs there are."""
    pairs = [0] * len(group.switches)
    changed = [[0] * len(group.switches) for _ in group.lamps]
    lit = {row.setting: tuple(lamp.state in LIT for lamp in row.lamps) for row in group.rows}
    for row, reached in group.operations:
        here = lit[row.setting]
        for place, other in reached:
            if other.setting[place] > row.setting[place]:  # each pair once
                pairs[place] += 1
                there = lit[other.setting]
                for load in range(len(here)) if there != here else ():
                    changed[load][place] += here[load] != there[load]
    return [list(zip(of_load, pairs, strict=True)) for of_load in changed]


def idle_at(group: Group, lamp: int, switch: int) -> tuple[str, ...]:
    """Of a group of two switches: positions of the other switch at which operating this one does nothing."""
    found = []
    for position in group.positions[1 - switch]:
        states = {row.lamps[lamp].state in LIT for row in group.rows if row.setting[1 - switch] == position}
        found += [position] if len(states) == 1 else []
    return tuple(found)


def what_holds(lookup: Lookup, group: Group) -> list[str]:
    """What holds for the loads, verified over every setting that was solved; like loads share a sentence.

    Nothing where a conductor whose end nobody knows may reach the group; and where more would be said of one load after
    the other than anybody reads, in how many settings it was worked out alone: the table has it.
    """
    if not group.known:
        return []
    same: dict[tuple[tuple[str, ...], int, bool], list[int]] = {}
    kinds = {name: load.what for name, _, load in lookup.wiring.loads()}
    for i, (name, changed) in enumerate(zip(group.lamps, changes(group), strict=True)):
        says = _effects(lookup, group, i, changed, kinds[name] == "electronics")
        same.setdefault((says, _lit(group, i), kinds[name] == "lamp"), []).append(i)
    said = [_sentence(lookup, group, lamps, says, lamp) for (says, _, lamp), lamps in same.items()]
    if len(said) > MOST_SAID:
        return [f"{_worked_out(group)}."]
    return [f"{_worked_out(group)}: {said[0]}", *map(capital, said[1:])] if group.switches and said else said


def _lit(group: Group, lamp: int) -> int:
    return sum(row.lamps[lamp].state in LIT for row in group.rows)


def _sentence(lookup: Lookup, group: Group, loads: list[int], says: tuple[str, ...], lamp: bool) -> str:
    alone = lamp and len(group.lamps) == 1
    name = "the lamp" if alone else joined(lookup.loads[group.lamps[load]] for load in loads)
    if len(loads) == len(group.lamps) > MANY_LOADS:
        name = f"any of the {len(loads)} {'lamps' if lamp else 'loads'}"
    on = "lit" if lamp else "on"
    lit, solved = _lit(group, loads[0]), len(group.rows)
    if not group.switches:
        return f"{capital(name)}: {'always' if lit else 'never'} {on}, not switched."
    change, does = ("change", "changes") if lamp else ("start or stop", "starts or stops")
    effects = "; ".join(says).replace(NAME, name).replace(CHANGES, does).replace(CHANGE, change)
    return f"{effects}; {on} in {lit} of {solved}."


def _worked_out(group: Group) -> str:
    solved, total = len(group.rows), prod(len(p) for p in group.positions)
    if not group.complete:
        return f"Worked out in {solved} settings of {total if total < MANY else MANY_SAID}"
    return f"Worked out in {'both settings' if total == 2 else f'all {total} settings'}"


def _effects(
    lookup: Lookup, group: Group, lamp: int, found: list[tuple[int, int]], electronics: bool
) -> tuple[str, ...]:
    """What operating each switch does to a load, for which NAME stands; of electronics only what takes their supply.

    `found`: for each switch the pairs of settings in which it changes the load, and all.
    """
    names = [lookup.switches[s] for s in group.switches]
    always = [s for s, (changed, pairs) in zip(names, found, strict=True) if changed == pairs]
    never = [s for s, (changed, _) in zip(names, found, strict=True) if not changed]
    parts = [f"each operation of {joined(always, 'or')} {CHANGES} {NAME}"] if always else []
    some = [i for i, (changed, pairs) in enumerate(found) if 0 < changed < pairs]
    if len(group.switches) == 2:
        parts += [_sometimes(lookup, group, lamp, i) for i in some]
    elif some:
        does = CHANGE if len(some) > 1 else CHANGES
        parts.append(f"{joined(names[i] for i in some)} {does} {NAME} only in some positions of the others")
    none = (f"neither {' nor '.join(never)} {CHANGES}" if len(never) == 2 else
            f"{joined(never, 'or')} never {CHANGES}" if len(never) <= MANY_SWITCHES else
            f"no {'other ' if parts else ''}switch ever {CHANGES}")
    return tuple(parts + ([f"{none} {NAME}"] if never and not (electronics and parts) else []))


def _sometimes(lookup: Lookup, group: Group, lamp: int, switch: int) -> str:
    """'Hall changes the lamp, but not with Top at L2'."""
    name = lookup.switches[group.switches[switch]]
    idle = idle_at(group, lamp, switch) if len(group.switches) == 2 else ()
    if idle and group.complete:
        other = group.switches[1 - switch]
        where = joined((lookup.position(other, position) for position in idle), "or")
        return f"{name} {CHANGES} {NAME}, but not with {lookup.switches[other]} {where}"
    return f"{name} {CHANGES} {NAME} only in some positions of the other"
