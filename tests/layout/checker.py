"""Checks a drawing by its shapes alone; knows nothing of how it was laid out.

Every rule gives sentences about what breaks it; a sound drawing gives none. Lengths in hundredths of a millimetre.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from sheetgen.draw.typeface import text_width
from sheetgen.model.drawing import Area, Box, Circle, Drawing, Line, Text
from sheetgen.model.style import Style

CLEAR = 100  # conductors side by side are at least so far apart, middle to middle
SHEATH_HALF = 110
SHEATHS = ("sheath", "flex", "trunk")
MOUTHS = ("mouth", "flex mouth", "trunk mouth")
SLEEVE_CODES = ("sleeve code", "sleeve code light")
PT = 35.277777
Rect = tuple[float, float, float, float]


def broken_rules(drawing: Drawing, style: Style) -> list[str]:
    """Everything that is wrong with a drawing."""
    shapes = SortedShapes(drawing, style)
    return [
        *_straight(shapes), *_no_shared_stretch(shapes), *_no_touching(shapes), *_nothing_through_accessories(shapes),
        *_text_clear(shapes), *_text_in_its_place(shapes), *_sleeves_clear(shapes), *_dangers_clear(shapes),
        *_on_the_sheet(shapes), *_enclosures_apart(shapes), *_ends(shapes), *_text_sizes(shapes),
    ]


class SortedShapes:
    """The shapes of a drawing, sorted by what they are."""

    def __init__(self, drawing: Drawing, style: Style):
        self.drawing, self.style = drawing, style
        lines = [s for s in drawing.shapes if isinstance(s, Line)]
        self.bridges = [s for s in lines if "bridge" in dict(s.about)]
        whole = [s for s in lines if "bridge" not in dict(s.about)]
        self.conductors = [s for s in whole if s.role.startswith("conductor")]
        self.sheaths = [s for s in whole if s.role in SHEATHS]
        self.symbols = [s for s in lines if s.role in ("symbol", "row line", "loose cross")]
        boxes = [s for s in drawing.shapes if isinstance(s, Box)]
        self.enclosures = [(dict(s.about)["accessory"], s) for s in boxes if s.role in ("enclosure", "board")]
        self.terminals = [s for s in boxes if s.role in ("terminal", "connector")]
        self.sleeves = [s for s in boxes if s.role.startswith("sleeve")]
        self.tags = [s for s in boxes if s.role == "tag"]
        self.circles = [s for s in drawing.shapes if isinstance(s, Circle)]
        self.mouths = [s for s in drawing.shapes if isinstance(s, Area) and s.role in MOUTHS]
        self.dangers = [s for s in drawing.shapes if isinstance(s, Area) and s.role == "danger mark"]
        self.marks = [s for s in drawing.shapes if isinstance(s, Area) and s.role == "mark"]
        self.texts = [s for s in drawing.shapes if isinstance(s, Text)]
        self.about = {id(line): dict(line.about) for line in lines}
        self.bounds = {id(line): rect(line) for line in lines}


def pieces(line: Line) -> Iterator[tuple[tuple[int, int], tuple[int, int]]]:
    """The stretches of a line."""
    return zip(line.points, line.points[1:], strict=False)


def rect(shape: Box | Circle | Area | Line) -> Rect:
    """The box around a shape."""
    if isinstance(shape, Box):
        return shape.x, shape.y, shape.x + shape.width, shape.y + shape.height
    if isinstance(shape, Circle):
        return shape.x - shape.radius, shape.y - shape.radius, shape.x + shape.radius, shape.y + shape.radius
    xs, ys = [p[0] for p in shape.points], [p[1] for p in shape.points]
    return min(xs), min(ys), max(xs), max(ys)


def ink(text: Text, style: Style) -> Rect:
    """What a line of text covers: its width, from below the baseline to the top of the capitals."""
    lettering = style.letterings[text.role]
    width, size = text_width(text.text, lettering), lettering.size * PT
    left = {"start": text.x, "middle": text.x - width / 2, "end": text.x - width}[text.anchor]
    return left, text.y - 0.73 * size, left + width, text.y + 0.17 * size


def meet(a: Rect, b: Rect, slack: float = 0) -> bool:
    """Whether two boxes cover one another by more than `slack`."""
    return a[0] + slack < b[2] and b[0] + slack < a[2] and a[1] + slack < b[3] and b[1] + slack < a[3]


def overlap(a: Rect, b: Rect) -> bool:
    """Whether two boxes, however thin, have a point in common."""
    return a[0] <= b[2] and b[0] <= a[2] and a[1] <= b[3] and b[1] <= a[3]


def within(a: Rect, b: Rect, slack: float = 0) -> bool:
    """Whether a lies in b."""
    return a[0] >= b[0] - slack and a[1] >= b[1] - slack and a[2] <= b[2] + slack and a[3] <= b[3] + slack


def stretch(a: tuple[int, int], b: tuple[int, int], half: float = 0) -> Rect:
    """The box of a straight stretch of that half width."""
    return min(a[0], b[0]) - half, min(a[1], b[1]) - half, max(a[0], b[0]) + half, max(a[1], b[1]) + half


def crosses(shapes: SortedShapes, line: Line, box: Rect, half: float, slack: float = 0) -> bool:
    """Whether any stretch of a line of that half width covers part of a box."""
    low_x, low_y, high_x, high_y = shapes.bounds[id(line)]
    around = (low_x - half, low_y - half, high_x + half, high_y + half)
    return meet(around, box, slack) and any(meet(stretch(a, b, half), box, slack) for a, b in pieces(line))


def cables_of(shape: Line | Area) -> set[str]:
    """The cable of a sheath or conductor, or the singles of a trunk."""
    about = dict(shape.about)
    return {about["cable"]} if "cable" in about else set(about["cables"].split(", "))


def name(shape) -> str:
    """What a shape is, in words."""
    return f"{shape.role} {getattr(shape, 'text', '')} {' '.join(f'{k}={v}' for k, v in shape.about)}"


def _straight(shapes: SortedShapes) -> Iterator[str]:
    for line in (*shapes.conductors, *shapes.sheaths):
        for a, b in pieces(line):
            if (a[0] == b[0]) == (a[1] == b[1]):
                yield f"not level or upright: {name(line)} {a} {b}"


def _no_shared_stretch(shapes: SortedShapes) -> Iterator[str]:
    """Side by side nearer than they are wide, over any length."""
    routes = [(line, 0) for line in shapes.conductors] + [(line, SHEATH_HALF - CLEAR // 2) for line in shapes.sheaths]
    level, upright = [], []
    for line, extra in routes:
        for a, b in pieces(line):
            if a[1] == b[1]:
                level.append((a[1], min(a[0], b[0]), max(a[0], b[0]), extra, line))
            else:
                upright.append((a[0], min(a[1], b[1]), max(a[1], b[1]), extra, line))
    for run in (level, upright):
        run.sort(key=lambda r: r[:3])
        for i, (at, low, high, extra, line) in enumerate(run):
            for other_at, other_low, other_high, other_extra, other in run[i + 1:]:
                if other_at - at >= CLEAR + 2 * SHEATH_HALF:
                    break
                if other is line or other_at - at >= CLEAR + extra + other_extra or _same_cable(line, other):
                    continue
                if min(high, other_high) > max(low, other_low):
                    yield f"share a stretch: {name(line)} and {name(other)} at {at}"


def _same_cable(a: Line, b: Line) -> bool:
    """A sheath and its own cores come near one another at the mouth."""
    return bool(cables_of(a) & cables_of(b)) and a.role != b.role


def _no_touching(shapes: SortedShapes) -> Iterator[str]:
    """A bend or an end on another conductor would read as a joint."""
    for line, other in ((a, b) for a in shapes.conductors for b in shapes.conductors if a is not b):
        low_x, low_y, high_x, high_y = shapes.bounds[id(other)]
        for x, y in line.points:
            if not (low_x - 60 < x < high_x + 60 and low_y - 60 < y < high_y + 60):
                continue
            for a, b in pieces(other):
                box = stretch(a, b, 60)
                if box[0] < x < box[2] and box[1] < y < box[3]:
                    yield f"touch: {name(line)} on {name(other)} at {x}, {y}"


def _nothing_through_accessories(shapes: SortedShapes) -> Iterator[str]:
    ports = {id(line): {line.points[0], line.points[-1]} for line in (*shapes.conductors, *shapes.sheaths)}
    mouths: dict[str, set[str]] = {}
    for mouth in shapes.mouths:
        for cable in cables_of(mouth):
            mouths.setdefault(cable, set()).add(dict(mouth.about)["accessory"])
    for line in (*shapes.conductors, *shapes.sheaths):
        sheath = line in shapes.sheaths
        for accessory, box in shapes.enclosures:
            inside = rect(box)
            opened = sheath and any(accessory in mouths.get(cable, ()) for cable in cables_of(line))
            own = opened or any(
                inside[0] <= x <= inside[2] and inside[1] <= y <= inside[3] for x, y in ports[id(line)]
            )
            area = (inside[0] + 100, inside[1] + 100, inside[2] - 100, inside[3] - 100) if own and sheath else inside
            if own and not sheath:
                continue
            if crosses(shapes, line, area, 1):
                yield f"passes through {accessory}: {name(line)}"
        for terminal in shapes.terminals:
            if crosses(shapes, line, rect(terminal), 1, 2):
                yield f"passes through terminal {name(terminal)}: {name(line)}"
        for mark in shapes.marks:
            if crosses(shapes, line, rect(mark), 1, 2):
                yield f"passes through mark {name(mark)}: {name(line)}"


def _text_clear(shapes: SortedShapes) -> Iterator[str]:
    texts = [(text, ink(text, shapes.style)) for text in shapes.texts]
    for (a, box_a), (b, box_b) in combinations(texts, 2):
        if meet(box_a, box_b):
            yield f"text on text: {name(a)} and {name(b)}"
    around_text = (*shapes.terminals, *(box for _, box in shapes.enclosures), *shapes.tags)
    boxes = [(shape, rect(shape)) for shape in around_text]
    for text, box in texts:
        own = dict(text.about)
        near = (box[0] - SHEATH_HALF, box[1] - SHEATH_HALF, box[2] + SHEATH_HALF, box[3] + SHEATH_HALF)
        for line in (*shapes.conductors, *shapes.sheaths, *shapes.symbols):
            if not overlap(shapes.bounds[id(line)], near):
                continue
            about = shapes.about[id(line)]
            if text.role == "code" and own.get("core") == about.get("core") and "core" in about:
                if sum(meet(stretch(a, b, 27), box) for a, b in pieces(line)) > 1:
                    yield f"own bend under code: {name(text)}"
                continue
            if text.role in SLEEVE_CODES and own.get("core") == about.get("core") and "core" in about:
                continue  # its own core lies under the sleeve
            if text.role == "tag" and line.role in SHEATHS and own["cable"] in cables_of(line):
                continue
            half = SHEATH_HALF if line.role in SHEATHS else 27
            if crosses(shapes, line, box, half):
                yield f"struck text: {name(text)} by {name(line)}"
        for circle in shapes.circles:
            mark = circle.role == "unknown end" and text.role == "unknown" and within(box, rect(circle))
            if abs(circle.y - text.y) < 1000 and meet(rect(circle), box) and not mark:
                yield f"text on circle: {name(text)} and {name(circle)}"
        for mouth in shapes.mouths:
            if meet(rect(mouth), box):
                yield f"text on mouth: {name(text)} and {name(mouth)}"
        for shape, around in boxes:
            if meet(around, box) and not within(box, around):
                yield f"text on the edge of a box: {name(text)} and {name(shape)}"
    yield from _tags_clear(shapes)


def _tags_clear(shapes: SortedShapes) -> Iterator[str]:
    for tag in shapes.tags:
        for line in (*shapes.conductors, *shapes.sheaths):
            if dict(tag.about)["cable"] in cables_of(line):
                continue
            half = SHEATH_HALF if line in shapes.sheaths else 40
            if crosses(shapes, line, rect(tag), half):
                yield f"under a tag: {name(line)} under {name(tag)}"
        for _, box in shapes.enclosures:
            if meet(rect(tag), rect(box)):
                yield f"tag on an enclosure: {name(tag)} on {name(box)}"
    for a, b in combinations(shapes.tags, 2):
        if meet(rect(a), rect(b)):
            yield f"tag on tag: {name(a)} and {name(b)}"


def _text_in_its_place(shapes: SortedShapes) -> Iterator[str]:
    places: dict[str, list[Rect]] = {}
    for terminal in shapes.terminals:
        places.setdefault(dict(terminal.about)["terminal"], []).append(rect(terminal))
    tags = [rect(tag) for tag in shapes.tags]
    marks = {dict(mark.about)["mark"]: rect(mark) for mark in shapes.marks}
    for text in shapes.texts:
        box, about = ink(text, shapes.style), dict(text.about)
        if text.role == "terminal" and not any(within(box, place) for place in places[about["terminal"]]):
            yield f"name out of its terminal: {name(text)}"
        if text.role in ("title", "kind") and not _in_enclosure(shapes, box, about["accessory"]):
            yield f"title out of its enclosure: {name(text)}"
        if text.role == "tag" and not any(within(box, tag) for tag in tags):
            yield f"name out of its tag: {name(text)}"
        if "mark" in about and not within(box, marks[about["mark"]]):
            yield f"words out of their mark: {name(text)}"


def _in_enclosure(shapes: SortedShapes, box: Rect, accessory: str) -> bool:
    """Whether it lies in an enclosure of that accessory; one drawn in parts has several."""
    return any(name == accessory and within(box, rect(shape)) for name, shape in shapes.enclosures)


def _sleeves_clear(shapes: SortedShapes) -> Iterator[str]:
    for sleeve in shapes.sleeves:
        box, core = rect(sleeve), dict(sleeve.about)["core"]
        for text in shapes.texts:
            own = text.role in SLEEVE_CODES and text.about == sleeve.about and within(ink(text, shapes.style), box, 20)
            if meet(box, ink(text, shapes.style)) and not own:
                yield f"sleeve on text: {name(sleeve)} and {name(text)}"
        for terminal in shapes.terminals:
            if meet(box, rect(terminal)):
                yield f"sleeve on terminal: {name(sleeve)} and {name(terminal)}"
        for line in shapes.conductors:
            if crosses(shapes, line, box, 27) and dict(line.about)["core"] != core:
                yield f"sleeve on another core: {name(sleeve)} and {name(line)}"
        own = [line for line in shapes.conductors if dict(line.about)["core"] == core]
        if not any(meet(stretch(a, b, 1), box) for line in own for a, b in pieces(line)):
            yield f"sleeve beside its core: {name(sleeve)}"
    for a, b in combinations(shapes.sleeves, 2):
        if meet(rect(a), rect(b)):
            yield f"sleeve on sleeve: {name(a)} and {name(b)}"


def _dangers_clear(shapes: SortedShapes) -> Iterator[str]:
    for mark in shapes.dangers:
        box, accessory = rect(mark), dict(mark.about)["accessory"]
        if not _in_enclosure(shapes, box, accessory):
            yield f"danger out of its enclosure: {name(mark)}"
        for line in (*shapes.conductors, *shapes.sheaths):
            if crosses(shapes, line, box, SHEATH_HALF if line in shapes.sheaths else 40):
                yield f"danger struck: {name(mark)} by {name(line)}"
        for shape in (*shapes.terminals, *shapes.mouths, *shapes.sleeves, *shapes.tags, *shapes.circles):
            if shape.role != "danger dot" and meet(box, rect(shape)):
                yield f"danger on {name(shape)}: {name(mark)}"
        for text in shapes.texts:
            if meet(box, ink(text, shapes.style)):
                yield f"danger on text: {name(mark)} on {name(text)}"


def _on_the_sheet(shapes: SortedShapes) -> Iterator[str]:
    sheet = (0, 0, shapes.drawing.width, shapes.drawing.height)
    for shape in shapes.drawing.shapes:
        box = ink(shape, shapes.style) if isinstance(shape, Text) else rect(shape)
        if not within(box, sheet):
            yield f"off the sheet: {name(shape)} {box}"


def _enclosures_apart(shapes: SortedShapes) -> Iterator[str]:
    boxes = [*(box for _, box in shapes.enclosures), *shapes.marks]
    for a, b in combinations(boxes, 2):
        if meet(rect(a), rect(b)):
            yield f"overlap: {name(a)} and {name(b)}"
    for a, b in combinations(shapes.terminals, 2):
        if meet(rect(a), rect(b)):
            yield f"overlap: {name(a)} and {name(b)}"
    for terminal in shapes.terminals:
        own = [box for name, box in shapes.enclosures if dict(terminal.about)["terminal"].startswith(f"{name} ")]
        if not any(within(rect(terminal), rect(box)) for box in own):
            yield f"terminal out of its enclosure: {name(terminal)}"


def _ends(shapes: SortedShapes) -> Iterator[str]:
    """Every end of a conductor is on a terminal, in a mouth, on a loose end or on a continuation mark."""
    for line in shapes.conductors:
        for x, y in (line.points[0], line.points[-1]):
            landed = _on_terminal(shapes, x, y) or _loose(shapes, x, y)
            if not (landed or _in_mouth(shapes, x, y, line) or _marked(shapes, x, y)):
                yield f"ends nowhere: {name(line)} at {x}, {y}"


def _on_terminal(shapes: SortedShapes, x: int, y: int) -> bool:
    return any(t.x <= x <= t.x + t.width and t.y <= y <= t.y + t.height for t in shapes.terminals)


def _in_mouth(shapes: SortedShapes, x: int, y: int, line: Line) -> bool:
    return any(within((x, y, x, y), rect(m)) for m in shapes.mouths if cables_of(m) & cables_of(line))


def _loose(shapes: SortedShapes, x: int, y: int) -> bool:
    return any((c.x, c.y) == (x, y) if c.role == "loose end" else within((x, y, x, y), rect(c))
               for c in shapes.circles if c.role in ("loose end", "unknown end"))


def _marked(shapes: SortedShapes, x: int, y: int) -> bool:
    return any(within((x, y, x, y), rect(mark)) for mark in shapes.marks)


def _text_sizes(shapes: SortedShapes) -> Iterator[str]:
    for text in shapes.texts:
        size = shapes.style.letterings[text.role].size
        if size < (6 if text.role in ("code", *SLEEVE_CODES) else 7):
            yield f"too small: {name(text)} {size} pt"
