"""Symbols of IEC 60617 as schemdraw elements with an anchor at each pin, and their paint on a drawing's shapes.

Descriptions of the symbols are from memory: contacts 07-02, change-over 07-02-04, lamp 08-10-01, terminal 03-02-02.
schemdraw is imported here only, and this module only where a diagram is made. Its module for matplotlib is set aside
during that import: it is not used, and alone takes longer (0.4 s) than the whole sheet.
"""

from __future__ import annotations

import importlib
import sys
from collections.abc import Sequence

from sheetgen.model.drawing import About, Area, Circle, Line, Shape
from sheetgen.model.geometry import MM


def _schemdraw():
    """schemdraw without its way to matplotlib, which it does without where that cannot be imported."""
    unused = "schemdraw.backends.mpl"
    if "schemdraw" not in sys.modules:
        sys.modules[unused] = None  # type: ignore[assignment]  # how Python says: not to be imported
        try:
            importlib.import_module("schemdraw")
        finally:
            del sys.modules[unused]
    return sys.modules["schemdraw"]


schemdraw = _schemdraw()
Segment, SegmentCircle, SegmentPoly = schemdraw.Segment, schemdraw.SegmentCircle, schemdraw.SegmentPoly

Rows = Sequence[float]
DOT, PIN = 0.32, 0.55  # radii, mm
OPEN = 1.9  # how far an open contact stands off, mm
RAYS, RAY_REACH = ((1, 1), (-1, 1), (1, -1), (-1, -1)), 1.75  # of a lit lamp: directions, and radii they reach


class Symbol(schemdraw.elements.Element):
    """Any symbol: pins at x = 0 and x = `width`, y upwards, in millimetres.

    `parts` runs parallel to `segments`: what each is ("lead", "blade", "dot", "body", "link") and the pin whose
    potential it has, as (side, number) or None.
    """

    def __init__(self, left: Rows, right: Rows, width: float, **params):
        super().__init__(**params)
        self.parts: list[tuple[str, tuple[int, int] | None]] = []
        self.rows, self.width = (tuple(left), tuple(right)), width
        for side, x in ((0, 0.0), (1, width)):
            for number, y in enumerate(self.rows[side]):
                self.anchors[f"pin{side}{number}"] = (x, y)

    def add(self, segment, what: str, pin: tuple[int, int] | None = None) -> None:
        """Add a piece with what it is."""
        self.segments.append(segment)
        self.parts.append((what, pin))

    def leads(self, ends: tuple[float, float]) -> None:
        """A lead from each pin to the x of what is between them."""
        for side, x in ((0, 0.0), (1, self.width)):
            for number, y in enumerate(self.rows[side]):
                self.add(Segment([(x, y), (ends[side], y)]), "lead", (side, number))


class Contact(Symbol):
    """Contacts as they stand: `made` are the pairs ((side, number), (side, number)) that are joined.

    A blade is hinged at each pin of the `hinged` side that any position joins to the other side.
    """

    def __init__(self, left: Rows, right: Rows, width: float, moving: float, made, hinged: int, **params):
        super().__init__(left, right, width, **params)
        ends = ((width - moving) / 2, (width + moving) / 2)
        self.leads(ends)
        at = {(side, number): (ends[side], y) for side in (0, 1) for number, y in enumerate(self.rows[side])}
        hinges = [pin for pin in at if pin[0] == hinged]
        for a, b in made:
            hinge, tip = (a, b) if a[0] == hinged else (b, a)
            self.add(Segment([at[hinge], at[tip]]), "blade", hinge)
        joined = {pin for pair in made for pin in pair}
        for hinge in hinges:
            if hinge not in joined:
                x, y = at[hinge]
                tip = (x + (moving if hinged == 0 else -moving) * 0.92, y + OPEN)
                self.add(Segment([(x, y), tip]), "blade", hinge)
        for pin, point in at.items():
            self.add(SegmentCircle(point, DOT, fill="black"), "dot", pin)
        if len(hinges) > 1:
            y = [at[hinge][1] for hinge in hinges]
            self.add(Segment([(width / 2, min(y) - 0.4), (width / 2, max(y) + OPEN / 2)], ls="--"), "link")


class Lamp(Symbol):
    """A circle with a diagonal cross; `rays` around it where it is lit."""

    def __init__(self, left: Rows, right: Rows, width: float, radius: float, rays: bool = False, **params):
        super().__init__(left, right, width, **params)
        self.leads((width / 2 - radius, width / 2 + radius))
        x, d = width / 2, radius * 0.707
        self.add(SegmentCircle((x, 0), radius), "body")
        self.add(Segment([(x - d, -d), (x + d, d)]), "cross")
        self.add(Segment([(x - d, d), (x + d, -d)]), "cross")
        for dx, dy in RAYS if rays else ():
            near, far = radius * 1.22 * 0.707, radius * RAY_REACH * 0.707
            self.add(Segment([(x + dx * near, dy * near), (x + dx * far, dy * far)]), "ray")


class Load(Symbol):
    """A load that is no lamp: a circle (a motor) or a box (electronic gear); what is written in it is set as text."""

    def __init__(self, left: Rows, right: Rows, width: float, radius: float, round_: bool, **params):
        super().__init__(left, right, width, **params)
        x, r = width / 2, radius
        self.leads((x - r, x + r))
        if round_:
            self.add(SegmentCircle((x, 0), r), "body")
        else:
            self.add(SegmentPoly([(x - r, -r * 0.7), (x + r, -r * 0.7), (x + r, r * 0.7), (x - r, r * 0.7)]), "body")


class Joint(Symbol):
    """A terminal that only joins: a small open circle on the wire, led to the sides that are used."""

    def __init__(self, left: Rows, right: Rows, width: float, used: tuple[bool, bool], **params):
        super().__init__(left, right, width, **params)
        for x, side in zip((0, width), used, strict=True):
            if side:
                self.add(Segment([(x, 0), (width / 2, 0)]), "lead", (0, 0))
        self.add(SegmentCircle((width / 2, 0), PIN, fill="white"), "terminal", (0, 0))


class LooseEnd(Symbol):
    """A core that ends in nothing: a cross at its end."""

    def __init__(self, left: Rows, right: Rows, width: float, used: tuple[bool, bool], **params):
        super().__init__(left, right, width, **params)
        x, d = width / 2, 0.75
        for start, side in zip((0, width), used, strict=True):
            if side:
                self.add(Segment([(start, 0), (x, 0)]), "lead", (0, 0))
        self.add(Segment([(x - d, -d), (x + d, d)]), "loose")
        self.add(Segment([(x - d, d), (x + d, -d)]), "loose")


def shapes_of(placed: Sequence[tuple[Symbol, tuple[int, int]]], role_of) -> list[Shape]:
    """The shapes of symbols, each with its first pin's side at a point of the drawing.

    `role_of(number of the symbol, what, pin)` gives the role of a piece and what it says of itself.
    """
    drawing = schemdraw.Drawing(show=False)
    whose = []
    for number, (symbol, (x, y)) in enumerate(placed):
        drawing.add(symbol.at((x / MM, -y / MM)).right())
        whose += [(number, what, pin) for what, pin in symbol.parts]
    return [_shape(segment, *role_of(*own)) for segment, own in zip(drawing.get_segments(), whose, strict=True)]


def _shape(segment, role: str, about: About) -> Shape:
    if isinstance(segment, SegmentCircle):
        (x, y), = _points([segment.center])
        return Circle(x, y, round(segment.radius * MM), role, about=about)
    if isinstance(segment, SegmentPoly):
        return Area(_points(segment.verts), role, about=about)
    return Line(_points(segment.path), role, about=about)


def _points(points) -> tuple[tuple[int, int], ...]:
    return tuple((round(x * MM), round(-y * MM)) for x, y in points)
