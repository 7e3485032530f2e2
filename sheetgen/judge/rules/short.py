"""A line joined to a neutral or an earth with no load between."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.accessory import Terminal
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import LIT, Group, Row, Short


def check(case: Case) -> Iterator[Finding]:
    """One finding for each pair of rails, in the first setting that joins them."""
    for short in case.solution.shorts:
        yield _finding(case, short, None, None, "whatever the switches do")
    for group in case.solution.groups:
        found: dict[tuple[Terminal, Terminal], tuple[Short, Row, int]] = {}
        for row in group.rows:
            for short in row.shorts:
                first, at, count = found.get(short.rails, (short, row, 0))
                found[short.rails] = (first, at, count + 1)
        for short, row, count in found.values():
            yield _finding(case, short, group, row, f"in {count} of {len(group.rows)} settings")


def _finding(case: Case, short: Short, group: Group | None, row: Row | None, when: str) -> Finding:
    line, other = short.rails
    kind = case.rails[other]
    middle = [t for t in short.through if t.accessory not in case.board]
    through = f" through {case.terminals(middle)}" if middle else ""
    place = middle[-1] if middle else line
    return Finding(
        "short", Gravity.DANGER,
        says=f"The line of {case.way(line.accessory)} is joined to {kind} {when},{through or ' at the board'}.",
        means="The full fault current flows; the device opens and puts out everything on the circuit, and until it "
        "does there is heat and arcing. Keep the circuit off until this is mended.",
        advice="Separate the conductors along that path before the circuit is switched on again.",
        accessory=place.accessory, terminal=place.name, setting=case.setting(group, row),
        lamps=_dark(group) if group else (),
    )


def _dark(group: Group) -> tuple[str, ...]:
    """The loads of the group that no setting lights."""
    return tuple(n for i, n in enumerate(group.lamps) if not any(row.lamps[i].state in LIT for row in group.rows))


RULE = Rule("short", "line joined to neutral or earth in some setting", check)
