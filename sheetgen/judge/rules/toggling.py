"""Whether the switches of a set do what they should: every operation of each changes the lamp."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from sheetgen.model.solution import Group, LampState, Row
from sheetgen.model.wiring import Wiring


def changeovers(wiring: Wiring, group: Group) -> list[str]:
    """The switches of a group that a hand operates and that are made in both positions: two-way, intermediate."""
    made = {
        name for name, _, switch in wiring.switches()
        if switch.by_hand and len(switch.positions) == 2 and all(p.joins for p in switch.positions)
    }
    return [s for s in group.switches if s in made]


def works(group: Group, lamp: str, switch: str) -> bool:
    """Operating the switch changes the lamp from some setting."""
    return any(a != b for a, b in _operations(group, lamp, switch, {}))


def fails(group: Group, lamp: str, switches: Sequence[str]) -> bool:
    """Some of the switches change the lamp, yet no setting of the rest of the group makes each of them always do so."""
    mine = [s for s in switches if works(group, lamp, s)]
    if not mine:
        return False
    rest = [i for i, s in enumerate(group.switches) if s not in switches]
    others = dict.fromkeys(tuple(row.setting[i] for i in rest) for row in group.rows)
    return not any(
        all(a != b for s in mine for a, b in _operations(group, lamp, s, dict(zip(rest, chosen, strict=True))))
        for chosen in others
    )


def _operations(group: Group, lamp: str, switch: str, given: Mapping[int, str]) -> Iterator[tuple[bool, bool]]:
    """(lit before, lit after) for each operation of the switch with some others as given."""
    i, place = group.lamps.index(lamp), group.switches.index(switch)
    rows = {row.setting: row for row in group.rows if all(row.setting[k] == p for k, p in given.items())}
    first, second = group.positions[place]
    for setting, row in rows.items():
        if setting[place] == first:
            yield _lit(row, i), _lit(rows[(*setting[:place], second, *setting[place + 1:])], i)


def _lit(row: Row, lamp: int) -> bool:
    return row.lamps[lamp].state in (LampState.ON, LampState.DIM)
