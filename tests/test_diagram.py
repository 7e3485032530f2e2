"""Circuit diagrams: read back from its geometry alone, a diagram joins what the wiring joins; nothing lies on another."""

from __future__ import annotations

from itertools import combinations

import pytest
from circuits import conversion, strappers, wirings
from hypothesis import given, settings
from layout.jumbles import jumbles
from pages.jobs import NAMES, example

from circuits import Circuit
from sheetgen.model.diagram import Figure
from sheetgen.model.drawing import Area, Circle, Drawing, Line, Text
from sheetgen.pipeline import Look, style_of
from sheetgen.typeface import cap_height, text_width
from sheetgen.wiring_to_diagram import rows_to_tell, state_of, wiring_to_diagrams
from sheetgen.wiring_to_diagram.arrange import plan_of
from sheetgen.wiring_to_diagram.heights import heights
from sheetgen.wiring_to_diagram.ink import State, drawing_of
from sheetgen.wiring_to_diagram.schematic import schematic_of
from sheetgen.wiring_to_diagram.setting_out import LARGE, SMALL, set_out
from sheetgen.wiring_to_solution import wiring_to_solution

STYLE = style_of(Look())
CONDUCTING = ("diagram wire", "diagram blade", "diagram rail")


def width_of(text: str, role: str) -> int:
    """As the program sets text."""
    return text_width(text, STYLE.letterings[role])


def figures(wiring, measures=LARGE):
    """(group, figure) for every group."""
    solution = wiring_to_solution(wiring)
    for group in solution.groups:
        yield group, set_out(plan_of(schematic_of(wiring, solution, group)), measures, width_of)


# reading back


def about(shape, key: str) -> str:
    """What a shape says of itself."""
    return dict(shape.about).get(key, "")


def read_back(drawing: Drawing) -> set[frozenset[str]]:
    """The terminals that the conductors of a drawing join, from points and paths alone; contacts are left out.

    Two conductors join only where an end of one lies on the other and a terminal, a dot or a rail says so.
    """
    lines = [s for s in drawing.shapes if isinstance(s, Line) and s.role in ("diagram wire", "diagram rail")
             and not about(s, "over") and not about(s, "symbol")]
    named: dict[tuple[int, int], set[str]] = {}
    for shape in drawing.shapes:
        if isinstance(shape, Circle) and about(shape, "terminal"):
            named.setdefault((shape.x, shape.y), set()).add(about(shape, "terminal"))
    leads = [s for s in drawing.shapes if isinstance(s, Line) and about(s, "symbol") and about(s, "terminal")
             and s.role == "diagram wire"]
    pieces = [[*s.points] for s in lines + leads]
    group = list(range(len(pieces)))

    def find(i: int) -> int:
        while group[i] != i:
            i = group[i]
        return i

    for i, j in combinations(range(len(pieces)), 2):
        if any(on(p, pieces[j]) for p in (pieces[i][0], pieces[i][-1])) or any(
            on(p, pieces[i]) for p in (pieces[j][0], pieces[j][-1])
        ):
            group[find(i)] = find(j)
    found: dict[int, set[str]] = {}
    for i, piece in enumerate(pieces):
        for at, names in named.items():
            if on(at, piece):
                found.setdefault(find(i), set()).update(names)
    return {frozenset(names) for names in found.values()}


def on(point, path) -> bool:
    """Whether a point lies on a path."""
    return any(
        min(a[0], b[0]) <= point[0] <= max(a[0], b[0]) and min(a[1], b[1]) <= point[1] <= max(a[1], b[1])
        for a, b in zip(path, path[1:], strict=False)
    )


def expected(figure: Figure, nets) -> set[frozenset[str]]:
    """The nets of the wiring, of the terminals that the diagram shows."""
    schematic = figure.plan.schematic
    shown = {pin for symbol in schematic.symbols for pin in symbol.pins}
    shown |= {tap for bar in figure.bars for _, tap in bar.taps}
    found: dict[object, set[str]] = {}
    for terminal in shown:
        if terminal.accessory:
            found.setdefault(nets[terminal], set()).add(str(terminal))
    return {frozenset(names) for names in found.values()}


def check(wiring) -> None:
    """Every law of one wiring's diagrams."""
    solution = wiring_to_solution(wiring)
    for _, figure in figures(wiring):
        drawing = drawing_of(figure, LARGE, State())
        read = {frozenset(n for n in net if not n.startswith(" ")) for net in read_back(drawing)}
        assert {net for net in read if net} == expected(figure, solution.nets)
        apart(figure)
        texts_free(drawing)
        inside(drawing)


def stretches(figure: Figure):
    """(core, pins, a, b) of every straight stretch of a wire."""
    for wire, path in zip(figure.plan.schematic.wires, figure.paths, strict=True):
        for a, b in zip(path, path[1:], strict=False):
            yield wire, a, b


def apart(figure: Figure) -> None:
    """No two wires lie on one another, except near a pin that both have."""
    for (w, a, b), (v, c, d) in combinations(stretches(figure), 2):
        if w is v or set(w.ends) & set(v.ends):
            continue
        for axis in (0, 1):
            if a[axis] == b[axis] == c[axis] == d[axis]:
                low = max(min(a[1 - axis], b[1 - axis]), min(c[1 - axis], d[1 - axis]))
                high = min(max(a[1 - axis], b[1 - axis]), max(c[1 - axis], d[1 - axis]))
                assert low > high, (w, v, a, b, c, d)


def texts_free(drawing: Drawing) -> None:
    """No text is struck through or lies on another."""
    boxes = [(box(text), text) for text in drawing.shapes if isinstance(text, Text)]
    for (a, first), (b, second) in combinations(boxes, 2):
        assert not meet(a, b), (first.text, second.text)
    for line in drawing.shapes:
        if isinstance(line, Line):
            for p, q in zip(line.points, line.points[1:], strict=False):
                stretch = (min(p[0], q[0]), min(p[1], q[1]), max(p[0], q[0]), max(p[1], q[1]))
                if p[0] != q[0] and p[1] != q[1]:
                    continue  # a blade: it stands between the labels of its pins
                for place, text in boxes:
                    assert not meet(place, stretch), (text.text, line)


def box(text: Text) -> tuple[int, int, int, int]:
    """The space a text takes, from its baseline up."""
    lettering = STYLE.letterings[text.role]
    width = text_width(text.text, lettering)
    left = text.x - {"start": 0, "middle": width // 2, "end": width}[text.anchor]
    return left, text.y - cap_height(lettering), left + width, text.y


def meet(a, b) -> bool:
    """Whether two boxes overlap."""
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def inside(drawing: Drawing) -> None:
    """Everything lies on the sheet."""
    for shape in drawing.shapes:
        if isinstance(shape, (Line, Area)):
            points = shape.points
        elif isinstance(shape, Text):
            left, top, right, bottom = box(shape)
            points = ((left, top), (right, bottom))
        else:
            points = ((shape.x, shape.y),)
        assert all(0 <= x <= drawing.width and 0 <= y <= drawing.height for x, y in points), shape


@pytest.mark.parametrize("name", NAMES)
def test_examples_are_read_back(name):
    check(example(name).wiring)


@settings(max_examples=100, deadline=None, derandomize=True)
@given(wirings())
def test_circuits_right_and_wrong_are_read_back(wiring):
    check(wiring)


@settings(max_examples=100, deadline=None, derandomize=True)
@given(jumbles())
def test_wirings_without_sense_are_read_back(wiring):
    check(wiring)
