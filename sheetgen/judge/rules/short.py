"""A line joined to a neutral or an earth with no load between."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.rules.exchange import Cure
from sheetgen.judge.rules.relanding import dark, moves, said
from sheetgen.judge.rules.rule import Rule
from sheetgen.judge.rules.subject import Subject
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import Group, Row, Short
from sheetgen.model.words import capital


def check(subject: Subject) -> Iterator[Finding]:
    """One finding for each pair of rails, in the first setting that joins them."""
    mended = cured(subject)
    for short in subject.solution.shorts:
        yield _finding(subject, short, None, None, "whatever the switches do")
    for group in subject.solution.groups:
        found: dict[tuple, tuple[Short, Row, int]] = {}
        for row in group.rows:
            for short in row.shorts:
                first, at, count = found.get(short.rails, (short, row, 0))
                found[short.rails] = (first, at, count + 1)
        for short, row, count in found.values():
            cure = next((said(cures, subject.part(x)) for x, cures in mended.items() if _on(subject, short, cures)), "")
            yield _finding(subject, short, group, row, f"in {count} of {len(group.rows)} settings", cure)


def cured(subject: Subject) -> dict[str, list[Cure]]:
    """Lamps that no setting lights, and the moves on the path of a short that take it away and make the lamp work."""
    shorts = [short for group in subject.solution.groups for row in group.rows for short in row.shorts]
    found = {name: moves(subject, name) for name in dark(subject)} if shorts else {}
    return {name: cures for name, cures in found.items() if any(_on(subject, short, cures) for short in shorts)}


def _on(subject: Subject, short: Short, cures: list[Cure]) -> bool:
    return any(end.node in short.through for cure in cures for end in subject.cores[cure.core].ends)


def _finding(
    subject: Subject, short: Short, group: Group | None, row: Row | None, when: str, cure: str = "",
) -> Finding:
    line, other = short.rails
    kind = dict(subject.accessories[other.accessory].kind.rails)[other.name]
    middle = [t for t in short.through if t.accessory not in subject.board]
    through = f" through {subject.terminals(middle)}" if middle else ""
    place = middle[-1] if middle else line
    return Finding(
        "short", Gravity.DANGER,
        says=f"The line of {subject.way(line.accessory)} is joined to {kind} {when},{through or ' at the board'}.",
        means="The full fault current flows; the device opens, and until it does there is heat and arcing.",
        cure=f"Keep the way off. {capital(cure)}." if cure else
        "Keep the way off, and separate the conductors along that path before it is switched on again.",
        accessory=place.accessory, terminal=place.name, setting=subject.setting(group, row),
    )


RULE = Rule("short", "line joined to neutral or earth in some setting", check)
