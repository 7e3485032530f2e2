"""Where line and neutral loop: the last accessory that both pass on their way from the board."""

from __future__ import annotations

from sheetgen.catalogue import methods
from sheetgen.catalogue.methods.ports import Parting
from sheetgen.judge.methods.chains import SwitchRow, lines_of
from sheetgen.judge.methods.joins import Known
from sheetgen.judge.methods.paths import Conductors, parting
from sheetgen.model.words import joined

Walks = tuple[tuple[str, ...], tuple[str, ...]]  # the accessories that line and neutral pass

AT_SWITCHES = "line at the switches"  # the nearest where line and neutral go apart from the start


def loop_of(row: SwitchRow, conductors: Conductors) -> Known:
    """The loop of a row, from where line and neutral part."""
    if not row.line_walk:
        return Known(but=("line does not come straight to its switches",))
    if not row.neutral_walk:
        return Known(but=("neutral does not come straight to its lamps",))
    printed = conductors.wiring.printed
    lines = lines_of([t for seat in row.seats for t in seat.terminals], conductors)
    if len(lines) > 1:
        return Known(but=(f"line comes from {joined(map(printed, lines))}, which this circuit joins",))
    line, neutral = row.line_walk.accessories, row.neutral_walk.accessories
    if line[0] != neutral[0]:
        borrowed = f"borrowed neutral: line from {printed(line[0])}, neutral back to {printed(neutral[0])}"
        return Known(nearest=AT_SWITCHES, but=(borrowed,))
    parted_at = parting_of(row)
    name = _name(row, (line, neutral), conductors, parted_at)
    if not name:
        elsewhere = f"line and neutral part at {printed(parted_at)}, outside this circuit"
        return Known(nearest=AT_SWITCHES, but=(elsewhere,))
    loop = methods.find_loop(name)
    rose = "rose" in conductors.wiring.accessory(parted_at).kind.flags if parted_at else False
    return Known(name, (loop.says if rose else loop.without_rose or loop.says) if loop else "")


def parting_of(row: SwitchRow) -> str:
    """The accessory at which line and neutral part, '' where there is none."""
    if not row.line_walk or not row.neutral_walk:
        return ""
    visits = parting(row.line_walk.accessories, row.neutral_walk.accessories)
    return row.line_walk.accessories[visits[0]] if visits else ""


def _name(row: SwitchRow, walks: Walks, conductors: Conductors, parted_at: str) -> str:
    """The loop of the catalogue whose sign holds, or ''."""
    found = _where(row, walks, conductors, parted_at)
    return next((loop.name for loop in methods.LOOPS if loop.holds(found)), "")


def _where(row: SwitchRow, walks: Walks, conductors: Conductors, parted_at: str) -> Parting:
    switches = {seat.accessory for seat in row.seats}
    on_switched_line = _on_switched_line(row, conductors)
    lights = set(row.lights) | on_switched_line - switches
    line, neutral = walks
    visits = parting(line, neutral)
    after_line, after_neutral = (line[visits[0] + 1:], neutral[visits[1] + 1:]) if visits else ((), ())
    flags = conductors.wiring.accessory(parted_at).kind.flags if parted_at else frozenset()
    return Parting(
        at_switch=parted_at in switches,
        at_joint_box="joint box" in flags and parted_at in on_switched_line,
        at_light=parted_at in lights,
        line_to_switches=bool(switches & set(after_line)) and not lights & set(after_line)
        and not switches & set(after_neutral),
    )


def _on_switched_line(row: SwitchRow, conductors: Conductors) -> set[str]:
    """Accessories with a terminal on the switched line of the row."""
    return {name for t in row.live for name in conductors.accessories_on.get(conductors.net(t), ())}
