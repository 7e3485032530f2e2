"""What stays live with every lamp off, accessory by accessory."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from sheetgen.model.accessory import Accessory, Terminal
from sheetgen.model.solution import LIT, Condition, Group, Potential, Row
from sheetgen.pages.lookup import Lookup

LIVE = (Potential.LINE, Potential.THROUGH_LOAD, Potential.BETWEEN, Potential.NOT_KNOWN)


@dataclass(frozen=True)
class Live:
    """Terminals of one accessory by their printed names: live in every setting; live in some with every lamp off."""

    accessory: Accessory
    always: tuple[str, ...]
    sometimes: tuple[str, ...]


def is_live(condition: Condition) -> bool:
    """At line, or at it through a load."""
    return condition.potential in LIVE and condition.fraction != 0


def stays_live(look: Lookup) -> tuple[Live, ...]:
    """What the card lists; the board is left out, it is live by its nature.

    Only lamps have to be off: a fan that runs, a sensor on its supply or a charger shows nobody that its terminals
    are live.
    """
    found = []
    for accessory in look.wiring.accessories:
        if look.wiring.way(accessory.name):
            continue
        terminals = [accessory.terminal(t.name) for t in accessory.kind.terminals if t.ways]  # not a point within it
        always = [t for t in terminals if _live(all, _everywhere(look, t))]
        sometimes = [t for t in terminals if t not in always and _live(any, _lamps_off(look, t))]
        if always or sometimes:
            found.append(Live(accessory, tuple(map(look.label, always)), tuple(map(look.label, sometimes))))
    return tuple(found)


def _live(how: Callable[[Iterable[bool]], bool], conditions: Iterable[Condition]) -> bool:
    return how(is_live(c) for c in conditions)


def _everywhere(look: Lookup, terminal: Terminal) -> tuple[Condition, ...]:
    return look.job.solution.conditions(terminal)


def _lamps_off(look: Lookup, terminal: Terminal) -> tuple[Condition, ...]:
    """In the settings in which no lamp of its group is lit.

    Where lamps are lit in every setting, or not every setting was solved, in all that were.
    """
    solution = look.job.solution
    if terminal in solution.constant:
        return (solution.constant[terminal],)
    group = next(g for g in solution.groups if terminal in g.terminals)
    i = group.terminals.index(terminal)
    lamps = {name for name, _, load in look.wiring.loads() if load.what == "lamp"}
    off = [row for row in group.rows if not _any_lit(group, row, lamps)] if group.complete else []
    return tuple(row.conditions[i] for row in off or group.rows)


def _any_lit(group: Group, row: Row, lamps: set[str]) -> bool:
    return any(x.state in LIT for name, x in zip(group.lamps, row.lamps, strict=True) if name in lamps)
