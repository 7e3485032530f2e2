"""A line joined to a neutral or an earth with no load between."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.checks.kind import Rule
from sheetgen.checks.subject import Subject
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import Group, Row, Short


def check(subject: Subject) -> Iterator[Finding]:
    """One finding for each pair of rails, in the first setting that joins them."""
    for short in subject.solution.shorts:
        yield _finding(subject, short, None, None, "whatever the switches do")
    for group in subject.solution.groups:
        found: dict[tuple, tuple[Short, Row, int]] = {}
        for row in group.rows:
            for short in row.shorts:
                first, at, count = found.get(short.rails, (short, row, 0))
                found[short.rails] = (first, at, count + 1)
        for short, row, count in found.values():
            yield _finding(subject, short, group, row, f"in {count} of {len(group.rows)} settings")


def _finding(subject: Subject, short: Short, group: Group | None, row: Row | None, when: str) -> Finding:
    line, other = short.rails
    kind = dict(subject.accessories[other.accessory].kind.rails)[other.name]
    middle = [t for t in short.through if t.accessory not in subject.board]
    through = f" through {subject.terminals(middle)}" if middle else ""
    place = middle[-1] if middle else line
    return Finding(
        "short", Gravity.DANGER,
        says=f"The line of {subject.way(line.accessory)} is joined to {kind} {when},{through or ' at the board'}.",
        means="The full fault current flows; the device opens, and until it does there is heat and arcing.",
        cure="Keep the way off, and separate the conductors along that path before it is switched on again.",
        accessory=place.accessory, terminal=place.name, setting=subject.setting(group, row),
    )


RULE = Rule("short", "line joined to neutral or earth in some setting", check)
