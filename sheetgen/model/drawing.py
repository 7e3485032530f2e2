"""A drawing: shapes in whole hundredths of a millimetre, inked by role. y runs down from the top left corner.

A shape names what it stands for, never a colour: `role` ("conductor", "sheath", "enclosure", "code", ...) and, where
the paint depends on a conductor, `colour` (an IEC 60757 code). The writers look both up in the style. `about` says in
words what the shape is ("core": "W2/3", "terminal": "Hall COM"); SVG carries it in data attributes.
"""

from __future__ import annotations

from dataclasses import dataclass

About = tuple[tuple[str, str], ...]
Point = tuple[int, int]


@dataclass(frozen=True)
class Line:
    """A polyline."""

    points: tuple[Point, ...]
    role: str
    colour: str = ""
    about: About = ()


@dataclass(frozen=True)
class Box:
    """A rectangle with rounded corners (radius 0: sharp)."""

    x: int
    y: int
    width: int
    height: int
    role: str
    radius: int = 0
    colour: str = ""
    about: About = ()


@dataclass(frozen=True)
class Circle:
    """A circle."""

    x: int
    y: int
    radius: int
    role: str
    colour: str = ""
    about: About = ()


@dataclass(frozen=True)
class Area:
    """A filled polygon."""

    points: tuple[Point, ...]
    role: str
    colour: str = ""
    about: About = ()


@dataclass(frozen=True)
class Text:
    """A line of text; (x, y) is on the baseline at the `anchor` ("start", "middle", "end"). The role gives the size."""

    x: int
    y: int
    text: str
    role: str
    anchor: str = "middle"
    about: About = ()


Shape = Line | Box | Circle | Area | Text


@dataclass(frozen=True)
class Drawing:
    """Shapes in paint order on a sheet of the given size."""

    width: int
    height: int
    shapes: tuple[Shape, ...]
    title: str = ""
