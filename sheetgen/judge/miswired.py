"""Conductors that are not connected as they should be: what is expected of the circuit is then of it as found.

Nothing is fitted where they are before they are put in order.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from sheetgen.circuit.circuit import Circuit
from sheetgen.circuit.edits import places_of
from sheetgen.judge.loose_cpcs import at_earth_or_nothing
from sheetgen.model.accessory import Terminal
from sheetgen.model.reading import Finding, Fit, Gravity, Place, each
from sheetgen.model.solution import Group

OF_CONNECTIONS = frozenset((
    "alternate_polarity", "borrowed_neutral", "bridged_switch", "cpc_interrupted", "cpc_of_another_way",
    "earth_return", "earth_terminal_live", "lines_exchanged", "linked_lines", "loose_core", "multiway",
    "neutral_earth", "never_lit", "never_off", "no_permanent_line", "no_supply", "off_but_live", "onward_line",
    "protective_misused", "screw_outer_line", "series_lamps", "short", "switched_neutral", "wrong_terminal",
))
"""The rules about which conductor is connected to what: putting one right changes what is read, or by which core."""
OF_CPC = ("cpc_interrupted", "cpc_of_another_way")
"""What they keep from being fitted, metal, is told with the cpc of each place."""
IN_ORDER_FIRST = "nothing before it is put in order: see the findings"


def miswired(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The dangers and things to put right that are about how conductors are connected, those told with others too."""
    return tuple(filter(of_connections, each(findings)))


def of_connections(finding: Finding) -> bool:
    """It is about which conductor is connected to what, and more than a note."""
    return finding.gravity is not Gravity.NOTE and finding.rule in OF_CONNECTIONS


def with_findings(places: Iterable[Place], circuit: Circuit, findings: Iterable[Finding]) -> tuple[Place, ...]:
    """The places, those where something could be fitted left without that where conductors are to be put right.

    So is metal that lacks its earth, itself alone: what it works is not concerned; the dimmers that do not go with one
    another, or with what they work; and every place of a circuit that must be left off because no device opens it.
    """
    places, findings = tuple(places), tuple(findings)
    concerned = _concerned(circuit, (f for f in miswired(findings) if not _is_of_cpc(circuit, f)))
    concerned |= {f.accessory for f in each(findings) if f.rule == "no_cpc" and f.gravity is Gravity.DANGER}
    for finding in each(findings):
        if finding.rule == "dimmers":
            concerned |= _worked_with(circuit, finding.accessory)
        if finding.rule == "zs_limit" and finding.gravity is Gravity.DANGER:
            concerned |= _on_the_same_way(places, finding.accessory)
    return tuple(
        replace(p, fits=(), lacks=(IN_ORDER_FIRST,))
        if p.accessory in concerned and p.takes_fitting and p.known and not _waits(p) else p for p in places)


def _worked_with(circuit: Circuit, accessory: str) -> set[str]:
    """The accessories of all switches of the sets that an accessory has switches of."""
    sets = ({circuit.switches[name][0].name for name in group.switches} for group in circuit.solution.groups)
    return {name for found in sets if accessory in found for name in found}


def _on_the_same_way(places: tuple[Place, ...], accessory: str) -> set[str]:
    """The accessories that a way reaches which reaches this one, or which it is."""
    ways = {accessory, *(way for place in places if place.accessory == accessory for way in place.ways)}
    return {place.accessory for place in places if ways & {*place.ways}}


def _is_of_cpc(circuit: Circuit, finding: Finding) -> bool:
    """It is about the earth alone: a loose cpc that is joined to anything else is not."""
    if finding.rule != "loose_core":
        return finding.rule in OF_CPC
    core = circuit.cores[finding.core]
    return core.cpc and all(at_earth_or_nothing(circuit, end.node) for end in core.ends if end.node)


def _waits(place: Place) -> bool:
    """Nothing is to be fitted there for a reason that is told already."""
    return not place.fits and any(says.startswith("nothing before it is put in order") for says in place.lacks)


def _concerned(circuit: Circuit, findings: Iterable[Finding]) -> set[str]:
    """The accessories named, those where a core that is named ends or a cure moves one, those of switches and loads
    that depend on those named, and those with a terminal on a line that conductors alone short."""
    found = {t.accessory for t in _shorted(circuit)}
    for finding in findings:
        named = set(_named(circuit, finding))
        found |= named.union(_changed(circuit, finding))
        for group in circuit.solution.groups:
            if _is_about(circuit, group, finding, named):
                found |= {circuit.switches[name][0].name for name in group.switches}
                found |= {circuit.loads[name][0].name for name in group.lamps}
    hung = {a.name: a.hangs_from for a in circuit.wiring.accessories if a.hangs_from}
    return found | {hung[name] for name in found & hung.keys()}


def _shorted(circuit: Circuit) -> Iterator[Terminal]:
    """The terminals beyond the board that conductors alone join to a line and to a neutral or an earth."""
    nets = {circuit.solution.nets[t] for short in circuit.solution.shorts for t in short.rails}
    return (t for t in circuit.landed if t.accessory not in circuit.board and circuit.solution.nets[t] in nets)


def _named(circuit: Circuit, finding: Finding) -> Iterator[str]:
    if finding.accessory not in ("", *circuit.board):
        yield finding.accessory
    if finding.core:
        yield from (end.accessory for end in circuit.cores[finding.core].ends if end.accessory not in circuit.board)


def _changed(circuit: Circuit, finding: Finding) -> Iterator[str]:
    """The accessories in which some cure of a finding changes more than a sleeve."""
    for edit in (edit for cure in finding.cures for edit in cure.edits if not isinstance(edit, Fit)):
        yield from places_of(circuit.wiring, edit)


def _is_about(circuit: Circuit, group: Group, finding: Finding, named: set[str]) -> bool:
    """Its lamps, its terminal or its core depend on the group, or a switch within what lacks its current does; of one
    that names none of these, a switch or a load of its accessory does."""
    if finding.lamps:
        own = {circuit.loads[name][0].name for name in finding.lamps}
        return bool({*finding.lamps} & {*group.lamps}) or any(
            circuit.switches[name][0].name in own for name in group.switches)
    if finding.core:
        return any(end.node in group.terminals for end in circuit.cores[finding.core].ends)
    if finding.terminal and finding.accessory:
        return circuit.accessories[finding.accessory].terminal(finding.terminal) in group.terminals
    return any(circuit.switches[name][0].name in named for name in group.switches) or any(
        circuit.loads[name][0].name in named for name in group.lamps)
