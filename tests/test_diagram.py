"""Circuit diagrams: read back from its geometry, a diagram joins what the wiring joins; nothing lies on another."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import combinations, pairwise, product

import pytest
from circuits import Circuit, conversion, core_at, strappers, wirings, with_core, with_end
from houses import house_without
from hypothesis import given, settings
from hypothesis import strategies as st
from judged_circuit import conditions_of, flow_of
from layout.random_wirings import random_wirings
from pages.jobs import NAMES, example

from sheetgen.circuit import Circuit as Solved
from sheetgen.circuit import circuit_of
from sheetgen.draw.diagram import diagrams_of, drawn_terminals, rows_to_tell, state_of, wiring_to_diagrams
from sheetgen.draw.diagram.arrange import _arranged, plan_of
from sheetgen.draw.diagram.figure_to_shapes import ShownSetting, figure_to_drawing
from sheetgen.draw.diagram.heights import heights
from sheetgen.draw.diagram.order import _crossings
from sheetgen.draw.diagram.plan_to_figure import LARGE, SMALL, plan_to_figure
from sheetgen.draw.diagram.schematic import schematic_of
from sheetgen.draw.typeface import cap_height, text_width
from sheetgen.model.diagram import Figure, outer
from sheetgen.model.drawing import Area, Circle, Drawing, Line, Text
from sheetgen.model.geometry import MM
from sheetgen.pipeline import Look, style_of, wiring_of
from sheetgen.solve.wiring_to_solution import wiring_to_solution

STYLE = style_of(Look())


def width_of(text: str, role: str) -> int:
    """As the program sets text."""
    return text_width(text, STYLE.letterings[role])


def figures(wiring, measures=LARGE):
    """(group, figure) for every group."""
    solution = wiring_to_solution(wiring)
    for group in solution.groups:
        yield group, plan_to_figure(plan_of(schematic_of(Solved(wiring, solution), group)), measures, width_of)


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
        for a, b in pairwise(path)
    )


def expected(figure: Figure, nets) -> set[frozenset[str]]:
    """The nets of the wiring, of the terminals that the diagram shows."""
    schematic = figure.plan.schematic
    shown = {outer(pin) for symbol in schematic.symbols for pin in symbol.pins}
    shown |= {end for symbol in schematic.symbols if not symbol.note for rung in symbol.rungs for end in rung.ends}
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
        drawing = figure_to_drawing(figure, LARGE, ShownSetting())
        read = {frozenset(n for n in net if not n.startswith(" ")) for net in read_back(drawing)}
        assert {net for net in read if net} == expected(figure, solution.nets)
        apart(figure)
        texts_free(drawing)
        inside(drawing)


def stretches(figure: Figure):
    """(core, pins, a, b) of every straight stretch of a wire."""
    for wire, path in zip(figure.plan.schematic.wires, figure.paths, strict=True):
        for a, b in pairwise(path):
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


@settings(max_examples=60, deadline=None, derandomize=True)
@given(wirings())
def test_circuits_right_and_wrong_are_read_back(wiring):
    check(wiring)


@settings(max_examples=60, deadline=None, derandomize=True)
@given(random_wirings())
def test_wirings_without_sense_are_read_back(wiring):
    check(wiring)


def test_a_link_of_two_rails_runs_below_the_rungs_of_a_ladder():
    wiring = wiring_of("""
job: Store
colours: current
board: {ways: {1: {serves: Lights, device: type B 6 A, rcd: 30 mA}}}
accessories:
  Store: {kind: batten lampholder}
  Back bedroom fan: {kind: timer fan}
cables:
  W1: {type: twin 1.0, from: Store, to: Back bedroom fan, cores: {BN: [N, SL], BU: [N, L]}}
  W2: {type: twin and earth 1.0, from: Back bedroom fan, to: way 1, cores: {BN: [SL, N], BU: [SL, N], cpc: [SL, E]}}
""")
    check(with_end(wiring, core_at(wiring, "W2/1"), 0, "motor"))


# the live paths


def miniatures(wiring):
    """(group, row, figure, drawing) of every setting that is shown."""
    solution = wiring_to_solution(wiring)
    for group in solution.groups:
        schematic = schematic_of(Solved(wiring, solution), group, most_rungs=1)
        figure = plan_to_figure(plan_of(schematic), SMALL, width_of)
        for row in rows_to_tell(group):
            state = state_of(Solved(wiring, solution), group, row, drawn_terminals(schematic))
            yield solution, group, row, figure, figure_to_drawing(figure, SMALL, state)


def check_miniatures(wiring) -> None:
    """What is heavy is live, what has an arrow carries current, contacts stand as they should."""
    for solution, group, row, _figure, drawing in miniatures(wiring):
        at = {str(t): c for t, c in conditions_of(solution, group, row).items()}
        carrying = {s.name for s in flow_of(wiring, solution, group, row).steps().values() if s.kind == "core"}
        for line in drawing.shapes:
            if isinstance(line, Line) and about(line, "core"):
                ends = [end for end in (about(line, "from"), about(line, "to")) if end in at]
                assert (line.role == "diagram live") == at[ends[0]].live, (line, row.setting)
                if line.role == "diagram current":
                    assert about(line, "core") in carrying
        lit = [s for s in drawing.shapes if getattr(s, "role", "") == "diagram lit"]
        names = {about(shape, "symbol") for shape in lit}
        shining = {n for n, lamp in zip(group.lamps, row.lamps, strict=True) if lamp.fraction}
        assert names <= shining
        assert bool(names) == bool(shining), "loads in parallel are one symbol"
        texts_free(drawing)
        inside(drawing)
        assert all(STYLE.letterings[t.role].size >= 6 for t in drawing.shapes if isinstance(t, Text))


@pytest.mark.parametrize("name", NAMES)
def test_miniatures_of_examples_show_the_solution(name):
    check_miniatures(example(name).wiring)


@pytest.mark.parametrize(("name", "heads"), [
    ("landing-borrowed-neutral", {"Landing lamp": ["L, circuit 5", "N, circuit 6"], "Hall rose lamp": ["L", "N"]}),
    ("two-way-conversion", {"Stairs lamp": ["L", "N"]}),
])
def test_rails_of_a_miniature_are_named_with_their_circuit_where_they_belong_to_two(name, heads):
    found = {}
    for _, group, _, figure, _ in miniatures(example(name).wiring):
        ends = {bar.x: [] for bar in figure.bars}
        for label in sorted(figure.labels, key=lambda label: -label.at[1]):
            if label.at[0] in ends and label.at[1] < figure.bars[0].top:
                ends[label.at[0]].append(label.text)
        found[group.lamps[0]] = [", ".join(ends[x]) for x in sorted(ends)]
    assert found == heads


@settings(max_examples=25, deadline=None, derandomize=True)
@given(wirings(max_rooms=2))
def test_miniatures_of_circuits_right_and_wrong_show_the_solution(wiring):
    check_miniatures(wiring)


def test_every_wire_that_carries_current_has_one_arrow_from_line_to_neutral():
    circuit = Circuit()
    conversion(circuit, circuit.way(), "Stairs", 2)
    wiring = circuit.wiring()
    for solution, group, row, figure, drawing in miniatures(wiring):
        steps = {s.name: s for s in flow_of(wiring, solution, group, row).steps().values() if s.kind == "core"}
        drawn = [wire for wire in figure.plan.schematic.wires if wire.core in steps]
        arrows = [s for s in drawing.shapes if isinstance(s, Area) and s.role == "diagram arrow"]
        assert len(arrows) == len(drawn)
        for arrow in arrows:
            tip, (b, c) = arrow.points[0], arrow.points[1:]
            back = ((b[0] + c[0]) // 2, (b[1] + c[1]) // 2)
            under = [(wire, path) for wire, path in zip(figure.plan.schematic.wires, figure.paths, strict=True)
                     if wire in drawn and on(tip, path) and on(back, path)]
            forward = [path if wire.ends[0] == steps[wire.core].start else path[::-1] for wire, path in under]
            assert any(along(path, back) < along(path, tip) for path in forward)


def along(path, point) -> float:
    """How far along a path a point on it lies."""
    length = 0
    for a, b in pairwise(path):
        if on(point, (a, b)):
            return length + abs(point[0] - a[0]) + abs(point[1] - a[1])
        length += abs(a[0] - b[0]) + abs(a[1] - b[1])
    raise AssertionError((path, point))


def test_a_group_of_five_switches_shows_all_in_the_first_position_and_each_operated_once():
    circuit = Circuit()
    strappers(circuit, circuit.way(), "Stairs", 5)
    wiring = circuit.wiring()
    solution = wiring_to_solution(wiring)
    (group,) = [g for g in solution.groups if len(g.switches) == 5]
    first, *others = [row.setting for row in rows_to_tell(group)]
    assert first == tuple(positions[0] for positions in group.positions)
    assert [sum(a != b for a, b in zip(first, other, strict=True)) for other in others] == [1] * 5
    operated = [next(i for i in range(5) if first[i] != other[i]) for other in others]
    assert operated == list(range(5))


# loads in parallel


def lights(count: int, watts: int = 8):
    """A wiring of so many fittings in a row behind one switch."""
    c = Circuit()
    feed, door = c.way(), c.put("Door", "one-way switch", connectors=["joint"])
    c.twin(feed.accessory, door, ("L", "COM"), ("N", "joint"))
    before, line, neutral = door, "L1", "joint"
    for i in range(1, count + 1):
        fitting = c.put(f"Hall {i}", "light fitting", lamp=Fraction(watts))
        c.twin(before, fitting, (line, "L"), (neutral, "N"))
        before, line, neutral = fitting, "L", "N"
    return c.wiring()


def words_of(drawing: Drawing) -> list[str]:
    """Every text of a drawing."""
    return [shape.text for shape in drawing.shapes if isinstance(shape, Text)]


def test_a_few_lamps_in_parallel_stand_on_a_rung_each():
    wiring = lights(4)
    check(wiring)
    (drawing,) = diagrams_of(circuit_of(wiring), STYLE)
    assert [text for text in words_of(drawing) if text.startswith("Hall")] == [f"Hall {i}, 8 W" for i in range(1, 5)]
    bodies = [s for s in drawing.shapes if isinstance(s, Circle) and s.role == "diagram body"]
    assert len({shape.x for shape in bodies}) == 1 and len({shape.y for shape in bodies}) == 4


@pytest.mark.parametrize("count", [7, 20])
def test_many_lamps_in_parallel_are_one_symbol_that_names_them_all(count):
    wiring = lights(count)
    check(wiring)
    (drawing,) = diagrams_of(circuit_of(wiring), STYLE)
    assert len([s for s in drawing.shapes if isinstance(s, Circle) and s.role == "diagram body"]) == 1
    assert f"\N{MULTIPLICATION SIGN} {count}" in words_of(drawing)
    said = " ".join(words_of(drawing))
    everyone = ", ".join(f"Hall {i}" for i in range(1, count + 1))
    assert f"\N{MULTIPLICATION SIGN} {count}: {everyone}; 8 W each" in said
    assert drawing.height < 60 * MM


def test_a_loop_from_lamp_to_lamp_is_one_connection_and_a_core_that_joins_nothing_is_left_out():
    wiring = lights(3)
    for _, figure in figures(wiring):
        assert all(len(path) == 2 for path in figure.paths), "every wire is one straight line"


# conductors cut off from the board


@pytest.mark.parametrize(("core", "before", "rails"), [
    ("BU", 1, ["circuit 1", "L", "cut off"]), ("BN", 2, ["cut off", "circuit 1", "N"]),
])
def test_rooms_without_a_neutral_or_a_line_are_rungs_between_a_rail_and_a_bar_called_cut_off(core, before, rails):
    wiring = wiring_of(house_without(core, 6, before))
    check(wiring)
    circuit = circuit_of(wiring)
    drawing = max(diagrams_of(circuit, STYLE), key=lambda drawing: len(drawing.shapes))
    heads = sorted((s.x, s.y, s.text) for s in drawing.shapes if isinstance(s, Text) and s.role == "diagram rail")
    assert [text for _, _, text in heads] == rails
    assert f"ends at {'way 1' if before == 1 else 'Rose 1'}" in words_of(drawing), "the end in nothing is drawn"
    group = max(circuit.solution.groups, key=lambda group: len(group.switches))
    plan = plan_of(schematic_of(circuit, group))
    assert plan.crossings == 0
    contacts = [place for symbol, place in zip(plan.schematic.symbols, plan.places, strict=True) if symbol.switch]
    assert len(contacts) >= 5 and len({place.column for place in contacts}) == 1
    rows = sorted(place.row for place in contacts)
    assert len({b - a for a, b in pairwise(rows)}) == 1, "equal branches look alike"


def test_a_bar_of_what_is_cut_off_is_live_where_a_lamp_makes_it_so():
    """BS 7671 has no such bar; that a neutral in nothing is at line through a lamp that is switched on is common
    practice."""
    wiring = wiring_of(house_without("BU", 4, 1))
    shown = {row.setting: {s.role for s in drawing.shapes if isinstance(s, Line) and about(s, "rail") == "Rose 1 N"}
             for _, _, row, _, drawing in miniatures(wiring)}
    assert shown.pop(("off",) * 4) == {"diagram rest"}
    assert len(shown) == 15 and set().union(*shown.values()) == {"diagram live"}


def test_nothing_is_called_cut_off_that_a_switch_joins_or_of_which_an_end_is_not_known():
    text = house_without("BU", 5, 1)
    unknown = text.replace("BU: [nothing, N]", "BU: [not known, N]")
    assert unknown != text
    (drawing,) = diagrams_of(circuit_of(wiring_of(unknown)), STYLE)
    assert "cut off" not in words_of(drawing) and "not traced" in words_of(drawing)
    for count, said in ((5, set()), (9, {"switched"})):
        behind = wiring_of(lights_behind_a_master_switch(count))
        check(behind)
        (drawing,) = diagrams_of(circuit_of(behind), STYLE)
        assert {"cut off", "not traced", "switched"} & {*words_of(drawing)} == said


def test_what_lies_between_lamps_is_called_what_its_cores_are():
    """Three lamps meet at a block that nothing else is on, two of them from line and one to neutral: with the role of
    its cores on the sheet the bar says between lamps."""
    names = ("Left", "Middle", "Right")
    wiring = wiring_of("\n".join([
        "job: Star", "board: {ways: {1: {serves: Lights}}}", "colours: current", "accessories:",
        "  Box: {kind: joint box, terminals: [star]}", *(f"  {name}: {{kind: batten lampholder}}" for name in names),
        "  Door: {kind: one-way switch}", "cables:",
        "  W1: {type: single 1.0, from: way 1, to: Door, cores: {BN: [L, COM]}}",
        "  W2: {type: single 1.0, from: Door, to: Left, cores: {BN: [L1, L]}}",
        "  W3: {type: single 1.0, from: way 1, to: Middle, cores: {BN: [L, L]}}",
        "  W4: {type: single 1.0, from: way 1, to: Right, cores: {BU: [N, L]}}",
        *(f"  S{i}: {{type: single 1.0, from: {name}, to: Box, cores: {{BU: [N, star]}}}}"
          for i, name in enumerate(names, 1)), "",
    ]))
    check(wiring)
    (drawing,) = diagrams_of(circuit_of(wiring), STYLE)
    assert "between lamps" in words_of(drawing) and "cut off" not in words_of(drawing)


def test_a_bar_stands_where_no_rail_does():
    """Line and neutral change places in the sixth cable, and the neutral goes to nothing before: beyond, what should be
    neutral is line, so what should be line is drawn at the right."""
    text = house_without("BU", 8, 4)
    crossed = text.replace("to: Rose 6, length: 4 m, cores: {BN: [loop, loop], BU: [N, N]",
                           "to: Rose 6, length: 4 m, cores: {BN: [loop, N], BU: [N, loop]")
    assert crossed != text
    wiring = wiring_of(crossed)
    check(wiring)
    drawing = max(diagrams_of(circuit_of(wiring), STYLE), key=lambda drawing: len(drawing.shapes))
    heads = sorted((s.x, s.text) for s in drawing.shapes if isinstance(s, Text) and s.role == "diagram rail")
    assert [text for _, text in heads if text != "circuit 1"] == ["L", "cut off"]


def lights_behind_a_master_switch(count: int) -> str:
    """Each with a switch of its own, all of them behind one."""
    rooms = [f"Room {i}" for i in range(1, count + 1)]
    return "\n".join([
        "job: Master", "board: {ways: {1: {serves: Lights, device: type B 6 A, rcd: 30 mA}}}", "colours: current",
        "accessories:", "  Box: {kind: joint box, terminals: [L, N]}", "  Master: {kind: one-way switch}",
        *(f"  {room} switch: {{kind: one-way switch}}\n  {room}: {{kind: batten lampholder}}" for room in rooms),
        "cables:", "  F1: {type: single 1.0, from: way 1, to: Master, cores: {BN: [L, COM]}}",
        "  F2: {type: single 1.0, from: way 1, to: Box, cores: {BU: [N, N]}}",
        "  F3: {type: single 1.0, from: Master, to: Box, cores: {BN: [L1, L]}}",
        *(f"  S{i}: {{type: single 1.0, from: Box, to: {room} switch, cores: {{BN: [L, COM]}}}}\n"
          f"  L{i}: {{type: single 1.0, from: {room} switch, to: {room}, cores: {{BN: [L1, L]}}}}\n"
          f"  N{i}: {{type: single 1.0, from: Box, to: {room}, cores: {{BU: [N, N]}}}}"
          for i, room in enumerate(rooms, 1)),
        "",
    ])


@pytest.mark.parametrize("core", ["BU", "BN"])
@pytest.mark.parametrize("before", [1, 4, 9])
def test_a_house_with_a_loop_that_is_off_its_terminal_is_read_back(core, before):
    check(wiring_of(house_without(core, 11, before)))


def test_wires_that_lie_on_one_another_are_moved_apart_however_many_they_are(monkeypatch):
    """Without bars thirty rooms are a net of joints that took more than twelve moves of one pair at a time."""
    monkeypatch.setattr("sheetgen.draw.diagram.schematic.LEAST_ON_BAR", 10**6)
    circuit = circuit_of(wiring_of(house_without("BN", 30, 15)))
    group = max(circuit.solution.groups, key=lambda group: len(group.switches))
    apart(plan_to_figure(plan_of(schematic_of(circuit, group)), LARGE, width_of))


# how good it is


@pytest.mark.parametrize("switches", [2, 3, 4])
def test_strappers_are_drawn_straight_from_line_to_neutral(switches):
    circuit = Circuit()
    strappers(circuit, circuit.way(), "Stairs", switches)
    wiring = circuit.wiring()
    for _, figure in figures(wiring):
        assert figure.plan.crossings == 0
        assert all(len(path) == 2 for path in figure.paths), "every wire is one straight line"


@pytest.mark.parametrize("switches", [2, 3, 4, 5, 6])
def test_conversion_has_at_most_one_crossing_for_each_two_switches_beyond_two(switches):
    circuit = Circuit()
    conversion(circuit, circuit.way(), "Stairs", switches)
    for _, figure in figures(circuit.wiring()):
        assert figure.plan.crossings <= switches // 2 - (switches == 2)


@pytest.mark.parametrize("switches", [2, 4, 8, 10])
@pytest.mark.parametrize("method", [conversion, strappers])
def test_a_large_group_still_fits_the_sheet_without_small_text(method, switches):
    circuit = Circuit()
    method(circuit, circuit.way(), "Stairs", switches)
    wiring = circuit.wiring()
    for drawing in diagrams_of(circuit_of(wiring), STYLE):
        assert drawing.width <= (STYLE.paper.width - 2 * STYLE.paper.margin) * MM
        assert all(STYLE.letterings[t.role].size >= 6 for t in drawing.shapes if isinstance(t, Text))


@pytest.mark.parametrize("name", NAMES)
def test_names_are_at_least_7_points_and_codes_6(name):
    job = example(name)
    for diagram in wiring_to_diagrams(Solved(job.wiring, job.solution), STYLE, {}):
        for text in diagram.drawing.shapes:
            if isinstance(text, Text):
                assert STYLE.letterings[text.role].size >= (6 if text.role == "diagram code" else 7)


small = st.integers(-3, 3)


@settings(max_examples=60, deadline=None, derandomize=True)
@given(st.lists(st.tuples(st.integers(0, 3), st.integers(0, 3), small, st.integers(1, 4)), max_size=6), st.data())
def test_heights_are_the_least_there_are(pulls, data):
    pulls = [pull for pull in pulls if pull[0] != pull[1]]
    pairs = data.draw(st.sampled_from([[(0, 1)], [(0, 1), (2, 3)], []]))
    gaps = [(i, j, data.draw(st.integers(1, 2))) for i, j in pairs]
    y = heights(4, pulls, gaps)
    assert all(y[j] - y[i] >= gap for i, j, gap in gaps)
    assert cost(y, pulls) == min(
        cost(z, pulls) for z in product(range(-6, 7), repeat=4)
        if z[0] == 0 and all(z[j] - z[i] >= gap for i, j, gap in gaps)
    )


def cost(y, pulls) -> int:
    """What the heights minimise."""
    return sum(weight * abs(y[j] - y[i] - wanted) for i, j, wanted, weight in pulls)


def test_an_end_that_nobody_knows_has_a_mark_of_its_own_and_says_where_it_is():
    c = Circuit()
    c.way("1")
    c.put("Lamp", "batten lampholder")
    c.put("Hall", "one-way switch")
    c.twin("way 1", "Hall", ("L", "COM"), ("N", None))
    c.twin("Hall", "Lamp", ("L1", "L"), (None, "N"))
    seen = c.wiring()
    core = seen.cable("W2").cores[1]
    wiring = with_core(seen, replace(core, ends=(replace(core.ends[0], unknown=True), core.ends[1])))
    for it, name, mark in ((seen, "ends at Hall", 0), (wiring, "not known, at Hall", 1)):
        (drawing,) = diagrams_of(circuit_of(it), STYLE)
        assert name in words_of(drawing)
        discs = [s for s in drawing.shapes if isinstance(s, Circle) and s.role == "unknown end"]
        assert len(discs) == mark and words_of(drawing).count("?") == mark


@pytest.mark.parametrize(("name", "labels"), [
    ("two-way-line-at-switch-current", {"W1 BN", "W2 BN", "W2 BK", "W2 GY", "W3 BN"}),
    ("three-switches", {"W3 BN", "W3 BU", "W4 BN \N{EN DASH} W5 BN", "W4 BK", "W4 GY", "W5 BK", "W5 GY"}),
])
def test_two_lamps_have_no_label_that_is_of_one_of_them(name: str, labels: set[str]) -> None:
    """By the descriptions: what is named is on the way to both lamps, or there is one way."""
    (group, figure), = figures(example(name).wiring)
    assert len(group.lamps) == 2
    assert {wire.label for wire in figure.plan.schematic.wires} - {""} == labels


@settings(max_examples=60, deadline=None, derandomize=True)
@given(wirings())
def test_a_diagram_is_the_same_whether_nets_are_walked_as_trees_or_whole(wiring):
    class Whole(Solved):
        """Walks every net whole."""

        def rail_tree(self, net):
            return None

    solution = wiring_to_solution(wiring)
    for group in solution.groups:
        quick, slow = (schematic_of(kind(wiring, solution), group) for kind in (Solved, Whole))
        assert (quick.symbols, quick.wires) == (slow.symbols, slow.wires)
        used = {end for wire in slow.wires for end in wire.ends}
        taps = [[(rail.terminal, [t for t in rail.taps if t in used]) for rail in x.rails] for x in (quick, slow)]
        assert taps[0] == taps[1]


def test_a_point_within_a_fan_is_no_joint():
    """Its timer's contact is joined to its motor where no hand can reach: one lead, and no stub with a name."""
    circuit = circuit_of(example("outbuildings").wiring)
    (group,) = (g for g in circuit.solution.groups if "Fan.timer" in g.switches)
    schematic = schematic_of(circuit, group)
    assert [s.name for s in schematic.symbols if s.kind == "joint" and "motor" in s.name] == []
    (timer,) = (s for s in schematic.symbols if s.switch == "Fan.timer")
    (motor,) = (s for s in schematic.symbols if s.load == "Fan.motor")
    leads = [wire.ends for wire in schematic.wires
             if not wire.cores and set(wire.ends) & set(timer.pins) and set(wire.ends) & set(motor.pins)]
    assert len(leads) == 1


def test_a_diagram_too_large_to_be_searched_through_is_still_read_back_as_the_wiring(monkeypatch) -> None:
    """The budgets spent at once, as they are in a circuit of some hundred symbols: it bends more, and lies about
    nothing."""
    names = ("joint-boxes", "two-way-conversion", "landing-borrowed-neutral")
    before = {name: [d.shapes for d in diagrams_of(circuit_of(example(name).wiring), STYLE)] for name in names}
    monkeypatch.setattr("sheetgen.draw.diagram.order.MOST_WEIGHED", 0)
    monkeypatch.setattr("sheetgen.draw.diagram.heights.MOST_WORK", 0)
    _arranged.cache_clear()
    after = {name: [d.shapes for d in diagrams_of(circuit_of(example(name).wiring), STYLE)] for name in names}
    assert before != after
    for name in names:
        check(example(name).wiring)
    _arranged.cache_clear()


@settings(max_examples=40, deadline=None)
@given(st.data())
def test_crossings_are_those_of_lines_between_two_edges(data) -> None:
    """Two ways from edge to edge cross where they change places; one that turns back encloses ends of its own edge."""
    ends = st.integers(0, 6)
    straight = data.draw(st.lists(st.tuples(st.just(0), ends, ends), max_size=6))
    turning = [(edge, *sorted(span)) for edge, *span in data.draw(
        st.lists(st.tuples(st.sampled_from([1, 2]), ends, ends), max_size=5))]
    expected = sum((a[1] - b[1]) * (a[2] - b[2]) < 0 for a, b in combinations(straight, 2))
    expected += sum(low < way[edge] < high for edge, low, high in turning for way in straight)
    expected += sum(len({low < x < high for x in other[1:]}) == 2 and not {low, high} & {*other[1:]}
                    for (edge, low, high), other in combinations(turning, 2) if edge == other[0])
    assert _crossings([*straight, *turning]) == expected


@settings(max_examples=40, deadline=None)
@given(st.data())
def test_heights_broken_off_keep_every_gap(data) -> None:
    count = data.draw(st.integers(2, 8))
    ends = st.tuples(st.integers(0, count - 2), st.integers(1, count - 1)).filter(lambda ends: ends[0] < ends[1])
    gaps = [(a, b, data.draw(st.integers(0, 5))) for a, b in data.draw(st.lists(ends, max_size=10))]
    pulls = [(a, b, data.draw(st.integers(-9, 9)), 1) for a, b in data.draw(st.lists(ends, max_size=10))]
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("sheetgen.draw.diagram.heights.MOST_WORK", data.draw(st.sampled_from([0, 50, 200])))
        y = heights(count, pulls, gaps)
    assert all(y[below] - y[above] >= gap for above, below, gap in gaps)
