"""A lampholder under its rose: the flex straight down, its cores out to the terminals side by side."""

from __future__ import annotations

from sheetgen.draw.layout.parts import IN, Parts, set_mouth
from sheetgen.draw.layout.scene import Hanging
from sheetgen.draw.typeface import text_width
from sheetgen.model.layout import AccessoryPlace, ConductorPlace, Frame, Landing, SheathPlace, TerminalPlace, Words
from sheetgen.model.style import Style
from sheetgen.model.wiring import Wiring

TITLE_LINE = 310
STEP = 110
CODE = 250  # height of a colour code on an upright conductor


def _levels(hanging: Hanging, style: Style) -> list[int]:
    """For each slot's strand the step at which it turns outward: so that no core crosses another."""
    turns = []
    strands = [(i, s) for i, (_, s) in enumerate(hanging.slots) if s]
    for j, (i, _) in enumerate(strands):
        left = _slot_x(hanging, i) < _mouth_x(j, len(strands), style)
        turns.append(j if left else len(strands) - 1 - j)
    return turns


def _slot_x(hanging: Hanging, slot: int) -> int:
    return (2 * slot - len(hanging.slots) + 1) * hanging.pitch // 2


def _mouth_x(j: int, count: int, style: Style) -> int:
    return (2 * j - count + 1) * style.measures["pitch"] // 2


def hung_height(hanging: Hanging, style: Style) -> int:
    """Height of the enclosure with what is written under it."""
    return _body(hanging, style) + TITLE_LINE * len(hanging.titles)


def _body(hanging: Hanging, style: Style) -> int:
    """Height of the enclosure."""
    m = style.measures
    steps = max(_levels(hanging, style), default=0) + 1
    return IN + m["mouth"] + steps * STEP + CODE + m["sleeve height"] + 3 * m["stub gap"] + m["port"] + m["row"] + 70


def hang(hanging: Hanging, parts: Parts, top: int, style: Style, wiring: Wiring) -> None:
    """Set out the lampholder with its upper edge at `top`, under the flex that the rose's entry has placed."""
    m = style.measures
    cable = hanging.entry.cables[0]
    (pin, _low), = [p for (c, _), p in parts.pins.items() if c == cable]
    height = _body(hanging, style)
    frame = Frame(pin - hanging.body_left(style), top, hanging.body_left(style) + hanging.body_right(style), height)
    port_y = top + height - 70 - m["row"]
    middle = pin + hanging.middle(style)
    titles = tuple(
        Words(t.text, t.role, middle, top + height + TITLE_LINE * (i + 1) - 40, t.width)
        for i, t in enumerate(hanging.titles)
    )
    lamp = (frame.x + frame.width - m["lamp"] - 70, top + height - 70 - m["lamp"]) if hanging.lamp else None
    name = hanging.accessory.name
    parts.accessories.append(AccessoryPlace(
        name, frame, titles, _terminals(hanging, pin, port_y, style), (), lamp
    ))
    _set_cores(hanging, parts, pin, top, port_y, style)
    strands = [s for _, s in hanging.slots if s]
    ends = [_mouth_x(j, len(strands), style) + pin for j in range(len(strands))]
    set_mouth(parts, cable, strands[0].end, name, (pin, top), 1, (ends[0], ends[-1]), True, style)
    mouths = tuple(parts.mouths[cable])
    tips = [mouth.corners[0][1] for mouth in mouths]
    points = ((pin, min(tips)), (pin, max(tips)))
    parts.sheaths.append(SheathPlace(cable, wiring.cable(cable).flex, points, mouths))


def _terminals(hanging: Hanging, pin: int, y: int, style: Style) -> tuple[TerminalPlace, ...]:
    spans: dict[str, list[int]] = {}
    for i, (terminal, _) in enumerate(hanging.slots):
        if terminal is not None:
            spans.setdefault(terminal, []).append(i)
    found = []
    for terminal, slots in spans.items():
        left = pin + _slot_x(hanging, slots[0]) - hanging.pitch // 2 + 25
        right = pin + _slot_x(hanging, slots[-1]) + hanging.pitch // 2 - 25
        text = hanging.accessory.label(terminal)
        wide = text_width(text, style.letterings["terminal"])
        words = Words(text, "terminal", (left + right) // 2, y + style.measures["row"] // 2 + 88, wide)
        found.append(TerminalPlace(terminal, Frame(left, y, right - left, style.measures["row"]), words))
    return tuple(found)


def _set_cores(hanging: Hanging, parts: Parts, pin: int, top: int, port_y: int, style: Style) -> None:
    m = style.measures
    turns = _levels(hanging, style)
    strands = [(i, terminal, s) for i, (terminal, s) in enumerate(hanging.slots) if s]
    lip = top + IN + m["mouth"]
    for j, (slot, terminal, s) in enumerate(strands):
        x, start = pin + _slot_x(hanging, slot), pin + _mouth_x(j, len(strands), style)
        turn = lip + STEP // 2 + turns[j] * STEP
        end = port_y
        points = ((x, end), (x, turn), (start, turn), (start, lip)) if x != start else ((x, end), (x, lip))
        parts.conductors.append(ConductorPlace(s.core, (s.end,), points, (len(points), 0)))
        sleeve_top = end - m["port"] - m["stub gap"] - m["sleeve height"]
        sleeve = Frame(x - m["sleeve"] // 2, sleeve_top, m["sleeve"], m["sleeve height"])
        code = Words(s.label, "code", x, sleeve_top - m["stub gap"] - 35, s.width)
        parts.landings.append(Landing(s.core, s.end, hanging.accessory.name, terminal, (x, end), 0, code, sleeve))
