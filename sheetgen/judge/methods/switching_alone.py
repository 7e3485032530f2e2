"""The wiring as its method sees it: isolators closed, run-on timers, electronics and indicators left out."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from sheetgen.circuit import Circuit
from sheetgen.circuit.indicators import indicators
from sheetgen.model.accessory import Accessory, SwitchKind
from sheetgen.model.wiring import Cable, Core, CoreEnd, Wiring

ISOLATES = ("isolator", "double-pole")
CLOSED = "closed"  # stands for a colour where a closed contact is told of like a conductor


def switching_alone(circuit: Circuit) -> Wiring:
    """The same wiring where it has none of these; it is the very same value then."""
    wiring, glowing = circuit.wiring, indicators(circuit)
    accessories = tuple(_without(a, glowing) for a in wiring.accessories)
    if accessories == wiring.accessories:
        return wiring
    closed = tuple(
        _contact(accessory, i, pair)
        for accessory in wiring.accessories for switch in accessory.kind.switches if switch.what in ISOLATES
        for i, pair in enumerate(_most_joined(switch), 1)
    )
    return replace(wiring, accessories=accessories, cables=wiring.cables + closed)


def _without(accessory: Accessory, glowing: Collection[str]) -> Accessory:
    kind = accessory.kind
    inner = {t.name for t in kind.terminals if t.inner}
    timed = tuple(s for s in kind.switches if s.what == "timer" and _contacts(s) & inner)  # of a fan that runs on
    switches = tuple(s for s in kind.switches if s.what not in ISOLATES and s not in timed)
    run_on = {t for s in timed for t in _contacts(s)}
    loads = tuple(x for x in kind.loads if x.what != "electronics" and not {x.a, x.b} & run_on
                  and accessory.load_name(x) not in glowing)
    if (switches, loads) == (kind.switches, kind.loads):
        return accessory
    return replace(accessory, kind=replace(kind, switches=switches, loads=loads))


def _most_joined(switch: SwitchKind) -> tuple[tuple[str, str], ...]:
    """What an isolator joins when it is closed."""
    return max(switch.positions, key=lambda position: len(position.joins)).joins


def _contacts(switch: SwitchKind) -> set[str]:
    return {t for position in switch.positions for pair in position.joins for t in pair}


def _contact(accessory: Accessory, number: int, pair: tuple[str, str]) -> Cable:
    """A closed contact as a link inside its accessory."""
    name = accessory.name
    core = Core(name, number, CLOSED, (CoreEnd(name, pair[0]), CoreEnd(name, pair[1])))
    return Cable(f"{name} {number}", "single", None, (replace(core, cable=name),), (name, name))
