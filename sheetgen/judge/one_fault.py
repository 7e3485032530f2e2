"""What is noticed several times of one missing neutral, or of one cpc used up, is one finding with one advice.

That is lamps out with both contacts live for which no cure is proven, that they are never lit, and the line that is on
their neutral terminals.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from sheetgen.circuit import Circuit, circuit_of
from sheetgen.circuit.edits import edited
from sheetgen.judge.case import Case
from sheetgen.judge.cures import RANK
from sheetgen.judge.neutral_wanted import neutral_to_bring
from sheetgen.judge.rules.borrowed_neutral import lines_at_hand
from sheetgen.judge.supply import cannot_trigger
from sheetgen.model.accessory import Terminal
from sheetgen.model.reading import WORKED_OUT, Cure, Finding
from sheetgen.model.solution import LampState, Potential
from sheetgen.model.wiring import Cable, Core, CoreEnd, Wiring
from sheetgen.model.words import capital, joined

MOST_TOLD = 3  # other findings that are told with it
KEPT = ("The neutral that is borrowed can be put right with it; until then terminate it in an insulated connector of "
        "its own.")


def told_once(case: Case, findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """The findings, those of one missing neutral as one, and with a cpc used as something else what lacks it."""
    findings = _kept_for_another(case, _cpc_used_up(case, findings))
    faults: dict[tuple[Terminal, str], list[Finding]] = {}
    for finding in findings:
        if finding.rule == "off_but_live" and not finding.cures:
            lamp = finding.lamps[0]
            faults.setdefault((case.solution.nets[_neutral(case, lamp)], _lacks(case, lamp)), []).append(finding)
    for (net, lacks), dark in faults.items():
        lamps = {name for finding in dark for name in finding.lamps}
        never = [f for f in findings if f.rule == "never_lit" and not f.cures and {*f.lamps} <= lamps]
        one, gone = _one(case, net, lacks, dark, never, [f for f in findings if f.rule == "wrong_terminal"])
        findings = tuple(one if f is dark[0] else f for f in findings if f is dark[0] or f not in gone)
    return findings


def _cpc_used_up(case: Case, findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """A cpc that is used as something else, and that the accessory at one end has none while the other end has."""
    has = case.earthed | case.board
    for used in [f for f in findings if f.rule == "protective_misused" and not f.cures]:
        ends = [end.accessory for end in case.cores[used.core].ends]
        for lacks in [f for f in findings if f.rule == "no_cpc" and not f.cures]:
            if (lacks.accessory in ends and not lacks.elsewhere and lacks.accessory not in has
                    and RANK[lacks.gravity] >= RANK[used.gravity] and any(end in has for end in ends)):
                one = replace(
                    used, means=f"{used.means} {capital(lacks.says)}", also=(*used.also, lacks),
                    advice=f"{used.advice} Freed, it is the cpc of {case.wiring.printed(lacks.accessory)}.")
                findings = tuple(one if f is used else f for f in findings if f is not lacks)
                break
    return findings


def _kept_for_another(case: Case, findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """What the advice on a borrowed neutral makes use of is not taken off by that on a loose core."""
    wanted = {key for f in findings if f.rule == "borrowed_neutral" and not f.cures and not f.terminal
              for key in lines_at_hand(case, f.accessory)}
    return tuple(replace(f, advice=KEPT) if f.rule == "loose_core" and f.core in wanted and not f.cures else f
                 for f in findings)


def _neutral(case: Case, lamp: str) -> Terminal:
    accessory, load = case.loads[lamp]
    return accessory.terminal(load.b)


def _lacks(case: Case, lamp: str) -> str:
    """What is to be done for a lamp that is out between two live contacts, by what reaches them past no lamp."""
    neutral = _neutral(case, lamp)
    if not any(case.at(contact, Potential.LINE) for contact in case.contacts[lamp]):
        return "Find where the conductors to {lamps} are broken and join them."
    if case.at(neutral, Potential.LINE):
        return "Bring the neutral to {neutrals} in place of the line."
    return neutral_to_bring(case, neutral) or "Find where the neutral of {lamps} is broken and join it."


def _one(case: Case, net: Terminal, lacks: str, dark: list[Finding], never: list[Finding],
         wrong: list[Finding]) -> tuple[Finding, list[Finding]]:
    """The finding that stands for all, and those that it stands for."""
    lamps = tuple(name for finding in dark for name in finding.lamps)
    names, taken = joined(map(case.part, lamps)), []
    says = dark[0].says if len(dark) == 1 else f"{names} are out while both contacts of each are live."
    advice = lacks.format(lamps=names, neutrals=case.terminals(_neutral(case, name) for name in lamps))
    for finding in wrong:
        if case.solution.nets.get(Terminal(finding.accessory, finding.terminal)) == net:
            brought = next(_brought(case, finding, lamps), None)
            if brought is not None:
                advice, taken = brought, [finding]
                break
    also = [*taken, *dark[1:], *never]
    more = [f for f in also if f not in dark]
    never_triggers = (cannot_trigger(case, case.loads[name][0]) for name in lamps)
    means = dict.fromkeys([dark[0].means, *(capital(f.says) for f in more[:MOST_TOLD]), *filter(None, never_triggers)])
    setting = dark[0].setting if len({f.setting for f in dark}) == 1 else ""
    one = replace(dark[0], setting=setting, says=says, means=" ".join(means), advice=advice, lamps=lamps,
                  also=(*dark[0].also, *also))
    return one, also


def _brought(case: Case, wrong: Finding, lamps: tuple[str, ...]) -> Iterator[str]:
    """What takes the line off their neutral terminals, and where the neutral is then to be brought: carried out, with
    a conductor that is not there yet, and solved."""
    terminal = Terminal(wrong.accessory, wrong.terminal)
    ways = {way for name in lamps for c in case.conditions[case.contacts[name][0]] if c.solid
            and c.potential is Potential.LINE for way in c.ways}
    rails = [t for t, kind in case.rails.items() if kind == "neutral" and t.accessory in ways]
    for cure in wrong.cures if len(rails) == 1 else ():
        if _lights(case, cure, rails[0], terminal, lamps):
            yield (f"{capital(cure.says)}, and bring the neutral of {case.circuits(sorted(ways))} to "
                   f"{case.terminal(terminal)} {WORKED_OUT}.")


def _lights(case: Case, cure: Cure, rail: Terminal, terminal: Terminal, lamps: tuple[str, ...]) -> bool:
    after = circuit_of(_with_conductor(edited(case.wiring, cure.edits), rail, terminal))
    if after.solution.shorts or after.solution.meetings or any(r.shorts for g in after.solution.groups for r in g.rows):
        return False
    return all(LampState.ON in _does(after, name) and _does(after, name) <= {LampState.ON, LampState.OFF}
               for name in lamps)


def _does(circuit: Circuit, lamp: str) -> frozenset[str]:
    return circuit.states.get(lamp, frozenset())


def _with_conductor(wiring: Wiring, a: Terminal, b: Terminal) -> Wiring:
    """The wiring with a conductor between two terminals that is not there."""
    name = "the neutral that is missing"
    core = Core(name, 1, "", (CoreEnd(a.accessory, a.name), CoreEnd(b.accessory, b.name)))
    cable = Cable(name, "single", None, (core,), (a.accessory, b.accessory), wiring.colours)
    return replace(wiring, cables=(*wiring.cables, cable))
