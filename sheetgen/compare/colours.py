"""Where the wanted circuit is all of one colour set: cables that stay in another, and the sleeves of lines in it."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace

from sheetgen.judge.sleeves import TO_FIT
from sheetgen.model.reading import Sleeve
from sheetgen.model.style import ColourSet
from sheetgen.model.wiring import Wiring
from sheetgen.model.words import joined


def asked_set(wanted: Wiring, sets: Mapping[str, ColourSet]) -> ColourSet | None:
    """The one colour set of all fixed cables of the wanted circuit; None where they are of several."""
    names = {cable.colours for cable in wanted.cables if not cable.flex}
    return sets[names.pop()] if len(names) == 1 else None


def kept_colours(result: Wiring, wanted: ColourSet, sets: Mapping[str, ColourSet], there: Collection[str]) -> str:
    """In words which of the cables that were there stay in other colours than the wanted; "" where none does."""
    by_set: dict[str, list[str]] = {}
    for cable in result.cables:
        live = any(core.colour and not core.cpc for core in cable.cores)
        if cable.name in there and live and not cable.flex and cable.colours != wanted.name:
            by_set.setdefault(cable.colours, []).append(cable.name)
    stay = "; ".join(f"{joined(names)} {'stays' if len(names) == 1 else 'stay'} in {sets[name].title} colours"
                     for name, names in by_set.items())
    return f"{stay}. The wanted circuit is in {wanted.title}: --renew replaces what is in others." if stay else ""


def in_wanted_colour(sleeves: Iterable[Sleeve], wanted: ColourSet, sets: Mapping[str, ColourSet]) -> tuple[Sleeve, ...]:
    """The sleeves of lines in the colour of the wanted set, which marks a line on the cores of any."""
    lines = {colours.line for colours in sets.values()}
    return tuple(replace(sleeve, colour=wanted.line) if sleeve.colour in lines and not sleeve.comes_off
                 and sleeve.standing in TO_FIT else sleeve for sleeve in sleeves)
