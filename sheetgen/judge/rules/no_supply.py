"""A wiring that no way of the board feeds."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.rules.rule import Rule
from sheetgen.judge.rules.subject import Subject
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import Potential


def check(subject: Subject) -> Iterator[Finding]:
    """One finding for the whole."""
    if fed(subject) or not subject.wiring.cables or not subject.board:
        return
    names = [name for name in subject.accessories if name in subject.board]
    yield Finding(
        "no_supply", Gravity.PUT_RIGHT,
        says=f"Nothing here is joined to the line of {subject.all_ways(names)}.",
        means="No lamp can light, and nothing that is said of the wiring holds once it is fed.",
        cure="Write the cable that comes from the board into the description; if there is none, bring one.",
        accessory=names[0],
    )


def fed(subject: Subject) -> bool:
    """The line of some way reaches a terminal away from the board, or meets another rail by a conductor."""
    return bool(subject.muddled or subject.solution.shorts or subject.solution.meetings) or any(
        subject.at(terminal, Potential.LINE) for terminal in subject.landed if terminal.accessory not in subject.board)


RULE = Rule("no_supply", "wiring that no way of the board feeds", check)
