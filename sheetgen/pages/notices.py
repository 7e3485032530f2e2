"""Notices that a wiring calls for, and what on it a test could harm."""

from __future__ import annotations

from sheetgen.model.accessory import Accessory
from sheetgen.model.page import Block, Words
from sheetgen.model.words import MIXED_COLOURS, joined
from sheetgen.pages.lookup import Lookup

HARMED = {"dimmer": "dimmer", "sensor": "sensor", "electronics": "electronics", "emergency": "emergency luminaire"}


def fixed_sets(look: Lookup) -> tuple[str, ...]:
    """The colour sets that occur in fixed wiring, flex left out."""
    return tuple(dict.fromkeys(c.colours for c in look.wiring.cables if not c.flex))


def mixed(look: Lookup) -> bool:
    """Whether fixed wiring is in colours of more than one set."""
    return len(fixed_sets(look)) > 1 and not look.wiring.recoloured


def without_cpc(look: Lookup) -> tuple[Accessory, ...]:
    """Accessories on fixed wiring that have an earth terminal with nothing on it, or to which no cpc comes at all."""
    return tuple(a for a in look.wiring.accessories if _lacks_cpc(look, a))


def _lacks_cpc(look: Lookup, accessory: Accessory) -> bool:
    ends = [end for end in look.landings[accessory.name] if not end.cable.flex]
    if look.wiring.way(accessory.name) or not ends:
        return False
    return not any(look.job.reading.roles.get(end.core.key) == "cpc" for end in ends)


def notices(look: Lookup) -> list[Block]:
    """The notices of this wiring, to stand at the board."""
    found: list[Block] = []
    if look.recoloured:
        found.append(Words(look.recoloured, "notice", "Colours are not as found."))
    if mixed(look):
        found.append(Words(MIXED_COLOURS, "notice", "CAUTION"))
    if bare := without_cpc(look):
        names = joined(a.name for a in bare)
        found.append(Words(f"No cpc at {names}. Fit only class II luminaires and insulated switches there.", "notice",
                           "NO EARTH"))
    return found


def harmed_by_test(accessories: tuple[Accessory, ...]) -> list[str]:
    """What on these accessories a test voltage could harm: 'Hall (dimmer)'."""
    found = []
    for a in accessories:
        whats = [word for flag, word in HARMED.items() if flag in a.kind.flags]
        whats += [s.what for s in a.kind.switches if s.what in ("dimmer", "sensor", "timer") and s.what not in whats]
        whats += [load.what for load in a.kind.loads if load.what == "electronics" and load.what not in whats]
        found += [f"{a.name} ({joined(whats)})"] if whats else []
    return found
