"""A line or a neutral landed on a terminal that is meant for the earth."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.earth import of_metal
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.accessory import Meant, Terminal
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import Condition, Potential


def check(case: Case) -> Iterator[Finding]:
    """One finding for each earth terminal that is joined to something else in some setting."""
    for accessory in case.wiring.accessories:
        for kind in accessory.kind.terminals:
            terminal = accessory.terminal(kind.name)
            if kind.meant is not Meant.EARTH or accessory.name in case.board:
                continue
            wrong = [s for s in case.settings(terminal) if _wrong(s[2])]
            found = min(wrong, key=lambda s: _mildness(s[2]), default=None)
            if found is not None:
                group, row, condition = found
                yield _finding(case, terminal, case.setting(group, row), condition)


def _wrong(condition: Condition) -> bool:
    nothing_wrong = (Potential.EARTH, Potential.FLOATING, Potential.NOT_KNOWN)
    return condition.potential not in nothing_wrong and (condition.solid or condition.live)


def _mildness(condition: Condition) -> int:
    """0 at line, 1 at line through a lamp, 2 at neutral: the setting that is told is one of the worst."""
    return 2 if not condition.live else int(not condition.solid)


def _finding(case: Case, terminal: Terminal, setting: str, condition: Condition) -> Finding:
    live = condition.live
    metal = of_metal(case.accessories[terminal.accessory])
    what = "line" if condition.solid and live else "line through a lamp" if live else condition.potential
    return Finding(
        "earth_terminal_live", Gravity.DANGER if live or metal else Gravity.PUT_RIGHT,
        says=f"The earth terminal {case.terminal(terminal)} is at {what}.",
        means="Metal that is earthed here becomes live." if live else
        "Metal here is at the neutral: it becomes live when the neutral is lost." if metal else
        "Current of the neutral flows in the cpcs, and metal that is earthed here becomes live when it is lost.",
        advice=f"Take everything but cpcs off {case.terminal(terminal)}.",
        accessory=terminal.accessory, terminal=terminal.name, setting=setting,
    )


RULE = Rule("earth_terminal_live", "earth terminal with a line or a neutral on it", check)
