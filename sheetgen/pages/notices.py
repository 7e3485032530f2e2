"""Notices that a wiring calls for, and what on it a test could harm."""

from __future__ import annotations

from sheetgen.judge.earth import of_metal
from sheetgen.model.accessory import Accessory
from sheetgen.model.page import Block, Words
from sheetgen.model.words import MIXED_COLOURS, joined
from sheetgen.pages.lookup import Lookup

HARMED = {"dimmer": "dimmer", "sensor": "sensor", "electronics": "electronics", "emergency": "emergency luminaire"}


def notices(lookup: Lookup) -> list[Block]:
    """The notices of this wiring, to stand at the board."""
    found: list[Block] = []
    if lookup.recoloured:
        found.append(Words(lookup.recoloured, "notice", "Colours are not as found."))
    if lookup.job.reading.mixed_colours:
        found.append(Words(MIXED_COLOURS, "notice", "CAUTION"))
    if bare := lookup.job.reading.without_cpc:
        says = f"No earthed cpc at {joined(bare)}. Fit only class II luminaires and insulated switches there."
        found.append(Words(says, "notice", "NO EARTH"))
    if unsure := lookup.job.reading.cpc_not_known:
        says = f"Whether a cpc reaches {joined(unsure)} is not known."
        metal = [name for name in unsure if of_metal(lookup.accessories[name])]
        if len(metal) < len(unsure):
            says += " Test before metal is fitted there."
        if metal:
            has = "has" if len(metal) == 1 else "have"
            says += f" {joined(metal)} {has} metal that may have no earth: treat it as live until it is tested."
        found.append(Words(says, "notice", "EARTH NOT KNOWN"))
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
