"""A lamp that no setting puts out."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.rules.relanding import moves, said
from sheetgen.judge.rules.rule import Rule
from sheetgen.judge.rules.subject import Subject
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import LampState
from sheetgen.model.words import joined


def check(subject: Subject) -> Iterator[Finding]:
    """One finding for each lamp; a note where it has no switch at all, which may be meant."""
    for group in subject.solution.groups:
        for i, name in enumerate(group.lamps):
            accessory, load = subject.loads[name]
            lit = all(row.lamps[i].state in (LampState.ON, LampState.DIM) for row in group.rows)
            if group.complete and lit and load.what == "lamp" and "emergency" not in accessory.kind.flags:
                bridged = [] if group.switches else _bridged(subject, name)
                yield _finding(subject, name, bool(group.switches), bridged)


def _finding(subject: Subject, name: str, switched: bool, bridged: list[str]) -> Finding:
    lamp = subject.part(name)
    says, cure = f"{lamp} has no switch: it is on whenever its way is.", (
        "If that is not meant, bring its line through a switch.")
    if bridged:
        switches = joined(subject.part(s) for s in bridged)
        says, cure = f"{lamp} is on in every setting: conductors bridge {switches}.", f"Part them at {switches}."
    elif switched:
        says, cure = f"{lamp} is on in every setting.", f"Take the permanent line off the switched line of {lamp}."
    if (switched or bridged) and (found := moves(subject, name)):
        cure = f"{said(found, lamp)}."
    return Finding(
        "never_off", Gravity.PUT_RIGHT if switched or bridged else Gravity.NOTE, says=says,
        means="It goes out only with the device at the board.", cure=cure, accessory=subject.loads[name][0].name,
    )


def _bridged(subject: Subject, lamp: str) -> list[str]:
    """Switches all of whose contacts conductors join to one contact of the lamp."""
    accessory, load = subject.loads[lamp]
    nets = {subject.solution.nets[accessory.terminal(t)] for t in (load.a, load.b)}
    found = []
    for name, (place, switch) in subject.switches.items():
        contacts = {place.terminal(t) for p in switch.positions for pair in p.joins for t in pair}
        on = {subject.solution.nets[t] for t in contacts}
        if len(on) == 1 and on <= nets:
            found.append(name)
    return found


RULE = Rule("never_off", "lamp that no setting puts out", check)
