"""What is written at an accessory, broken into lines and measured."""

from __future__ import annotations

from sheetgen.draw.layout.scene import Title
from sheetgen.draw.typeface import text_width
from sheetgen.model.accessory import Accessory
from sheetgen.model.style import Lettering, Style
from sheetgen.model.wiring import Wiring

WIDEST, WIDER = 3000, 4000  # a line is broken where it would be wider than this; a long text may be wider
UNDER_LAMP, UNDER_LAMP_WIDER = 2200, 3000
NOT_OPENED = "not opened: treat as live"
MOST = 3  # lines of one text
ELLIPSIS = "\N{HORIZONTAL ELLIPSIS}"


def broken(text: str, role: str, style: Style, widest: int = WIDEST, wider: int = WIDER) -> tuple[Title, ...]:
    """The text in lines no wider than `widest`, broken between words; a longer text in MOST lines, cut where it must.

    What is cut ends in an ellipsis; the name stands in full where the connections are listed.
    """
    lettering = style.letterings[role]
    lines = _lines(text.split(), lettering, widest)
    if len(lines) > MOST - 1 or any(text_width(line, lettering) > widest for line in lines):
        lines = _lines(text.split(), lettering, wider)
        lines = [_cut(line, lettering, wider) for line in [*lines[:MOST - 1], " ".join(lines[MOST - 1:])] if line]
    return tuple(Title(line, role, text_width(line, lettering)) for line in lines)


def _lines(words: list[str], lettering: Lettering, widest: int) -> list[str]:
    lines: list[str] = []
    for word in words:
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, lettering) <= widest:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def _cut(line: str, lettering: Lettering, widest: int) -> str:
    """The line, or as much of it as is no wider with the ellipsis."""
    if text_width(line, lettering) <= widest:
        return line
    end = len(line)
    while end > 1 and text_width(line[:end].rstrip() + ELLIPSIS, lettering) > widest:
        end -= 1
    return line[:end].rstrip() + ELLIPSIS


def titles_of(accessory: Accessory, wiring: Wiring, style: Style) -> tuple[Title, ...]:
    """Name, kind and room; for a way of the board its device and what it serves."""
    way = wiring.way(accessory.name)
    if way:
        device = str(way.device) if way.device else ""
        said: tuple[str, ...] = (device, f"RCD {float(way.rcd):g} mA" if way.rcd else "", way.serves)
        name = way.titled
    else:
        room = accessory.room if accessory.room.casefold() not in accessory.name.casefold() else ""
        kind = accessory.kind.name.split(",")[0]
        said, name = ("" if accessory.name.endswith(kind) else kind, room), accessory.name
    closed = accessory.seen and not wiring.looked_into(accessory)
    lines = broken(name, "title", style)
    for text in (*said, NOT_OPENED if closed else ""):
        lines += broken(text, "kind", style)
    return lines
