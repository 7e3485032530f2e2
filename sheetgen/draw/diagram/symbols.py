"""Symbols of IEC 60617 as shapes between the pins where a figure has them.

Descriptions of the symbols are from memory: contacts 07-02, change-over 07-02-04, lamp 08-10-01, terminal 03-02-02.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

from sheetgen.model.diagram import PinPoints
from sheetgen.model.drawing import About, Area, Circle, Line, Point, Shape

DOT, PIN = 32, 55  # radii, hundredths of a millimetre
OPEN = 190  # how far an open contact stands off
UNKNOWN = 155  # radius of the mark of an end not known
CROSS = 75  # half of the cross at a loose end
RAYS, RAY_BEGINS, RAY_REACHES = ((1, 1), (-1, 1), (1, -1), (-1, -1)), 1.22, 1.75  # of a lit lamp, in radii
DIAGONAL = 0.707

Pin = tuple[int, int]  # side on paper (0 left, 1 right), number on that side
RoleOf = Callable[[str, Pin | None], tuple[str, About]]  # what a piece is, and the pin whose potential it has


class SymbolShapes:
    """Collects the shapes of one symbol. A piece is a "lead", "blade", "dot", "body", "link" and the like."""

    def __init__(self, pins: PinPoints, role_of: RoleOf):
        self.pins, self.role_of = pins, role_of
        self.left, self.right = pins[0][0][0], pins[1][0][0]
        self.middle = (self.left + self.right) // 2
        self.height = pins[0][0][1]
        self.shapes: list[Shape] = []

    def line(self, start: Point, end: Point, what: str, pin: Pin | None = None) -> None:
        """A straight piece."""
        role, about = self.role_of(what, pin)
        self.shapes.append(Line((start, end), role, about=about))

    def circle(self, at: Point, radius: int, what: str, pin: Pin | None = None) -> None:
        """A round piece."""
        role, about = self.role_of(what, pin)
        self.shapes.append(Circle(*at, radius, role, about=about))

    def leads(self, left: int, right: int) -> None:
        """A lead from each pin to the x of what is between them."""
        for side, x in enumerate((left, right)):
            for number, (at, y) in enumerate(self.pins[side]):
                self.line((at, y), (x, y), "lead", (side, number))

    def contact(self, moving: int, made: Iterable[tuple[Pin, Pin]], hinged: int) -> list[Shape]:
        """Contacts as they stand: `made` are the pairs of pins joined. A blade is hinged at each pin of `hinged`."""
        ends = (self.left + self.right - moving) // 2, (self.left + self.right + moving) // 2
        self.leads(*ends)
        at = {(side, n): (ends[side], y) for side in (0, 1) for n, (_, y) in enumerate(self.pins[side])}
        hinges = [pin for pin in at if pin[0] == hinged]
        closed = [(a, b) if a[0] == hinged else (b, a) for a, b in made]
        for hinge, other in closed:
            self.line(at[hinge], at[other], "blade", hinge)
        away = round((moving if hinged == 0 else -moving) * 0.92)
        for hinge in hinges:
            if all(hinge not in pair for pair in closed):
                x, y = at[hinge]
                self.line((x, y), (x + away, y - OPEN), "blade", hinge)
        for pin, point in at.items():
            self.circle(point, DOT, "dot", pin)
        if len(hinges) > 1:
            heights = [at[hinge][1] for hinge in hinges]
            self.line((self.middle, max(heights) + 40), (self.middle, min(heights) - OPEN // 2), "link")
        return self.shapes

    def lamp(self, radius: int, lit: bool) -> list[Shape]:
        """A circle with a diagonal cross; rays around it where it is lit."""
        self.leads(self.middle - radius, self.middle + radius)
        self.circle((self.middle, self.height), radius, "body")
        self._diagonals(round(radius * DIAGONAL), "cross")
        near, far = round(radius * RAY_BEGINS * DIAGONAL), round(radius * RAY_REACHES * DIAGONAL)
        for x, y in RAYS if lit else ():
            self.line((self.middle + x * near, self.height + y * near),
                      (self.middle + x * far, self.height + y * far), "ray")
        return self.shapes

    def load(self, radius: int, motor: bool) -> list[Shape]:
        """A load that is no lamp: a circle (a motor) or a box (electronic gear)."""
        self.leads(self.middle - radius, self.middle + radius)
        if motor:
            self.circle((self.middle, self.height), radius, "body")
            return self.shapes
        half, role = round(radius * 0.7), self.role_of("body", None)
        corners = ((-radius, -half), (radius, -half), (radius, half), (-radius, half))
        points = tuple((self.middle + x, self.height + y) for x, y in corners)
        self.shapes.append(Area(points, role[0], about=role[1]))
        return self.shapes

    def joint(self, used: tuple[bool, bool]) -> list[Shape]:
        """A terminal that only joins: a small open circle on the wire, led to the sides that are used."""
        self._led(used)
        self.circle((self.middle, self.height), PIN, "terminal", (0, 0))
        return self.shapes

    def loose_end(self, used: tuple[bool, bool]) -> list[Shape]:
        """A core that ends in nothing: a cross at its end."""
        self._led(used)
        self._diagonals(CROSS, "loose")
        return self.shapes

    def unknown_end(self, used: tuple[bool, bool]) -> list[Shape]:
        """A core whose end nobody knows: a full circle, in which a query stands."""
        self._led(used)
        self.circle((self.middle, self.height), UNKNOWN, "unknown")
        return self.shapes

    def _led(self, used: tuple[bool, bool]) -> None:
        for x, side in zip((self.left, self.right), used, strict=True):
            if side:
                self.line((x, self.height), (self.middle, self.height), "lead", (0, 0))

    def _diagonals(self, half: int, what: str) -> None:
        for rise in (half, -half):
            self.line((self.middle - half, self.height + rise), (self.middle + half, self.height - rise), what)
