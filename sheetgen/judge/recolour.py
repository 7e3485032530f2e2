"""Wiring to Wiring: the same circuit in another colour set, every core coloured by what it joins.

Never by translating one colour into another: published conventions disagree on what yellow and blue become. Keys of
cores, and so the solution, stay as they are.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from sheetgen.model.reading import Role, Sleeve, Standing
from sheetgen.model.style import ColourSet
from sheetgen.model.wiring import Cable, Core, Wiring

ORDER = (Role.PERMANENT_LINE, Role.STRAPPER, Role.SWITCHED_LINE, Role.BETWEEN_LAMPS, Role.UNUSED)
NEUTRALS = (Role.NEUTRAL, Role.SWITCHED_NEUTRAL)


def wiring_to_recoloured(wiring: Wiring, roles: Mapping[str, Role], chosen: ColourSet) -> Wiring:
    """The wiring in the chosen colours, with no sleeves but those found on bare cpcs. What a method has laid was never
    found in others: those colours are its own.

    Flex in today's colours stays as it is: with old fixed cable that is how it is found.
    """
    commons = _commons(wiring)
    cables = tuple(
        cable if cable.flex and cable.colours == "current" else _recoloured(cable, roles, chosen, commons)
        for cable in wiring.cables
    )
    return replace(wiring, cables=cables, colours=chosen.name, recoloured="" if wiring.laid else chosen.name)


def as_found(wiring: Wiring, recoloured: Wiring) -> bool:
    """Whether the wiring was in those colours already."""
    return [(c.key, c.colour) for c in wiring.cores()] == [(c.key, c.colour) for c in recoloured.cores()]


def with_sleeves(wiring: Wiring, sleeves: Iterable[Sleeve], found: Iterable[Sleeve], was: Wiring,
                 sets: Mapping[str, ColourSet]) -> Wiring:
    """The wiring with every sleeve that it needs, but for those that were found missing: they stay to be fitted. A
    wrong sleeve that was found stays wrong, in the colour that stands for the same in this set."""
    lacking = {(s.core, s.end): s for s in found if s.standing in (Standing.MISSING, Standing.WRONG)}
    wanted = {(s.core, s.end): s.colour for s in sleeves
              if s.standing is Standing.MISSING and (s.core, s.end) not in lacking}
    own, new = {cable.name: sets[cable.colours] for cable in was.cables}, sets[wiring.colours]
    for core in was.cores():
        old = own[core.cable]
        kin = {old.line: new.line, old.neutral: new.neutral, old.protective: new.protective}
        for i in (0, 1):
            if (wrong := lacking.get((core.key, i))) and wrong.has:
                wanted[core.key, i] = kin.get(wrong.has, wrong.has)

    def sleeved(core: Core) -> Core:
        return core.with_ends(lambda i, end: replace(end, sleeve=wanted.get((core.key, i), end.sleeve)))

    return replace(wiring, cables=tuple(
        replace(cable, cores=tuple(map(sleeved, cable.cores))) for cable in wiring.cables))


def _commons(wiring: Wiring) -> frozenset[tuple[str, str]]:
    """The commons of all switches, as (accessory, terminal)."""
    return frozenset(
        (a.name, terminal) for a in wiring.accessories for port, terminal in a.kind.ports if port.endswith("common")
    )


def _recoloured(cable: Cable, roles: Mapping[str, Role], chosen: ColourSet,
                commons: frozenset[tuple[str, str]]) -> Cable:
    colours = _colours(cable, roles, chosen, commons)
    cores = tuple(_painted(core, cable, colours, chosen) for core in cable.cores)
    return replace(cable, cores=cores, colours=chosen.name)


def _painted(core: Core, cable: Cable, colours: Mapping[str, str], chosen: ColourSet) -> Core:
    colour = colours[core.key]
    twins = [c for c in cable.cores if colours[c.key] == colour and not c.cpc]
    mark = (core.mark or str(twins.index(core) + 1)) if len(twins) > 1 else core.mark if cable.single else ""
    bare = core.cpc and not colour
    return replace(core, colour=colour, mark=mark).with_ends(
        lambda _, end: replace(end, sleeve=chosen.protective if bare and end.sleeve else None))


def _colours(cable: Cable, roles: Mapping[str, Role], chosen: ColourSet,
             commons: frozenset[tuple[str, str]]) -> dict[str, str]:
    """A colour for every core of the cable: neutrals take the neutral colour or the last one, lines the others."""
    colours = {core.key: core.colour for core in cable.cores if core.cpc}
    live = [core for core in cable.cores if not core.cpc]
    if len(live) == 1:
        colours[live[0].key] = chosen.neutral if roles[live[0].key] in NEUTRALS else chosen.line
        return colours
    free = [c for c in chosen.cores.get(cable.type, ()) if c not in ("", "GNYE")]
    free += [chosen.line] * (len(live) - len(free))

    def rank(core: Core) -> tuple[bool, bool, int, list[str], int]:
        nodes = [(end.accessory, end.terminal or "") for end in core.ends]
        role = roles[core.key]
        return (
            role in NEUTRALS, not all(n in commons for n in nodes),
            ORDER.index(role) if role in ORDER else len(ORDER), sorted(n[1] for n in nodes), core.index,
        )

    ranked = sorted(live, key=rank)
    for core in [c for c in ranked if roles[c.key] in NEUTRALS]:
        colours[core.key] = free.pop(free.index(chosen.neutral) if chosen.neutral in free else -1)
    for core in [c for c in ranked if roles[c.key] not in NEUTRALS]:
        colours[core.key] = free.pop(0)
    return colours
