"""What to do for a load that no neutral reaches: join the one that is broken, or bring one where none comes."""

from __future__ import annotations

from sheetgen.judge.case import Case
from sheetgen.model.accessory import Accessory, Terminal
from sheetgen.model.reading import Role
from sheetgen.model.wiring import Core, CoreEnd
from sheetgen.model.words import joined

NO_NEUTRAL = (Role.PERMANENT_LINE, Role.SWITCHED_LINE, Role.STRAPPER)


def neutral_for(case: Case, lamp: str) -> str:
    """The advice for a load that lacks its neutral."""
    accessory, load = case.loads[lamp]
    return neutral_to_bring(case, accessory.terminal(load.b)) or (
        f"Find where the neutral of {case.part(lamp)} is broken and join it.")


def neutral_to_bring(case: Case, terminal: Terminal, instead: str = "") -> str:
    """'Bring a neutral to Sensor N: none comes to Sensor, the nearest is at Utility.'; '' where one may be there.

    None comes where every core is known, is joined to something, and does something else.
    """
    here = [(core, end) for core in case.wiring.cores() for end in core.ends if end.accessory == terminal.accessory]
    if any(_may_be_one(case, core, end, terminal) for core, end in here):
        return ""
    accessory = case.accessories[terminal.accessory]
    near = dict.fromkeys(b for cable in case.wiring.cables for a, b in (cable.ends, cable.ends[::-1])
                         if a == accessory.name and b not in case.board and _has_neutral(case, b))
    where = f", the nearest is at {joined(map(case.wiring.printed, near), 'or')}" if near else ""
    switch = f" Or fit a switch in place of {accessory.name}: it needs none." if _a_switch_would_do(
        case, accessory) else ""
    return f"Bring a neutral to {case.terminal(terminal)}{instead}: none comes to {accessory.name}{where}.{switch}"


def _a_switch_would_do(case: Case, accessory: Accessory) -> bool:
    """It is a sensor alone, with a line and a switched line."""
    joins = [pair for switch in accessory.kind.switches for position in switch.positions for pair in position.joins]
    made = {accessory.terminal(t) for pair in joins for t in pair}
    return "sensor" in accessory.kind.flags and made <= case.landed.keys()


def _may_be_one(case: Case, core: Core, end: CoreEnd, terminal: Terminal) -> bool:
    """A core that is the neutral, or may once have been; a cpc is none unless it is used as one."""
    if core.cpc:
        return case.roles[core.key] is Role.NEUTRAL
    return end.node in (None, terminal) or case.roles[core.key] not in NO_NEUTRAL


def _has_neutral(case: Case, name: str) -> bool:
    return any(end.accessory == name and end.node is not None and case.roles[core.key] is Role.NEUTRAL
               for core in case.wiring.cores() for end in core.ends)
