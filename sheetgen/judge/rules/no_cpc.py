"""Accessories to which no cpc comes."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.circuit.indicators import indicators
from sheetgen.judge.case import Case
from sheetgen.judge.earth import earth_terminal, in_steel, of_metal
from sheetgen.judge.loose_cpcs import loose_cpcs, to_put
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.accessory import Accessory, Terminal
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.words import joined


def check(case: Case) -> Iterator[Finding]:
    """One finding for each accessory that has metal to be earthed, or to which a loose cpc would bring earth, and one
    for all others together."""
    others: list[Terminal] = []
    loose = tuple(loose_cpcs(case))
    glowing = {case.loads[name][0].name for name in indicators(case)}
    for accessory in case.wiring.accessories:
        terminal = earth_terminal(accessory)
        metal = of_metal(accessory)
        if terminal is None or terminal in case.landed or not _wired(case, accessory, by_flex=metal):
            continue
        if case.may_be_joined(terminal) or (accessory.name in glowing and not metal):
            continue
        put = to_put(case, terminal, loose)
        if not metal and not put:
            others.append(terminal)
        elif not metal:
            yield _insulated([terminal], f"{put}.")
        else:
            yield Finding(
                "no_cpc", Gravity.DANGER,
                says=f"No cpc is joined to {case.terminal(terminal)}, whose metal needs one.",
                means="If a live conductor touches the metal inside, the metal stays live.",
                advice=f"{put}." if put else
                f"Bring a cpc to {accessory.name}, or fit one of class II or all-insulated instead.",
                accessory=accessory.name, terminal=terminal.name, clause="BS 7671 411.3.1.1 (clause from memory)",
            )
    if others:
        places = others[0].accessory if len(others) == 1 else "each of them"
        yield _insulated(others, f"Bring a cpc to {places}; until then keep a notice at the board.")


def _insulated(terminals: list[Terminal], advice: str) -> Finding:
    return Finding(
        "no_cpc", Gravity.PUT_RIGHT,
        says=f"No cpc is joined to {joined(t.accessory for t in terminals)}.",
        means="Nothing of metal may be fitted there: class II luminaires and insulated switches only.",
        advice=advice, accessory=terminals[0].accessory, terminal=terminals[0].name,
        elsewhere=tuple(t.accessory for t in terminals[1:]),
        clause="BS 7671 411.3.1.1 (clause from memory)",
    )


def _wired(case: Case, accessory: Accessory, by_flex: bool) -> bool:
    """A live core of fixed wiring ends on it, or of a flex where that counts; steel conduit to it is its cpc."""
    cables = {core.cable for kind in accessory.kind.terminals
              for core in case.landed.get(accessory.terminal(kind.name), ())}
    if any(in_steel(case.cables[name]) for name in cables):
        return False
    return any(
        not core.cpc and (by_flex or not case.cables[core.cable].flex)
        for kind in accessory.kind.terminals for core in case.landed.get(accessory.terminal(kind.name), ())
    )


RULE = Rule("no_cpc", "accessory, metal accessory or class I luminaire without cpc", check)
