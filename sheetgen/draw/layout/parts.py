"""What has been set out of a sheet so far, and the small things that go with every sheath."""

from __future__ import annotations

from dataclasses import dataclass, field

from sheetgen.model.layout import (
    AccessoryPlace,
    ConductorPlace,
    CoreEndPlace,
    Frame,
    MarkPlace,
    Point,
    SheathEnd,
    SheathPlace,
    Tag,
    TextPlace,
)
from sheetgen.model.style import Style

IN = 80  # a sheath reaches so far into the enclosure before it opens


@dataclass
class Parts:
    """What has been set out so far."""

    accessories: list[AccessoryPlace] = field(default_factory=list)
    conductors: list[ConductorPlace] = field(default_factory=list)
    core_ends: list[CoreEndPlace] = field(default_factory=list)
    sheath_ends: dict[str, list[SheathEnd]] = field(default_factory=dict)
    tags: list[Tag] = field(default_factory=list)
    marks: list[MarkPlace] = field(default_factory=list)
    sheaths: list[SheathPlace] = field(default_factory=list)
    inner: dict[str, dict[int, list[Point]]] = field(default_factory=dict)  # single -> end -> port to edge
    trunks: dict[str, tuple[str, ...]] = field(default_factory=dict)  # run -> its singles; () for a cable
    pins: dict[tuple[str, str], Point] = field(default_factory=dict)  # (route, enclosure) -> where it leaves


def set_sheath_end(
    parts: Parts, cable: str, end: int, accessory: str, at: Point, down: int, tracks: Point, flex: bool, style: Style
) -> None:
    """The flare in which a sheath opens: `at` is where it passes the enclosure's edge, `tracks` the outermost cores."""
    pin, edge = at
    half = style.roles["flex" if flex else "sheath"].width // 2 + 10
    top, lip = edge + down * IN, edge + down * (IN + style.measures["mouth"])
    corners = ((pin - half, top), (pin + half, top), (tracks[1] + 55, lip), (tracks[0] - 55, lip))
    parts.sheath_ends.setdefault(cable, []).append(SheathEnd(cable, end, accessory, corners))


def tag_at(cable: str, width: int, x: int, y: int, style: Style, words: str = "") -> Tag:
    """A cable's tag with its middle at (x, y); `words` where it says more than the cable's name."""
    m = style.measures
    frame = Frame(x - width // 2, y - m["tag height"] // 2, width, m["tag height"])
    return Tag(cable, frame, TextPlace(words or cable, "tag", x, y + 88, width - 2 * m["tag pad"]))
