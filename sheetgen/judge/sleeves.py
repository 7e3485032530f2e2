"""The sleeves that the core ends need, by their roles and the colours of the set their cable is in."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sheetgen.catalogue.colours import CODES
from sheetgen.model.reading import Role, Sleeve, Standing
from sheetgen.model.style import ColourSet
from sheetgen.model.wiring import Cable, Core, Status, Wiring

LINES = (Role.PERMANENT_LINE, Role.SWITCHED_LINE, Role.STRAPPER, Role.BETWEEN_LAMPS)  # each can be live
UNDECIDED = (Role.SWITCHED_NEUTRAL, Role.EARTH_RETURN, Role.CUT_OFF, Role.SIGNAL, Role.NOT_KNOWN)
"""Wrong as they are, or not known: no sleeve puts them right, and those that are there stay."""
NEVER_OVERMARKED = ("GNYE", "")  # green-and-yellow, and a bare core, are marked as nothing but protective
PROTECTIVE = ("GNYE", "GN")  # plain green: flexible cords before 1970 and sleeving before about 1977


TO_FIT = (Standing.MISSING, Standing.WRONG)


def to_be_fitted(sleeve: Sleeve, wiring: Wiring) -> bool:
    """Whether a sleeve is needed and not there, or of another colour; on a proposal none is there yet. One that only
    has to come off is none."""
    if sleeve.comes_off:
        return False
    return sleeve.standing in TO_FIT or (sleeve.standing is Standing.FITTED and wiring.status is Status.PROPOSED)


def taken_as_fitted(core: Core, wiring: Wiring) -> bool:
    """Whether nobody told of the sleeves of a core that has some: a bare cpc is taken to be sleeved, and so is what a
    method laid where an installation is shown as found."""
    if wiring.status is not Status.BY_METHOD and wiring.cable(core.cable).assumed:
        return True
    return core.cpc and not core.colour


def sleeves_of(wiring: Wiring, roles: Mapping[str, Role], sets: Mapping[str, ColourSet]) -> tuple[Sleeve, ...]:
    """Every sleeve that is needed, or there, at the ends that somebody can have seen."""
    closed = frozenset(a.name for a in wiring.accessories if not a.opened)
    return tuple(
        sleeve
        for cable in wiring.cables
        for core in cable.cores
        for sleeve in _core_sleeves(wiring, cable, core, roles[core.key], sets, closed)
    )


def _core_sleeves(
    wiring: Wiring, cable: Cable, core: Core, role: Role, sets: Mapping[str, ColourSet],
    closed: frozenset[str],
) -> Iterator[Sleeve]:
    if core.colour == "" and role is Role.UNUSED:
        role = Role.CPC
    says, also = colour_meant(role, sets[cable.colours], sets)
    needed = colour_needed(core, role, sets[cable.colours], sets)
    for end, core_end in enumerate(core.ends):
        has = core_end.sleeve
        if core_end.terminal is None or core_end.accessory in closed:
            continue
        if has is None:
            at_home = core.colour or wiring.accessory(core_end.accessory).kind.takes_cpc(core_end.terminal)
            if needed is not None and at_home:
                yield Sleeve(core.key, end, needed, Standing.MISSING)
        elif (needed is not None and has in also) or _left_alone(core, role, has):
            yield Sleeve(core.key, end, has, Standing.FITTED)
        elif needed is not None or (says and has not in also and not _protective_misused(core, role)):
            yield Sleeve(core.key, end, says, Standing.WRONG, has=has, comes_off=core.colour == says)
        else:
            yield Sleeve(core.key, end, has, Standing.NEEDLESS)


def colour_meant(role: Role, own: ColourSet, sets: Mapping[str, ColourSet]) -> tuple[str, tuple[str, ...]]:
    """The colour that stands for a role, "" where none does, and all that serve as well.

    A sleeve in the colour of the other set serves: brown on an old blue core is how it is done today.
    """
    if role in LINES:
        return own.line, tuple(s.line for s in sets.values())
    if role is Role.NEUTRAL:
        return own.neutral, tuple(s.neutral for s in sets.values())
    return (own.protective, PROTECTIVE) if role is Role.CPC else ("", ())


def in_words(colour: str, role: Role, sets: Mapping[str, ColourSet]) -> str:
    """The colour of a sleeve to fit, in advice: 'brown'; of a line in old colours 'red (or brown)'.

    A certification body has advised red on red and black cable, the table of today says brown (a forum report); drawn
    is the colour of the set.
    """
    today = sets["current"].line if "current" in sets else colour
    return CODES[colour] if role not in LINES or colour == today else f"{CODES[colour]} (or {CODES[today]})"


def colour_needed(core: Core, role: Role, own: ColourSet, sets: Mapping[str, ColourSet]) -> str | None:
    """The colour of the sleeves that a core needs; None where it needs none."""
    if _protective_misused(core, role):
        return None
    if core.colour == "":
        return own.protective
    says, _ = colour_meant(role, own, sets)
    marked = not says or core.colour == says or (role is Role.CPC and core.colour in PROTECTIVE)
    return None if marked else says


def _left_alone(core: Core, role: Role, has: str) -> bool:
    """A sleeve that is shown as it is: something else has to be put right first."""
    return role in UNDECIDED or (_protective_misused(core, role) and has in PROTECTIVE)


def _protective_misused(core: Core, role: Role) -> bool:
    """A green-and-yellow or bare core used as anything else, which no sleeve can put right."""
    return core.colour in NEVER_OVERMARKED and role not in (Role.CPC, Role.UNUSED, *UNDECIDED[1:])
