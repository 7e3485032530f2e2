"""A switch whose conductors are all on one of its terminals, so that it does nothing."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.accessory import Terminal
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import Potential
from sheetgen.model.words import joined


def check(case: Case) -> Iterator[Finding]:
    """One finding for each switch that line reaches so."""
    for name, (terminal, lamps) in bridged(case).items():
        yield Finding(
            "bridged_switch", Gravity.PUT_RIGHT,
            says=f"All conductors at {case.part(name)} are on {case.terminal(terminal)}: the switch does nothing.",
            means=("What it should switch is on whenever the circuit is." if lamps else "Nothing is switched by it.")
            + _beside(case, terminal),
            advice=f"Find by test which of them is the switched line, and move it to the other contact of "
            f"{case.part(name)}.",
            accessory=terminal.accessory, terminal=terminal.name, lamps=lamps,
        )


def _beside(case: Case, terminal: Terminal) -> str:
    """' Conductors bridge Two as well: part them there.': switches on the same net whose contacts conductors join."""
    names = []
    for name, (accessory, switch) in case.switches.items():
        contacts = {accessory.terminal(t) for p in switch.positions for pair in p.joins for t in pair}
        if len(contacts) > 1 and {case.solution.nets[t] for t in contacts} == {case.solution.nets[terminal]}:
            names.append(case.part(name))
    return f" Conductors bridge {joined(names)} as well: part them there too." if names else ""


def bridged(case: Case) -> dict[str, tuple[Terminal, tuple[str, ...]]]:
    """Each such switch -> the terminal, and the lamps with a contact on it by conductors alone."""
    found = {}
    for name, (accessory, switch) in case.switches.items():
        contacts = dict.fromkeys(accessory.terminal(t) for p in switch.positions for pair in p.joins for t in pair)
        used = [t for t in contacts if t in case.landed]
        if not switch.by_hand or len(used) != 1 or len(case.landed[used[0]]) < 2:
            continue
        if case.at(used[0], Potential.LINE):
            net = case.solution.nets[used[0]]
            on = tuple(lamp for lamp, ends in case.contacts.items() if net in {case.solution.nets[t] for t in ends})
            found[name] = used[0], on
    return found


RULE = Rule("bridged_switch", "switch with all its conductors on one terminal", check)
