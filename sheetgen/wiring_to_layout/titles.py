"""What is written at an accessory, broken into lines and measured."""

from __future__ import annotations

from sheetgen.model.accessory import Accessory
from sheetgen.model.style import Style
from sheetgen.model.wiring import Wiring
from sheetgen.typeface import text_width
from sheetgen.wiring_to_layout.scene import Title

WIDEST = 3000  # a line is broken where it would be wider than this
UNDER_LAMP = 2200


def broken(text: str, role: str, style: Style, widest: int = WIDEST) -> tuple[Title, ...]:
    """The text in lines no wider than `widest`, broken between words; a longer word stands alone."""
    lettering = style.letterings[role]
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, lettering) <= widest:
            lines[-1] = longer
        else:
            lines.append(word)
    return tuple(Title(line, role, text_width(line, lettering)) for line in lines)


def titles_of(accessory: Accessory, wiring: Wiring, style: Style) -> tuple[Title, ...]:
    """Name, kind and room; for a way of the board its device and what it serves."""
    way = wiring.way(accessory.name)
    if way:
        device = str(way.device) if way.device else ""
        said = (device, f"RCD {float(way.rcd):g} mA" if way.rcd else "", way.serves)
        name = accessory.name[:1].upper() + accessory.name[1:]
    else:
        room = accessory.room if accessory.room.casefold() not in accessory.name.casefold() else ""
        said, name = (accessory.kind.name.split(",")[0], room), accessory.name
    lines = broken(name, "title", style)
    for text in said:
        lines += broken(text, "kind", style)
    return lines
