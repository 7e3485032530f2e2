"""Sleeves that wait until the findings are put right: needed as the circuit is, and not as it is to be.

Where cures are proven, what is needed after each of them, and after all of them, tells. Where there are only words, a
core waits that is on a terminal meant for something else than it carries: its role hangs on the fault.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace

from sheetgen.circuit import Circuit, circuit_of
from sheetgen.circuit.edits import edited
from sheetgen.circuit.indicators import indicators
from sheetgen.judge.case import Case
from sheetgen.judge.cures import OF_SLEEVES
from sheetgen.judge.miswired import of_connections
from sheetgen.judge.roles import net_of_core
from sheetgen.judge.rules import RULES, unmarked, wrong_sleeve
from sheetgen.judge.sleeves import LINES, to_be_fitted
from sheetgen.model.accessory import Meant, Terminal
from sheetgen.model.reading import (
    Edit,
    End,
    Exchange,
    Finding,
    Fit,
    Land,
    Role,
    Sleeve,
    Standing,
    TakeOff,
    TakeOutLink,
)

IN_THE_NEUTRAL = ("switched_neutral", "alternate_polarity")
FOR_LINE = (Meant.LINE, Meant.LOOP, Meant.SWITCHED)


def waiting(case: Case, findings: Iterable[Finding], case_of: Callable[[Circuit], Case]) -> tuple[Sleeve, ...]:
    """The sleeves to fit, to change or to take off of which nothing may be said before the findings are put right."""
    asked = [s for s in case.sleeves if to_be_fitted(s, case.wiring) or s.standing is Standing.NEEDLESS or s.comes_off]
    if not asked:
        return ()
    findings = tuple(findings)
    after = [_as_they_stand(case_of(circuit_of(edited(case.wiring, edits)))) for edits in _advised(case, findings)]
    unsure = _unsure(case, findings)
    return tuple(s for s in asked if any(stand.get((s.core, s.end)) != _stands(s) for stand in after)
                 or _hangs(case, s, unsure))


def told_now(case: Case, findings: Iterable[Finding], waits: tuple[Sleeve, ...]) -> tuple[Finding, ...]:
    """The findings without what is said of sleeves that wait."""
    if not waits:
        return tuple(findings)
    case = replace(case, sleeves=shown(case.sleeves, waits))
    others = (f for f in findings if f.rule not in OF_SLEEVES)
    order = {rule.name: i for i, rule in enumerate(RULES)}
    return tuple(sorted((*others, *unmarked.check(case), *wrong_sleeve.check(case)), key=lambda f: order[f.rule]))


def shown(sleeves: Iterable[Sleeve], waits: tuple[Sleeve, ...]) -> tuple[Sleeve, ...]:
    """The sleeves with those that wait as they are found: there, or not there at all."""
    found = []
    for sleeve in sleeves:
        if sleeve not in waits or sleeve.standing is Standing.FITTED:
            found.append(sleeve)
        elif sleeve.standing is not Standing.MISSING:
            found.append(replace(sleeve, colour=sleeve.has or sleeve.colour, standing=Standing.FITTED, has=""))
    return tuple(found)


def _stands(sleeve: Sleeve) -> tuple[str, bool]:
    return sleeve.colour, sleeve.standing is Standing.NEEDLESS


def _as_they_stand(case: Case) -> Mapping[End, tuple[str, bool]]:
    return {(s.core, s.end): _stands(s) for s in case.sleeves}


def _advised(case: Case, findings: tuple[Finding, ...]) -> Iterator[tuple[Edit, ...]]:
    """The changes of every cure; and the first of each finding together, where no two touch the same cable."""
    alone = tuple(dict.fromkeys(cure.edits for finding in findings for cure in finding.cures))
    yield from alone
    together: tuple[Edit, ...] = ()
    touched: set[str] = set()
    for edits in dict.fromkeys(finding.cures[0].edits for finding in findings if finding.cures):
        own = {cable for edit in edits for cable in _touched(case, edit)}
        if not touched & own:
            together, touched = (*together, *edits), touched | own
    if together and together not in alone:
        yield together


def _touched(case: Case, edit: Edit) -> Iterator[str]:
    """The cables that a change touches."""
    match edit:
        case Land((key, _), _) | TakeOff((key, _)) | Fit((key, _), _):
            yield case.cores[key].cable
        case Exchange((one, _), (two, _)):
            yield from (case.cores[one].cable, case.cores[two].cable)
        case TakeOutLink(cable):
            yield cable


def _unsure(case: Case, findings: tuple[Finding, ...]) -> Mapping[Terminal, frozenset[Role]]:
    """Net -> the roles that its cores have only while something is not put right for which there are only words."""
    open_ones = [f for f in findings if not f.cures and of_connections(f)]
    found: dict[Terminal, set[Role]] = {}
    if not open_ones:
        return {}
    glowing = {case.loads[name][0].name for name in indicators(case)}  # they have no polarity
    for accessory in case.wiring.accessories:
        for kind in accessory.kind.terminals if accessory.name not in {*case.board, *glowing} else ():
            if (terminal := accessory.terminal(kind.name)) in case.landed:
                found.setdefault(case.solution.nets[terminal], set()).update(_not_meant(kind.meant))
    for name in {f.accessory for f in open_ones if f.rule in IN_THE_NEUTRAL}:
        accessory = case.accessories[name]
        for contact in {t for s in accessory.kind.switches for p in s.positions for pair in p.joins for t in pair}:
            found.setdefault(case.solution.nets[accessory.terminal(contact)], set()).add(Role.NEUTRAL)
    return {net: frozenset(roles) for net, roles in found.items()}


def _not_meant(meant: Meant) -> tuple[Role, ...]:
    """What no core should be on a terminal that is meant for that."""
    if meant is Meant.NEUTRAL:
        return (*LINES, Role.CPC)
    if meant is Meant.EARTH:
        return (*LINES, Role.NEUTRAL)
    return (Role.NEUTRAL, Role.CPC) if meant in FOR_LINE else ()


def _hangs(case: Case, sleeve: Sleeve, unsure: Mapping[Terminal, frozenset[Role]]) -> bool:
    net = net_of_core(case.cores[sleeve.core], case)
    return net is not None and case.roles[sleeve.core] in unsure.get(net, ())
