"""The mark of a danger, at every accessory where the check found one: a triangle with an exclamation mark."""

from __future__ import annotations

from sheetgen.model.drawing import About, Area, Circle, Line, Shape
from sheetgen.model.layout import AccessoryPlace
from sheetgen.model.style import Style

HEIGHT = 300


def danger_at(place: AccessoryPlace, style: Style, about: About) -> list[Shape]:
    """The mark at the left of the accessory's name; over the lamp of a lampholder, whose name stands under it."""
    name, half = place.titles[0], style.measures["danger mark"] // 2
    if name.y > place.frame.y + place.frame.height and place.lamp:
        x, y = place.lamp
        return danger_mark(x, y - style.measures["lamp"] - style.measures["danger gap"], style, about)
    return danger_mark(name.x - name.width // 2 - style.measures["danger gap"] - half, name.y + 35, style, about)


def danger_mark(x: int, foot: int, style: Style, about: About = ()) -> list[Shape]:
    """The mark with the middle of its foot at (x, foot)."""
    half = style.measures["danger mark"] // 2
    return [
        Area(((x - half, foot), (x, foot - HEIGHT), (x + half, foot)), "danger mark", about=about),
        Line(((x, foot - 195), (x, foot - 95)), "danger stroke", about=about),
        Circle(x, foot - 45, 25, "danger dot", about=about),
    ]
