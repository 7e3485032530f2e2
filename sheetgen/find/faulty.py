"""A wiring with one fault in it, made with the changes that `circuit/` knows and with parts that no longer work."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from sheetgen.model.accessory import AccessoryKind, SwitchKind
from sheetgen.model.wiring import Wiring


def changed_kind(wiring: Wiring, accessory: str, change: Callable[[AccessoryKind], AccessoryKind]) -> Wiring:
    """The wiring with another kind in the place of one accessory's."""
    return replace(wiring, accessories=tuple(
        replace(a, kind=change(a.kind)) if a.name == accessory else a for a in wiring.accessories))


def without_load(wiring: Wiring, accessory: str, load: str) -> Wiring:
    """A load that takes no current; `load` is its name within the accessory."""
    return changed_kind(wiring, accessory, lambda kind: replace(
        kind, loads=tuple(x for x in kind.loads if x.name != load)))


def without_line(wiring: Wiring, ways: Iterable[str]) -> Wiring:
    """Ways, by the accessories that stand for them, whose line no longer comes in."""
    for way in ways:
        wiring = changed_kind(wiring, way, lambda kind: replace(
            kind, rails=tuple(rail for rail in kind.rails if rail[1] != "line")))
    return wiring


def stuck(wiring: Wiring, accessory: str, switch: str, position: str) -> Wiring:
    """A switch that joins what it joins in one position, wherever its handle stands."""
    def change(found: SwitchKind) -> SwitchKind:
        joins = next(p.joins for p in found.positions if p.name == position)
        return replace(found, positions=tuple(replace(p, joins=joins) for p in found.positions))

    return _with_switch(wiring, accessory, switch, change)


def never_makes(wiring: Wiring, accessory: str, switch: str, pair: tuple[str, str]) -> Wiring:
    """A switch of which one contact no longer closes."""
    def change(found: SwitchKind) -> SwitchKind:
        return replace(found, positions=tuple(
            replace(p, joins=tuple(join for join in p.joins if join != pair)) for p in found.positions))

    return _with_switch(wiring, accessory, switch, change)


def _with_switch(wiring: Wiring, accessory: str, switch: str, change: Callable[[SwitchKind], SwitchKind]) -> Wiring:
    return changed_kind(wiring, accessory, lambda kind: replace(
        kind, switches=tuple(change(s) if s.name == switch else s for s in kind.switches)))
