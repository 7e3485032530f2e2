"""A wiring that no circuit of the board feeds."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import Potential


def check(case: Case) -> Iterator[Finding]:
    """One finding for the whole."""
    if fed(case) or not case.wiring.cables or not case.board:
        return
    if not case.wiring.all_seen:
        return  # a core whose end nobody knows may bring it
    names = [name for name in case.accessories if name in case.board]
    yield Finding(
        "no_supply", Gravity.PUT_RIGHT,
        says=f"Nothing here is joined to the line of {case.all_ways(names)}.",
        means="No lamp can light, and nothing that is said of the wiring holds once it is fed.",
        advice="Write the cable that comes from the board into the description; if there is none, bring one.",
        accessory=names[0],
    )


def fed(case: Case) -> bool:
    """The line of some way reaches a terminal away from the board, or meets another rail by a conductor."""
    return bool(case.muddled or case.solution.shorts or case.solution.meetings) or any(
        case.at(terminal, Potential.LINE) for terminal in case.landed if terminal.accessory not in case.board)


RULE = Rule("no_supply", "wiring that no circuit of the board feeds", check)
