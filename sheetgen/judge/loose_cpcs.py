"""Loose ends of cpcs: where they go, and what has no earth before they are there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sheetgen.circuit.circuit import Circuit
from sheetgen.judge.case import Case
from sheetgen.judge.earth import earth_terminal, of_metal, ways_at
from sheetgen.model.accessory import Accessory, Meant, Terminal
from sheetgen.model.reading import Gravity, Land, Role
from sheetgen.model.solution import Potential
from sheetgen.model.wiring import Core
from sheetgen.model.words import joined


@dataclass(frozen=True)
class LooseCpc:
    """A cpc with a loose end that can be put where it belongs: nothing but earth is then joined by it."""

    core: Core
    lands: tuple[Land, ...]  # of each loose end
    goes_to: tuple[Terminal, ...]  # of each loose end
    brings: Terminal | None  # the end to which it brings earth; None where it brings none, or both have it


def loose_cpcs(case: Case) -> Iterator[LooseCpc]:
    """Those of which both ends, once landed, are at earth or at nothing in every setting, and which bring earth to no
    accessory of other ways."""
    for core in case.wiring.cores():
        loose = [i for i, end in enumerate(core.ends) if end.nothing]
        if not core.cpc or not loose or any(end.unknown for end in core.ends):
            continue
        if not all(case.accessories[core.ends[i].accessory].opened for i in loose):
            continue
        a, b = (end.node or place_of_earth(case, end.accessory) for end in core.ends)
        if a is None or b is None or a == b:
            continue
        at = at_earth_or_nothing(case, a), at_earth_or_nothing(case, b)
        if None in at:
            continue
        brings = None if at[0] is at[1] else a if at[0] is Potential.FLOATING else b
        if brings is None or not foreign_to(case, b if brings is a else a, brings.accessory):
            goes_to = tuple((a, b)[i] for i in loose)
            yield LooseCpc(core, tuple(Land((core.key, i), (a, b)[i].name) for i in loose), goes_to, brings)


def foreign_to(case: Case, earth: Terminal, name: str) -> bool:
    """The earth of a terminal is that of other ways than the lines of an accessory: none to be earthed by."""
    earths = {way for c in case.conditions.get(earth, ()) if c.potential is Potential.EARTH for way in c.ways}
    lines = ways_at(case, case.accessories[name], Potential.LINE, Potential.NEUTRAL)
    return bool(earths and lines) and earths.isdisjoint(lines)


def place_of_earth(case: Case, name: str) -> Terminal | None:
    """Where a cpc goes in an accessory: its one earth terminal; where it has none, the one on which its cpcs are."""
    accessory = case.accessories[name]
    own = [accessory.terminal(kind.name) for kind in accessory.kind.terminals]
    meant = [t for t in own if accessory.kind.terminal(t.name).meant is Meant.EARTH]
    found = meant or [t for t in own if any(case.roles[core.key] is Role.CPC for core in case.landed.get(t, ()))]
    return found[0] if len(found) == 1 else None


def at_earth_or_nothing(circuit: Circuit, terminal: Terminal) -> Potential | None:
    """EARTH or FLOATING where it is that in every setting; None where it is anything else, or not known."""
    found = {c.potential if c.solid or c.potential is Potential.FLOATING else None
             for c in circuit.conditions.get(terminal, ())}
    alone = found.pop() if len(found) == 1 else None
    return alone if alone in (Potential.EARTH, Potential.FLOATING) else None


def to_put(case: Case, terminal: Terminal, loose: Sequence[LooseCpc]) -> str:
    """'Put the bare core of W2 on Hall E': those loose that bring earth to a terminal, or that go there; ""."""
    net = case.solution.nets[terminal]
    best = [x for x in loose if x.brings is not None and case.solution.nets[x.brings] == net] or [
        x for x in loose if terminal in x.goes_to]
    said = [f"{case.core(x.core)} on {case.terminals(x.goes_to)}" for x in best]
    return f"Put {joined(said, 'or')}" if said else ""


def without_earth(case: Case, core: Core) -> tuple[Accessory, ...]:
    """The accessories with an earth terminal at a loose cpc's loose end, and on what its other end is joined to, to
    which no cpc brings earth, as far as that is known. A flex asks for none where there is no metal."""
    loose = {end.accessory for end in core.ends if end.nothing}
    cut_off = [case.solution.nets[end.node] for end in core.ends
               if end.node and not case.at(end.node, Potential.EARTH)]
    hangs_on = {t.accessory for net in cut_off if net not in case.muddled for t in case.members[net]
                if t in case.landed}
    found = []
    for accessory in case.wiring.accessories:
        terminal = earth_terminal(accessory)
        if terminal is None or accessory.name in case.earthed or case.may_be_joined(terminal):
            continue
        asks = of_metal(accessory) or not case.cables[core.cable].flex
        if accessory.name in hangs_on or (accessory.name in loose and asks):
            found.append(accessory)
    return tuple(found)


def gravity_without_earth(accessories: tuple[Accessory, ...]) -> Gravity:
    """What it is that these have no earth."""
    if any(map(of_metal, accessories)):
        return Gravity.DANGER
    return Gravity.PUT_RIGHT if accessories else Gravity.NOTE
