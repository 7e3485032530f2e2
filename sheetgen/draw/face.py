"""The face of an accessory on a form: its terminals as on the real thing, with room to draw what is on them."""

from __future__ import annotations

from sheetgen.model.accessory import AccessoryKind
from sheetgen.model.drawing import Box, Drawing, Line, Shape, Text

WIDE, HIGH, GAP = 1500, 620, 230  # of a terminal, and between two; hundredths of a millimetre
ROOM = 1250  # beside the terminals, for conductors drawn by hand
EDGE = 300


def face_of(kind: AccessoryKind, labels: dict[str, str] | None = None) -> Drawing:
    """The rows of the face, from top to bottom; a rule at both sides of each terminal for the conductors on it.

    Points within the accessory, to which nobody comes, are left out.
    """
    named = labels or {}
    inner = {t.name for t in kind.terminals if t.inner}
    connectors = tuple((t.name,) for t in kind.terminals if t.connector and all(t.name not in row for row in kind.face))
    rows = [outer for row in (*kind.face, *connectors) if (outer := tuple(name for name in row if name not in inner))]
    most = max((len(row) for row in rows), default=1)
    inside = most * WIDE + (most - 1) * GAP
    width = 2 * EDGE + 2 * ROOM + inside
    shapes: list[Shape] = [Box(EDGE // 2, EDGE // 2, width - EDGE, EDGE + len(rows) * (HIGH + GAP), "symbol fill", 150)]
    for i, row in enumerate(rows):
        y = EDGE + GAP // 2 + i * (HIGH + GAP)
        left = EDGE + ROOM + (inside - len(row) * WIDE - (len(row) - 1) * GAP) // 2
        for j, name in enumerate(row):
            x = left + j * (WIDE + GAP)
            connector = any(t.name == name and t.connector for t in kind.terminals)
            shapes.append(Box(x, y, WIDE, HIGH, "connector" if connector else "terminal", 50))
            shapes.append(Text(x + WIDE // 2, y + HIGH // 2 + 90, named.get(name, name), "terminal"))
        right = left + len(row) * WIDE + (len(row) - 1) * GAP
        for rule in (HIGH // 4, HIGH * 3 // 4):
            shapes.append(Line(((EDGE + 50, y + rule), (left, y + rule)), "rule"))
            shapes.append(Line(((right, y + rule), (width - EDGE - 50, y + rule)), "rule"))
    return Drawing(width, 2 * EDGE + len(rows) * (HIGH + GAP), tuple(shapes))
