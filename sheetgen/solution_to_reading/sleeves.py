"""The sleeves that the core ends need, by their roles and the colours of the set their cable is in."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sheetgen.model.reading import Role, Sleeve, Standing
from sheetgen.model.style import ColourSet
from sheetgen.model.wiring import Cable, Core, Wiring

LINES = (Role.PERMANENT_LINE, Role.SWITCHED_LINE, Role.STRAPPER)
NEUTRALS = (Role.NEUTRAL, Role.SWITCHED_NEUTRAL)
NEVER_OVERMARKED = ("GNYE", "")  # green-and-yellow, and a bare core, are marked as nothing but protective
PROTECTIVE = ("GNYE", "GN")  # plain green: flexible cords before 1970 and sleeving before about 1977


def sleeves_of(wiring: Wiring, roles: Mapping[str, Role], sets: Mapping[str, ColourSet]) -> tuple[Sleeve, ...]:
    """Every sleeve that is needed, or there."""
    return tuple(
        sleeve
        for cable in wiring.cables
        for core in cable.cores
        for sleeve in _core_sleeves(cable, core, roles[core.key], sets)
    )


def _core_sleeves(cable: Cable, core: Core, role: Role, sets: Mapping[str, ColourSet]) -> Iterator[Sleeve]:
    needed, also = colour_needed(core, role, sets[cable.colours], sets)
    for end, core_end in enumerate(core.ends):
        has = core_end.sleeve
        if core_end.terminal is None:
            continue
        if needed is None:
            if has is not None:
                yield Sleeve(core.key, end, has, Standing.NEEDLESS)
        elif has is None:
            yield Sleeve(core.key, end, needed, Standing.MISSING)
        elif has == needed or has in also:
            yield Sleeve(core.key, end, has, Standing.FITTED)
        else:
            yield Sleeve(core.key, end, needed, Standing.WRONG, has=has)


def colour_needed(
    core: Core, role: Role, own: ColourSet, sets: Mapping[str, ColourSet]
) -> tuple[str | None, tuple[str, ...]]:
    """The colour a core's sleeves should have (None: it needs none), and the others that serve as well.

    A sleeve in the line colour of the other set serves: brown on an old blue core is how it is done today.
    """
    if core.colour in NEVER_OVERMARKED:
        bare = core.colour == "" and (role in (Role.CPC, Role.UNUSED) or any(e.sleeve in PROTECTIVE for e in core.ends))
        return (own.protective, PROTECTIVE) if bare else (None, ())
    if role in LINES:
        wanted, also = own.line, tuple(s.line for s in sets.values())
    elif role in NEUTRALS:
        wanted, also = own.neutral, tuple(s.neutral for s in sets.values())
    elif role is Role.CPC:
        wanted, also = own.protective, PROTECTIVE
    else:
        return None, ()
    marked = core.colour == wanted or (role is Role.CPC and core.colour in PROTECTIVE)
    return (None, ()) if marked else (wanted, also)
