"""A lamp that no setting puts out."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.rules import bridged_switch
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import LIT
from sheetgen.model.words import joined


def check(case: Case) -> Iterator[Finding]:
    """One finding for each lamp; a note where it has no switch at all, which may be meant."""
    for group in case.solution.groups:
        for i, name in enumerate(group.lamps):
            accessory, load = case.loads[name]
            lit = all(row.lamps[i].state in LIT for row in group.rows)
            if group.complete and lit and load.what == "lamp" and "emergency" not in accessory.kind.flags:
                if not group.switches and any(name in lamps for _, lamps in bridged_switch.bridged(case).values()):
                    continue
                bridged = [] if group.switches else _bridged(case, name)
                yield _finding(case, name, bool(group.switches), bridged)


def _finding(case: Case, name: str, switched: bool, bridged: list[str]) -> Finding:
    lamp = case.part(name)
    says, advice = f"{lamp} has no switch: it is on whenever its circuit is.", (
        "If that is not meant, bring its line through a switch.")
    if bridged:
        switches = joined(case.part(s) for s in bridged)
        says, advice = f"{lamp} is on in every setting: conductors bridge {switches}.", f"Part them at {switches}."
    elif switched:
        says, advice = f"{lamp} is on in every setting.", f"Take the permanent line off the switched line of {lamp}."
    return Finding(
        "never_off", Gravity.PUT_RIGHT if switched or bridged else Gravity.NOTE, says=says,
        means="It goes out only with the device at the board.", advice=advice,
        accessory=case.loads[name][0].name, lamps=(name,),
    )


def _bridged(case: Case, lamp: str) -> list[str]:
    """Switches all of whose contacts conductors join to one contact of the lamp."""
    accessory, load = case.loads[lamp]
    nets = {case.solution.nets[accessory.terminal(t)] for t in (load.a, load.b)}
    found = []
    for name, (place, switch) in case.switches.items():
        contacts = {place.terminal(t) for p in switch.positions for pair in p.joins for t in pair}
        on = {case.solution.nets[t] for t in contacts}
        if len(on) == 1 and on <= nets:
            found.append(name)
    return found


RULE = Rule("never_off", "lamp that no setting puts out", check)
