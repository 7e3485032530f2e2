"""What stays live with every lamp off, accessory by accessory."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from sheetgen.circuit.circuit import Circuit
from sheetgen.model.accessory import Accessory, Terminal
from sheetgen.model.solution import Condition
from sheetgen.model.wiring import Core
from sheetgen.model.words import joined


@dataclass(frozen=True)
class StaysLive:
    """Terminals of one accessory by their printed names: live in every setting; live in some with every lamp off."""

    accessory: Accessory
    always: tuple[str, ...]
    sometimes: tuple[str, ...]


def stays_live(circuit: Circuit) -> tuple[StaysLive, ...]:
    """What the card lists; the board is left out, it is live by its nature.

    Only lamps have to be off: a fan that runs, a sensor on its supply or a charger shows nobody that its terminals
    are live.
    """
    found = []
    for accessory in circuit.wiring.accessories:
        if circuit.wiring.way(accessory.name):
            continue
        terminals = [accessory.terminal(t.name) for t in accessory.kind.terminals if t.ways]  # not a point within it
        always = [t for t in terminals if all(c.live for c in circuit.solution.conditions(t))]
        sometimes = [t for t in terminals if t not in always and any(c.live for c in _lamps_off(circuit, t))]
        unknown = loose_ends(circuit, accessory)
        loose = loose_here(circuit, accessory)
        always_loose = [end for end in loose if all(c.live for c in circuit.solution.conditions(end[1]))]
        sometimes_loose = [end for end in loose
                           if end not in always_loose and any(c.live for c in _lamps_off(circuit, end[1]))]
        if always or sometimes or unknown or always_loose or sometimes_loose:
            found.append(StaysLive(
                accessory,
                (*_names(circuit, always), *_loose(circuit, always_loose), *([f"{unknown} (?)"] if unknown else ())),
                (*_names(circuit, sometimes), *_loose(circuit, sometimes_loose))))
    return tuple(found)


def loose_here(circuit: Circuit, accessory: Accessory) -> list[tuple[Core, Terminal]]:
    """The cores that end in nothing here, with the terminal at their other end."""
    return [(core, there.node) for core, there in circuit.on_nothing.get(accessory.name, ()) if there.node]


def _loose(circuit: Circuit, ends: Iterable[tuple[Core, Terminal]]) -> tuple[str, ...]:
    """'loose end of W2 BU'; with a (?) where nobody knows what the other end is at."""
    return tuple(f"{loose_end(core)}{' (?)' if circuit.may_be_joined(at) else ''}" for core, at in ends)


def loose_end(core: Core) -> str:
    """'loose end of W2 BU'."""
    return f"loose end of {core.cable} {core.label}"


def _names(circuit: Circuit, terminals: Iterable[Terminal]) -> tuple[str, ...]:
    """The printed names; 'L1 (?)' where nobody knows what the terminal is at."""
    return tuple(f"{circuit.label(t)} (?)" if circuit.may_be_joined(t) else circuit.label(t) for t in terminals)


def loose_ends(circuit: Circuit, accessory: Accessory) -> str:
    """'loose ends of a and b': cores on nothing here, of which nobody has seen the other end; "" where none is."""
    cables = dict.fromkeys(core.cable for core, there in circuit.on_nothing.get(accessory.name, ()) if there.unknown)
    return f"loose ends of {joined(cables)}" if cables else ""


def _lamps_off(circuit: Circuit, terminal: Terminal) -> tuple[Condition, ...]:
    """In the settings in which no lamp of its group is lit.

    Where lamps are lit in every setting, or not every setting was solved, in all that were.
    """
    if terminal in circuit.solution.constant:
        return (circuit.solution.constant[terminal],)
    group, i = circuit.group_of[terminal]
    off = [row for row in group.rows if not circuit.any_lit(group, row)] if group.complete else []
    return tuple(row.conditions[i] for row in off or group.rows)
