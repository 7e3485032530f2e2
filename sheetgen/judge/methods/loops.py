"""Where line and neutral loop: the last accessory that both pass on their way from the board."""

from __future__ import annotations

from sheetgen.catalogue import methods
from sheetgen.judge.methods.chains import Row, lines_of
from sheetgen.judge.methods.joins import Known
from sheetgen.judge.methods.paths import Conductors, parting
from sheetgen.model.words import joined

AT_ROSE, AT_SWITCH, AT_BOX, AT_SWITCHES = (
    "at the rose", "at the switch", "at a joint box", "line at the switches")


def loop_of(row: Row, conductors: Conductors) -> Known:
    """The loop of a row, from where line and neutral part."""
    if not row.line_walk:
        return Known(but=("line does not come straight to its switches",))
    if not row.neutral_walk:
        return Known(but=("neutral does not come straight to its lamps",))
    lines = lines_of([t for seat in row.seats for t in seat.terminals], conductors)
    if len(lines) > 1:
        return Known(but=(f"line comes from {joined(lines)}, which this circuit joins",))
    line, neutral = row.line_walk.accessories, row.neutral_walk.accessories
    if line[0] != neutral[0]:
        borrowed = f"borrowed neutral: line from {line[0]}, neutral back to {neutral[0]}"
        return Known(nearest=AT_SWITCHES, but=(borrowed,))
    parted_at = parting_of(row)
    name = _name(row, conductors, parted_at)
    if not name:
        elsewhere = f"line and neutral part at {parted_at}, outside this circuit"
        return Known(nearest=AT_SWITCHES, but=(elsewhere,))
    return Known(name, methods.find_loop(name).says)


def parting_of(row: Row) -> str:
    """The accessory at which line and neutral part, '' where there is none."""
    if not row.line_walk or not row.neutral_walk:
        return ""
    visits = parting(row.line_walk.accessories, row.neutral_walk.accessories)
    return row.line_walk.accessories[visits[0]] if visits else ""


def _name(row: Row, conductors: Conductors, parted_at: str) -> str:
    switches = {seat.accessory for seat in row.seats}
    lights = set(row.lights) | _on_switched_line(row, conductors) - switches
    if parted_at in switches:
        return AT_SWITCH
    flags = conductors.wiring.accessory(parted_at).kind.flags
    if "joint box" in flags and parted_at in _on_switched_line(row, conductors):
        return AT_BOX
    if parted_at in lights:
        return AT_ROSE
    line, neutral = row.line_walk.accessories, row.neutral_walk.accessories
    i, k = parting(line, neutral)
    after_line, after_neutral = line[i + 1:], neutral[k + 1:]
    if switches & set(after_line) and not lights & set(after_line) and not switches & set(after_neutral):
        return AT_SWITCHES
    return ""


def _on_switched_line(row: Row, conductors: Conductors) -> set[str]:
    """Accessories with a terminal on the switched line of the row."""
    nets = {conductors.net(t) for t in row.live}
    return {t.accessory for t in conductors.next if conductors.net(t) in nets}
