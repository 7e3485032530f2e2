"""The law a lamp follows, counted over all settings: what operating each switch does, how often it is lit."""

from __future__ import annotations

from math import prod

from sheetgen.model.solution import Group, LampState, Row
from sheetgen.pages.lookup import Lookup
from sheetgen.words import capital, joined

LIT = (LampState.ON, LampState.DIM)


def operated_once(group: Group) -> tuple[Row, ...]:
    """The first setting, and each switch put from there to its next position."""
    first = group.rows[0].setting
    wanted = [first]
    for i, positions in enumerate(group.positions):
        wanted += [(*first[:i], p, *first[i + 1:]) for p in positions if p != first[i]]
    rows = {row.setting: row for row in group.rows}
    return tuple(rows[setting] for setting in wanted if setting in rows)


def changes(group: Group, lamp: int, switch: int) -> tuple[int, int]:
    """In how many pairs of settings that differ by one switch alone the lamp changes, and how many there are."""
    rows = {row.setting: row for row in group.rows}
    changed = pairs = 0
    for setting, row in rows.items():
        for position in group.positions[switch]:
            other = rows.get((*setting[:switch], position, *setting[switch + 1:]))
            if position > setting[switch] and other is not None:
                pairs += 1
                changed += (row.lamps[lamp].state in LIT) != (other.lamps[lamp].state in LIT)
    return changed, pairs


def law(look: Lookup, group: Group) -> list[str]:
    """What holds for the lamps, verified over every setting that was solved; like lamps share a sentence."""
    same: dict[tuple, list[int]] = {}
    for lamp in range(len(group.lamps)):
        effects = tuple(changes(group, lamp, switch) for switch in range(len(group.switches)))
        same.setdefault((effects, _lit(group, lamp)), []).append(lamp)
    return [_sentence(look, group, lamps) for lamps in same.values()]


def _lit(group: Group, lamp: int) -> int:
    return sum(row.lamps[lamp].state in LIT for row in group.rows)


def _sentence(look: Lookup, group: Group, lamps: list[int]) -> str:
    name = joined(look.loads[group.lamps[lamp]] for lamp in lamps) if len(group.lamps) > 1 else "the lamp"
    lit, solved, total = _lit(group, lamps[0]), len(group.rows), prod(len(p) for p in group.positions)
    if not group.switches:
        return f"{capital(name)}: {'always' if lit else 'never'} lit, not switched."
    every = "both settings" if total == 2 else f"all {total} settings"
    checked = every if group.complete else f"{solved} settings of {total}"
    return f"Verified over {checked}: {'; '.join(_effects(look, group, lamps[0], name))}; lit in {lit} of {solved}."


def _effects(look: Lookup, group: Group, lamp: int, name: str) -> list[str]:
    """What operating each switch does to a lamp."""
    found = {look.switches[s]: changes(group, lamp, i) for i, s in enumerate(group.switches)}
    always = [s for s, (changed, pairs) in found.items() if changed == pairs]
    never = [s for s, (changed, _) in found.items() if not changed]
    parts = [f"each operation of {joined(always, 'or')} changes {name}"] if always else []
    parts += [f"{s} changes {name} in {c} of {p} settings of the others" for s, (c, p) in found.items() if 0 < c < p]
    return parts + ([f"{joined(never, 'or')} never changes {name}"] if never else [])
