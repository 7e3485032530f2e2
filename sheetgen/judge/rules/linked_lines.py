"""A conductor that lines of two ways can reach."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.accessory import Terminal
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import Group, Potential, Row


def check(case: Case) -> Iterator[Finding]:
    """One finding for each pair of ways: where, and in which setting."""
    seen: set[tuple[str, ...]] = set()
    for terminal, setting, ways in links(case):
        if ways not in seen:
            seen.add(ways)
            yield Finding(
                "linked_lines", Gravity.DANGER,
                says=f"Lines of {case.all_ways(ways)} reach {case.terminal(terminal)}.",
                means="With one of these circuits isolated and proved dead, its conductors go live when a switch of "
                "the other is operated.",
                advice=f"Isolate {case.all_ways(ways)} before work here, and part the two circuits.",
                accessory=terminal.accessory, terminal=terminal.name, setting=setting, clause="BS 7671 314.1(vi)",
            )


def links(case: Case) -> Iterator[tuple[Terminal, str, tuple[str, ...]]]:
    """Where lines of two ways meet, in which setting, and the ways."""
    yield from _meetings(case)
    yield from _reached(case)


def _meetings(case: Case) -> Iterator[tuple[Terminal, str, tuple[str, ...]]]:
    for group, row, meeting in case.meetings():
        if meeting.kinds == ("line", "line"):
            away = [t for t in meeting.through if t.accessory not in case.board]
            switched = [t for t in away if t in case.group_of and not case.accessories[t.accessory].kind.switches]
            place = next(iter(switched or away), meeting.rails[0])
            yield place, case.setting(group, row), tuple(sorted({t.accessory for t in meeting.rails}))


def _reached(case: Case) -> Iterator[tuple[Terminal, str, tuple[str, ...]]]:
    """Terminals at line from one way in one setting, from another in another."""
    for group in case.solution.groups:
        for i, terminal in enumerate(group.terminals):
            if terminal not in case.landed:
                continue
            first: dict[str, Row] = {}
            for row in group.rows:
                condition = row.conditions[i]
                if condition.solid and condition.potential is Potential.LINE and not row.shorts:
                    for way in condition.ways:
                        first.setdefault(way, row)
            if len(first) > 1:
                yield terminal, _later(case, group, first), tuple(sorted(first))


def _later(case: Case, group: Group, first: dict[str, Row]) -> str:
    return case.setting(group, list(first.values())[-1])


RULE = Rule("linked_lines", "lines or switched lines of two circuits joined", check)
