"""A lamp that no setting puts out."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.checks.kind import Rule
from sheetgen.checks.subject import Subject
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import LampState


def check(subject: Subject) -> Iterator[Finding]:
    """One finding for each lamp; a note where it has no switch at all, which may be meant."""
    for group in subject.solution.groups:
        for i, name in enumerate(group.lamps):
            accessory, load = subject.loads[name]
            lit = all(row.lamps[i].state in (LampState.ON, LampState.DIM) for row in group.rows)
            if not group.complete or not lit or load.what != "lamp" or "emergency" in accessory.kind.flags:
                continue
            switched = bool(group.switches)
            yield Finding(
                "never_off", Gravity.PUT_RIGHT if switched else Gravity.NOTE,
                says=f"{subject.part(name)} is on in every setting." if switched else
                f"{subject.part(name)} has no switch: it is on whenever its way is.",
                means="It goes out only with the device at the board.",
                cure=f"Take the permanent line off the switched line of {subject.part(name)}." if switched else
                "If that is not meant, bring its line through a switch.",
                accessory=accessory.name,
            )


RULE = Rule("never_off", "lamp that no setting puts out", check)
