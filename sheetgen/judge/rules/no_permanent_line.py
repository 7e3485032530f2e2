"""Electronics that lose their supply when a wall switch is off."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.rules import lines_exchanged, no_supply
from sheetgen.judge.rules.rule import Rule
from sheetgen.judge.supply import cannot_trigger, without_supply
from sheetgen.judge.work import worked_by
from sheetgen.model.accessory import Terminal
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import LIT, Group
from sheetgen.model.words import joined

LOST = {
    "fan": "The fan has no run-on: it stops with the switch.",
    "emergency": "It takes the switch for a failure of the supply, and is flat when there is one.",
    "sensor": "It sees nothing while the switch is off, and needs a while after it is on again.",
    "": "It does nothing while the switch is off, and may forget how it was set.",
}


def check(case: Case) -> Iterator[Finding]:
    """One finding for each accessory; a note for a sensor, whose switch is often meant to put it out of use.

    Where the permanent line is there it is the neutral that comes and goes.
    """
    if not no_supply.fed(case):
        return
    exchanged, work = {f.accessory for f in lines_exchanged.check(case)}, worked_by(case)
    for name, (accessory, load) in case.loads.items():
        if load.what != "electronics" or accessory.name in exchanged:
            continue
        group = case.solution.group_of_lamp(name)
        dark = without_supply(case, group, group.lamps.index(name))
        if dark is None:
            continue
        kind = next((flag for flag in LOST if flag in accessory.kind.flags), "")
        by_hand = [s for s in group.switches if case.switches[s][1].by_hand]
        by_hand = [s for s in by_hand if s in work[name]] or by_hand
        line, neutral = case.contacts[name]
        never = cannot_trigger(case, accessory)
        yield Finding(
            "no_permanent_line", Gravity.NOTE if kind == "sensor" and not never else Gravity.PUT_RIGHT,
            says=f"{accessory.name} has supply only with {_with(case, group, group.lamps.index(name), by_hand)}.",
            means=never or LOST[kind],
            advice=f"Bring a neutral that no switch parts to {case.terminal(neutral)}."
            if lines_exchanged.always(case, line) else _line(case, line),
            accessory=accessory.name, setting=case.setting(group, dark, only=by_hand),
        )


def _line(case: Case, terminal: Terminal) -> str:
    """Never beside the one conductor that is there: the two would feed back into what that one is switched with."""
    there = case.landed.get(terminal, [])
    instead = f" in place of {there[0]}" if len(there) == 1 else ""
    return f"Bring a permanent line to {case.terminal(terminal)}{instead}."


def _with(case: Case, group: Group, load: int, by_hand: list[str]) -> str:
    """'Yard switch on'; of several switches 'Hall or Top in some positions'."""
    if len(by_hand) != 1:
        return f"{joined(map(case.part, by_hand), 'or')} in some positions"
    (switch,) = by_hand
    place = group.switches.index(switch)
    lit = dict.fromkeys(row.setting[place] for row in group.rows if row.lamps[load].state in LIT)
    return f"{case.part(switch)} {joined((case.position(switch, p) for p in lit), 'or')}"


RULE = Rule("no_permanent_line", "fan, sensor, relay or emergency light that loses its supply with a switch", check)
