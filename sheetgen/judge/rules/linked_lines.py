"""A conductor that lines of two ways can reach."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from sheetgen.judge.case import Case
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.accessory import Terminal
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import Group, Meeting, Potential, Row


def check(case: Case) -> Iterator[Finding]:
    """One finding for each pair of ways: where, and in which setting."""
    seen: set[tuple[str, ...]] = set()
    always = frozenset(_joined_always(case))
    for terminal, setting, ways in links(case):
        if ways not in seen:
            seen.add(ways)
            yield Finding(
                "linked_lines", Gravity.DANGER,
                says=f"Lines of {case.all_ways(ways)} reach {case.terminal(terminal)}.",
                means=f"With one of these circuits switched off its conductors {_go_live(ways in always)}.",
                advice=f"Isolate {case.all_ways(ways)} before work here, and part the two circuits.",
                accessory=terminal.accessory, terminal=terminal.name, setting="" if ways in always else setting,
                clause="BS 7671 314.1(vi)",
            )


def _go_live(always: bool) -> str:
    return "stay live from the other, however the switches stand: neither can be proved dead alone" if always else (
        "can prove dead and yet go live from the other, when a switch is operated")


def _joined_always(case: Case) -> Iterator[tuple[str, ...]]:
    """The pairs of ways whose lines are joined in every setting: by conductors, or however the switches stand."""
    for meeting in case.solution.meetings:
        if meeting.kinds == ("line", "line"):
            yield _pair(meeting)
    for group in case.solution.groups:
        rows = [{_pair(m) for m in row.meetings if m.kinds == ("line", "line")} for row in group.rows]
        yield from set.intersection(*rows) if rows and group.complete else ()


def _pair(meeting: Meeting) -> tuple[str, ...]:
    return tuple(sorted({t.accessory for t in meeting.rails}))


def links(case: Case) -> Iterator[tuple[Terminal, str, tuple[str, ...]]]:
    """Where lines of two ways meet, in which setting, and the ways."""
    yield from _meetings(case)
    yield from _reached(case)


def _meetings(case: Case) -> Iterator[tuple[Terminal, str, tuple[str, ...]]]:
    for group, row, meeting in case.meetings():
        if meeting.kinds == ("line", "line"):
            away = [t for t in meeting.through if t.accessory not in case.board]
            switched = [t for t in away if t in case.group_of and not case.accessories[t.accessory].kind.switches]
            place = next(iter([*_linked(case, meeting), *switched, *away]), meeting.rails[0])
            yield place, case.setting(group, row), _pair(meeting)


def _linked(case: Case, meeting: Meeting) -> Iterator[Terminal]:
    """Where the way from line to line goes through a link within one accessory, which hardly belongs to either."""
    links = {frozenset((core.ends[0].node, core.ends[1].node)) for cable in case.wiring.cables
             if cable.ends[0] == cable.ends[1] and cable.ends[0] not in case.board for core in cable.cores}
    return (a for a, b in pairwise(meeting.through) if frozenset((a, b)) in links)


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
