"""Contacts and lamps drawn beside the terminals that they join, as circuit symbols."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from sheetgen.model.accessory import Accessory, LoadKind, SwitchKind
from sheetgen.model.drawing import About, Box, Circle, Line, Shape
from sheetgen.model.layout import AccessoryPlace, Frame, Point

DOT = 38
AJAR = 140  # how far an open contact stands off at most, where another terminal lies beside its own


def symbols_of(place: AccessoryPlace, accessory: Accessory, radius: int) -> list[Shape]:
    """Every switch in its first position, the other contacts open; every load between its terminals."""
    about = (("accessory", accessory.name),)
    if not place.devices:
        return _lamp(*place.lamp, radius, about) if place.lamp else []
    frames = {t.terminal: t.frame for t in place.terminals}
    rows = {name: frame.y + frame.height // 2 for name, frame in frames.items()}
    shapes: list[Shape] = []
    switches, loads = accessory.kind.switches, accessory.kind.loads
    for switch, columns in zip(switches, place.devices, strict=False):
        shapes += _contacts(switch, rows, columns, about) if columns else []
    for load, columns in zip(loads, place.devices[len(switches):], strict=True):
        if columns:
            shapes += _load(load, frames, columns, radius, about)
    return shapes


def _contacts(switch: SwitchKind, rows: Mapping[str, int], columns: tuple[int, int], about: About) -> list[Shape]:
    """Pivots in the left column, contacts in the right one, blades between as in the first position."""
    joins = [pair for position in switch.positions for pair in position.joins]
    pivots = dict.fromkeys(a for a, _ in joins)
    dots: dict[str, Point] = {a: (columns[0], rows[a]) for a in pivots}
    dots |= {b: (columns[1], rows[b]) for _, b in joins if b not in dots}
    about = (*about, ("switch", switch.name or switch.what))
    shapes: list[Shape] = []
    first = switch.positions[0].joins
    for a, b in first:
        shapes.append(Line((dots[a], dots[b]), "symbol", about=about))
    if not first:
        for a, b in dict.fromkeys(joins):
            (x, y), (to_x, to_y) = dots[a], dots[b]
            beside = any(min(y, to_y) < row < max(y, to_y) for row in rows.values())  # a terminal that it does not join
            off = (to_y - y) * 2 // 5
            shapes.append(Line(((x, y), (to_x + 20, y + (max(-AJAR, min(AJAR, off)) if beside else off))), "symbol",
                               about=about))
    shapes += [Circle(x, y, DOT, "symbol dot" if name in pivots else "symbol fill", about=about)
               for name, (x, y) in dots.items()]
    return shapes


def _load(
    load: LoadKind, frames: Mapping[str, Frame], columns: tuple[int, int], radius: int, about: About
) -> list[Shape]:
    """The symbol half way between its two terminals, joined to both.

    Where it is joined to itself, or another terminal stands between its two, it is no larger than its own terminal and
    stands there: nothing lies over a terminal between, and what joins it to the other is seen to pass behind it.
    """
    x = (columns[0] + columns[1]) // 2
    a, b = (frames[name].y + frames[name].height // 2 for name in (load.a, load.b))
    between = sorted((f.y, f.y + f.height) for f in frames.values() if min(a, b) < f.y + f.height // 2 < max(a, b))
    middle = a if between else (a + b) // 2
    if a == b or between:
        radius = min(radius, frames[load.a].height // 2 - 25)
    shapes: list[Shape] = []
    for end in (a, b):
        if end != middle:
            edge = middle + radius if end > middle else middle - radius
            shapes += [Line(((x, top), (x, low)), role, about=about)
                       for top, low, role in _behind(between, min(edge, end), max(edge, end))]
            shapes.append(Circle(x, end, DOT, "symbol dot", about=about))
    return shapes + load_symbol(load.what, x, middle, radius, about)


def load_symbol(what: str, x: int, y: int, radius: int, about: About = ()) -> list[Shape]:
    """The symbol of a lamp, a fan's motor (the letter M in a circle, as in IEC 60617) or electronics."""
    if what == "lamp":
        return _lamp(x, y, radius, about)
    if what == "fan":
        d = radius * 9 // 20
        letter = Line(((x - d, y + d), (x - d, y - d), (x, y + d // 3), (x + d, y - d), (x + d, y + d)), "symbol",
                      about=about)
        return [Circle(x, y, radius, "symbol fill", about=about), letter]
    return [Box(x - radius, y - radius, 2 * radius, 2 * radius, "symbol fill", 0, "", about)]


def _behind(terminals: Sequence[tuple[int, int]], top: int, low: int) -> Iterator[tuple[int, int, str]]:
    """An upright line in pieces, from the top down, those dashed that pass behind terminals (top and foot of each)."""
    for first, last in terminals:
        yield top, first, "symbol"
        yield first, last, "symbol hidden"
        top = last
    yield top, low, "symbol"


def _lamp(x: int, y: int, radius: int, about: About) -> list[Shape]:
    d = radius * 707 // 1000
    return [
        Circle(x, y, radius, "symbol fill", about=about),
        Line(((x - d, y - d), (x + d, y + d)), "symbol", about=about),
        Line(((x - d, y + d), (x + d, y - d)), "symbol", about=about),
    ]
