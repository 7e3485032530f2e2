"""The supply of electronics: settings in which it is lost, and what follows where they then never trigger."""

from __future__ import annotations

from sheetgen.circuit import Circuit
from sheetgen.circuit.triggers import electronics_of, kept_dark, never_triggers
from sheetgen.judge.roles import serving_rows
from sheetgen.model.accessory import Accessory
from sheetgen.model.solution import LIT, Group, Row
from sheetgen.model.words import joined


def without_supply(circuit: Circuit, group: Group, load: int) -> Row | None:
    """The first setting, isolators closed, in which electronics that have supply in some other have none."""
    rows = serving_rows(circuit, group)
    lit = [row for row in rows if row.lamps[load].state in LIT]
    dark = [row for row in rows if row.lamps[load].state not in LIT]
    return dark[0] if lit and dark else None


def cannot_trigger(circuit: Circuit, accessory: Accessory) -> str:
    """'Sensor can never trigger: it has no supply while idle. So Flood 1 is never lit.'; '' of one that can.

    Nor is it said of a timer, which only prolongs, nor where nothing stays dark for it.
    """
    own = [accessory.switch_name(s) for s in accessory.kind.switches if not s.by_hand and s.what != "timer"]
    if not electronics_of(accessory) or not set(own) & {*never_triggers(circuit)}:
        return ""
    dark = [name for name, by in kept_dark(circuit).items() if set(by) & set(own)]
    return f"{accessory.name} can never trigger: it has no supply while idle. {_so(circuit, dark)}" if dark else ""


def _so(circuit: Circuit, dark: list[str]) -> str:
    lamps = circuit.lamp_names.issuperset(dark)
    does = ("is" if len(dark) == 1 else "are") if lamps else ("works" if len(dark) == 1 else "work")
    never = f"{does} never lit" if lamps else f"never {does}"
    return f"So {joined(map(circuit.part, dark))} {never}."
