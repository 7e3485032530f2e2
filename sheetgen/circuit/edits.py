"""Changes to a wiring as an electrician makes them at one accessory; each gives a new wiring, to be solved again."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from sheetgen.model.reading import AddLink, Edit, End, Exchange, Fit, Land, TakeOff, TakeOutLink
from sheetgen.model.wiring import Cable, Core, CoreEnd, Wiring


@dataclass(frozen=True)
class _Changed:
    """What a core end is to become; None leaves that as it is."""

    terminal: str | None
    sleeve: str | None = None
    lands: bool = True  # False: only the sleeve changes


def edited(wiring: Wiring, edits: Iterable[Edit]) -> Wiring:
    """The wiring after some edits, one after the other."""
    for edit in edits:
        wiring = _edited(wiring, edit)
    return wiring


def landed(wiring: Wiring, landings: Mapping[End, str | None]) -> Wiring:
    """The wiring with some core ends on other terminals of the same accessory, or on nothing."""
    return _with(wiring, {end: _Changed(terminal) for end, terminal in landings.items()})


def _edited(wiring: Wiring, edit: Edit) -> Wiring:
    match edit:
        case Land(end, terminal):
            return landed(wiring, {end: terminal})
        case TakeOff(end):
            return landed(wiring, {end: None})
        case Exchange(one, two):
            terminals = {end: _end(wiring, end).terminal for end in (one, two)}
            return landed(wiring, {one: terminals[two], two: terminals[one]})
        case Fit(end, colour):
            return _with(wiring, {end: _Changed(None, colour, lands=False)})
        case TakeOutLink(cable):
            return replace(wiring, cables=tuple(c for c in wiring.cables if c.name != cable))
        case AddLink(accessory, a, b, colour):
            return replace(wiring, cables=(*wiring.cables, _link(wiring, accessory, a, b, colour)))


def _end(wiring: Wiring, end: End) -> CoreEnd:
    return next(core.ends[end[1]] for core in wiring.cores() if core.key == end[0])


def _link(wiring: Wiring, accessory: str, a: str, b: str, colour: str) -> Cable:
    number = 1
    taken = {c.name for c in wiring.cables}
    while f"link {number}" in taken:
        number += 1
    name = f"link {number}"
    core = Core(name, 1, colour, (CoreEnd(accessory, a), CoreEnd(accessory, b)))
    return Cable(name, "single", None, (core,), (accessory, accessory), wiring.colours)


def _with(wiring: Wiring, changes: Mapping[End, _Changed]) -> Wiring:
    keys = {key for key, _ in changes}
    return replace(wiring, cables=tuple(
        replace(cable, cores=tuple(_core(core, changes) if core.key in keys else core for core in cable.cores))
        if any(core.key in keys for core in cable.cores) else cable
        for cable in wiring.cables))


def _core(core: Core, changes: Mapping[End, _Changed]) -> Core:
    first, second = (_changed(end, changes.get((core.key, i))) for i, end in enumerate(core.ends))
    return replace(core, ends=(first, second))


def _changed(end: CoreEnd, change: _Changed | None) -> CoreEnd:
    if change is None:
        return end
    if not change.lands:
        return replace(end, sleeve=change.sleeve)
    return replace(end, terminal=change.terminal, unknown=False)


def places_of(wiring: Wiring, edit: Edit) -> tuple[str, ...]:
    """The accessories in which a change is carried out."""
    match edit:
        case Land(end, _) | TakeOff(end) | Exchange(end, _) | Fit(end, _):
            return (_end(wiring, end).accessory,)
        case TakeOutLink(cable):
            return next(tuple(dict.fromkeys(c.ends)) for c in wiring.cables if c.name == cable)
        case AddLink(accessory, _, _, _):
            return (accessory,)
