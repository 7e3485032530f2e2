"""A lampholder under its rose: the flex straight down, its cores out to the terminals side by side."""

from __future__ import annotations

from sheetgen.draw.layout.parts import IN, Parts, set_sheath_end
from sheetgen.draw.layout.scene import Pendant
from sheetgen.draw.typeface import text_width
from sheetgen.model.layout import (
    AccessoryPlace,
    ConductorPlace,
    CoreEndPlace,
    Frame,
    SheathPlace,
    TerminalPlace,
    TextPlace,
)
from sheetgen.model.style import Style
from sheetgen.model.wiring import Wiring

TITLE_LINE = 310
STEP = 110
CODE = 250  # height of a colour code on an upright conductor


def _levels(pendant: Pendant, style: Style) -> list[int]:
    """For each slot's termination the step at which it turns outward: so that no core crosses another."""
    turns = []
    terminations = [(i, s) for i, (_, s) in enumerate(pendant.slots) if s]
    for j, (i, _) in enumerate(terminations):
        left = _slot_x(pendant, i) < _core_x(j, len(terminations), style)
        turns.append(j if left else len(terminations) - 1 - j)
    return turns


def _slot_x(pendant: Pendant, slot: int) -> int:
    return (2 * slot - len(pendant.slots) + 1) * pendant.pitch // 2


def _core_x(j: int, count: int, style: Style) -> int:
    return (2 * j - count + 1) * style.measures["pitch"] // 2


def pendant_height(pendant: Pendant, style: Style) -> int:
    """Height of the enclosure with what is written under it."""
    return _body(pendant, style) + TITLE_LINE * len(pendant.titles)


def _body(pendant: Pendant, style: Style) -> int:
    """Height of the enclosure."""
    m = style.measures
    steps = max(_levels(pendant, style), default=0) + 1
    return IN + m["mouth"] + steps * STEP + CODE + m["sleeve height"] + 3 * m["stub gap"] + m["port"] + m["row"] + 70


def hang_pendant(pendant: Pendant, parts: Parts, top: int, style: Style, wiring: Wiring) -> None:
    """Set out the lampholder with its upper edge at `top`, under the flex that the rose's entry has placed."""
    cable = pendant.entry.cables[0]
    (pin, _low), = [p for (c, _), p in parts.pins.items() if c == cable]
    set_out_pendant(pendant, parts, (pin, top), style)
    sheath_ends = tuple(parts.sheath_ends[cable])
    tips = [sheath_end.corners[0][1] for sheath_end in sheath_ends]
    points = ((pin, min(tips)), (pin, max(tips)))
    parts.sheaths.append(SheathPlace(cable, wiring.cable(cable).flex, points, sheath_ends))


def set_out_pendant(pendant: Pendant, parts: Parts, at: tuple[int, int], style: Style) -> None:
    """Set out the lampholder: `at` is where the flex passes its upper edge."""
    m, (pin, top) = style.measures, at
    cable = pendant.entry.cables[0]
    height = _body(pendant, style)
    frame = Frame(pin - pendant.body_left(style), top, pendant.body_left(style) + pendant.body_right(style), height)
    port_y = top + height - 70 - m["row"]
    middle = pin + pendant.middle(style)
    titles = tuple(
        TextPlace(t.text, t.role, middle, top + height + TITLE_LINE * (i + 1) - 40, t.width)
        for i, t in enumerate(pendant.titles)
    )
    lamp = (frame.x + frame.width - m["lamp"] - 70, top + height - 70 - m["lamp"]) if pendant.lamp else None
    name = pendant.accessory.name
    parts.accessories.append(AccessoryPlace(
        name, frame, titles, _terminals(pendant, pin, port_y, style), (), lamp
    ))
    _set_cores(pendant, parts, pin, top, port_y, style)
    terminations = [s for _, s in pendant.slots if s]
    ends = [_core_x(j, len(terminations), style) + pin for j in range(len(terminations))]
    set_sheath_end(parts, cable, terminations[0].end, name, (pin, top), 1, (ends[0], ends[-1]), True, style)


def _terminals(pendant: Pendant, pin: int, y: int, style: Style) -> tuple[TerminalPlace, ...]:
    spans: dict[str, list[int]] = {}
    for i, (terminal, _) in enumerate(pendant.slots):
        if terminal is not None:
            spans.setdefault(terminal, []).append(i)
    found = []
    for terminal, slots in spans.items():
        left = pin + _slot_x(pendant, slots[0]) - pendant.pitch // 2 + 25
        right = pin + _slot_x(pendant, slots[-1]) + pendant.pitch // 2 - 25
        text = pendant.accessory.printed_label(terminal)
        wide = text_width(text, style.letterings["terminal"])
        words = TextPlace(text, "terminal", (left + right) // 2, y + style.measures["row"] // 2 + 88, wide)
        found.append(TerminalPlace(terminal, Frame(left, y, right - left, style.measures["row"]), words))
    return tuple(found)


def _set_cores(pendant: Pendant, parts: Parts, pin: int, top: int, port_y: int, style: Style) -> None:
    m = style.measures
    turns = _levels(pendant, style)
    terminations = [(i, terminal, s) for i, (terminal, s) in enumerate(pendant.slots) if s]
    lip = top + IN + m["mouth"]
    for j, (slot, terminal, s) in enumerate(terminations):
        x, start = pin + _slot_x(pendant, slot), pin + _core_x(j, len(terminations), style)
        turn = lip + STEP // 2 + turns[j] * STEP
        end = port_y
        points = ((x, end), (x, turn), (start, turn), (start, lip)) if x != start else ((x, end), (x, lip))
        parts.conductors.append(ConductorPlace(s.core, (s.end,), points, (len(points), 0)))
        sleeve_top = end - m["port"] - m["stub gap"] - m["sleeve height"]
        sleeve = Frame(x - m["sleeve"] // 2, sleeve_top, m["sleeve"], m["sleeve height"])
        code = TextPlace(s.label, "code", x, sleeve_top - m["stub gap"] - 35, s.width)
        parts.core_ends.append(CoreEndPlace(s.core, s.end, pendant.accessory.name, terminal, (x, end), 0, code, sleeve))
