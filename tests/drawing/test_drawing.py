"""The shapes of a drawing: sleeves by how they stand, crossings with gaps, the ways of showing less, the legend."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from circuits import Circuit
from layout.checker import SortedShapes, broken_rules, cables_of, ink, meet, pieces, rect

from sheetgen.draw.inking import brightness
from sheetgen.draw.layout import wiring_to_layout
from sheetgen.draw.paper import drawing_space, enlargement
from sheetgen.draw.wiring import Show, layout_to_drawing, legend
from sheetgen.draw.wiring.sleeves import sleeve_shapes
from sheetgen.model.drawing import Box, Circle, Drawing, Line, Text
from sheetgen.model.layout import Frame
from sheetgen.model.reading import Finding, Gravity, Sleeve, Standing
from sheetgen.pipeline import understood
from sheetgen.read.style_from_yaml import load_style

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))
STYLE = load_style()


def example(name: str):
    """Wiring and reading of an example."""
    wiring, _, reading = understood((EXAMPLES[0].parent / f"{name}.yaml").read_text(encoding="utf-8"))
    return wiring, reading


def drawn(name: str, show: Show | None = None) -> tuple[Drawing, ...]:
    """The drawings of an example."""
    wiring, reading = example(name)
    return layout_to_drawing(wiring_to_layout(wiring, STYLE), wiring, reading, STYLE, show or Show())


@pytest.mark.parametrize(("standing", "role", "strokes"), [
    (Standing.FITTED, "sleeve", 0), (Standing.MISSING, "sleeve to fit", 0),
    (Standing.NEEDLESS, "sleeve needless", 2), (Standing.WRONG, "sleeve wrong", 4),
])
def test_a_sleeve_is_drawn_by_how_it_stands_and_the_legend_says_so(standing, role, strokes):
    wiring, reading = example("two-way-conversion")
    reading = replace(reading, sleeves=(Sleeve("W2/2", 1, "BN", standing, has="RD"),))
    (drawing,) = layout_to_drawing(wiring_to_layout(wiring, STYLE), wiring, reading, STYLE)
    boxes = SortedShapes(drawing, STYLE).sleeves
    assert [(b.role, dict(b.about)["core"], dict(b.about)["end"]) for b in boxes] == [(role, "W2/2", "1")]
    crossed = [s for s in drawing.shapes if isinstance(s, Line) and s.role == "sleeve cross"]
    assert len(crossed) == strokes and all(meet(rect(s), rect(boxes[0])) for s in crossed)
    has = "RD" if standing is Standing.WRONG else "BN"
    (code,) = [s for s in drawing.shapes if isinstance(s, Text) and dict(s.about).get("sleeve")]
    assert code.text == has and not any(meet(rect(s), ink(code, STYLE)) for s in crossed), "a code is never struck"
    shown = legend(wiring, reading, STYLE)
    assert role in {s.role for s in shown.shapes}
    assert sum("sleeve" in s.text for s in shown.shapes if isinstance(s, Text)) == 1


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_every_crossing_of_conductors_has_a_gap(path):
    for drawing in drawn(path.stem):
        look = SortedShapes(drawing, STYLE)
        routes = [*look.conductors, *look.sheaths]
        bridged = [rect(s) for s in look.bridges]
        for over in routes:
            for under in routes:
                for x, y in _crossings(over, under):
                    assert any(b[0] < x < b[2] and b[1] == y for b in bridged), (over.about, under.about)


@pytest.mark.parametrize("name", ["outbuildings", "loop-at-switch", "large-house"])
def test_no_symbol_lies_over_an_earth_terminal(name):
    """E stands between N and L, as on the real block: the lamp's symbol lay over it, then its line stopped short of it
    and began again, which read as three terminals linked. It passes behind, dashed, and is one line from N to lamp."""
    earths = 0
    for drawing in drawn(name):
        for earth in (s for s in drawing.shapes if isinstance(s, Box) and s.role == "terminal"):
            accessory, _, terminal = dict(earth.about)["terminal"].rpartition(" ")
            its = [s for s in drawing.shapes if s.role.startswith("symbol") and ("accessory", accessory) in s.about]
            _, top, _, low = rect(earth)
            over = [s for s in its if rect(s)[1] < low and top < rect(s)[3]]
            if terminal == "E" and over:
                earths += 1
                assert [(s.role, s.points[0][1], s.points[-1][1]) for s in over] == [("symbol hidden", top, low)]
                lamp, = (s for s in its if isinstance(s, Circle) and s.role == "symbol fill")
                dot, = (s for s in its if isinstance(s, Circle) and s.role == "symbol dot")
                drawn_to = sorted(y for s in its if isinstance(s, Line) and s.points[0][0] == s.points[1][0]
                                  for y in (s.points[0][1], s.points[1][1]))
                edges = sorted((dot.y, lamp.y - lamp.radius if lamp.y > dot.y else lamp.y + lamp.radius))
                assert [drawn_to[0], drawn_to[-1]] == edges
                assert drawn_to[1:-1:2] == drawn_to[2::2]
    assert earths > 1


def test_an_open_contact_stays_clear_of_a_terminal_that_it_does_not_join():
    """N stands between a sensor's L and SL: the tip of the open contact lay in it and read as L switched to N."""
    (neutral,) = [rect(s) for s in drawn("outbuildings")[0].shapes
                  if isinstance(s, Box) and ("terminal", "Sensor N") in s.about]
    blades = [s for s in drawn("outbuildings")[0].shapes
              if isinstance(s, Line) and s.role == "symbol" and ("switch", "sensor") in s.about]
    assert blades and all(y < neutral[1] for blade in blades for _, y in blade.points)


def _crossings(over: Line, under: Line):
    for a, b in pieces(over):
        for c, d in pieces(under):
            square = a[1] == b[1] and c[0] == d[0] and over is not under
            if square and min(a[0], b[0]) < c[0] < max(a[0], b[0]) and min(c[1], d[1]) < a[1] < max(c[1], d[1]):
                yield c[0], a[1]


def test_a_miniature_has_no_text():
    for drawing in drawn("bungalow", Show(labels=False)):
        assert not [s for s in drawing.shapes if isinstance(s, Text) or s.role in ("plate", "tag")]
        assert SortedShapes(drawing, STYLE).conductors


def test_a_live_path_is_heavy_and_all_else_thin():
    (drawing,) = drawn("two-way-conversion", Show(live={"W2/1": "line"}))
    for line in SortedShapes(drawing, STYLE).conductors:
        heavy = dict(line.about)["core"] == "W2/1"
        assert line.role == ("conductor heavy" if heavy else "conductor thin")


@pytest.mark.parametrize("name", ["two-way-conversion", "two-strappers-conduit", "two-way-line-at-switch"])
def test_a_handout_has_no_conductor_inside_accessories(name):
    full, blank = drawn(name)[0], drawn(name, Show(conductors=False))[0]
    look = SortedShapes(blank, STYLE)
    for line in look.conductors:
        for box in (box for _, box in look.enclosures):
            assert not any(meet(rect(Line((a, b), "")), rect(box), 1) for a, b in pieces(line))
    kept = ("enclosure", "terminal", "sheath", "tag", "title", "board")
    assert [s for s in blank.shapes if s.role in kept] == [s for s in full.shapes if s.role in kept]
    singles = [c for c in example(name)[0].cables if c.single and not c.link]
    ends = [frozenset(c.ends) for c in singles]
    lone = {c.name for c in singles if ends.count(frozenset(c.ends)) == 1 and not c.run_in}
    assert {dict(line.about)["cable"] for line in look.conductors} == lone
    together = {c.name for c in singles} - lone
    assert {name for line in look.sheaths if line.role == "trunk" for name in cables_of(line)} == together


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_the_legend_shows_what_occurs_and_nothing_else(path):
    wiring, reading = example(path.stem)
    shown = legend(wiring, reading, STYLE)
    codes = {s.text for s in shown.shapes if isinstance(s, Text) and s.role == "legend code"}
    singles = [c for c in wiring.cables if c.single]
    named = codes - {core.colour or "bare" for core in wiring.cores()}
    assert named <= {f"{c.cores[0].label} {c.name}" for c in singles} and len(named) == bool(singles)
    assert codes - named == {core.colour or "bare" for core in wiring.cores()}
    words = {s.text for s in shown.shapes if isinstance(s, Text) and s.role == "legend"}
    conduit = "conduit or trunking with its singles, from box to box"
    assert (conduit in words) == any(c.run_in and not c.link for c in singles)
    loads = {load.what for a in wiring.accessories for load in a.kind.loads}
    assert ("motor of a fan" in words, "electronics" in words) == ("fan" in loads, "electronics" in loads)
    assert ("flexible cord" in words) == any(c.flex for c in wiring.cables)
    assert ("core that ends in nothing" in words) == any(
        end.terminal is None for core in wiring.cores() for end in core.ends
    )
    assert "goes on where the same number stands" not in words
    boxes = [ink(s, STYLE) for s in shown.shapes if isinstance(s, Text)]
    assert not any(meet(a, b) for i, a in enumerate(boxes) for b in boxes[:i])
    assert all(box[2] <= shown.width and box[3] <= shown.height for box in boxes)


def test_the_legend_explains_what_passes_behind_a_terminal():
    """A batten's lamp is joined to its N, and E stands between; that of a light on an example without one is not."""
    behind = "joined within it, behind the terminal"
    for name, here in (("two-strappers-conduit", True), ("one-way-loop-in", False)):
        wiring, reading = example(name)
        (drawing,) = drawn(name)
        shown = legend(wiring, reading, STYLE, sheet=drawing)
        assert (behind in {s.text for s in shown.shapes if isinstance(s, Text)}) == here


def test_the_legend_explains_continuation_marks():
    wiring, reading = example("bungalow")
    words = {s.text for s in legend(wiring, reading, STYLE, marks=True).shapes if isinstance(s, Text)}
    assert "goes on where the same number stands" in words


def test_the_legend_of_a_sheet_has_only_what_is_on_it():
    wiring, reading = example("bungalow")
    drawings = drawn("bungalow")
    assert len(drawings) > 1
    for drawing in drawings:
        shown = legend(wiring, reading, STYLE, sheet=drawing)
        codes = {s.text for s in shown.shapes if isinstance(s, Text) and s.role == "legend code"}
        assert codes == {line.colour or "bare" for line in SortedShapes(drawing, STYLE).conductors}
    reading = replace(reading, sleeves=(replace(reading.sleeves[0], standing=Standing.MISSING),))
    at = [str(reading.sleeves[0].core), str(reading.sleeves[0].end)]
    for drawing in drawings:
        here = any([dict(s.about).get("core"), dict(s.about).get("end")] == at for s in drawing.shapes)
        words = {s.text for s in legend(wiring, reading, STYLE, sheet=drawing).shapes if isinstance(s, Text)}
        assert any(text.startswith("sleeve to be fitted") for text in words) == here


def test_marks_name_one_another_across_sheets():
    drawings = drawn("large-house")
    assert len(drawings) > 1
    found = {}
    for number, drawing in enumerate(drawings, 1):
        for mark in SortedShapes(drawing, STYLE).marks:
            about = dict(mark.about)
            found.setdefault((about["mark"], about["cables"]), []).append((number, int(about["sheet"])))
    assert found
    for sheets in found.values():
        (here, there), (back, again) = sheets
        assert (here, there) == (again, back) and here != there


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_a_small_drawing_may_be_enlarged_as_far_as_its_sheet_allows(path):
    around = 2 * STYLE.measures["drawing margin"]
    width, height = (length + around for length in drawing_space(STYLE))
    for drawing in drawn(path.stem):
        scale = enlargement(drawing, STYLE)
        assert 1 <= scale <= 1.5
        assert drawing.width * scale <= width + 1 and drawing.height * scale <= height + 1


def test_a_danger_at_a_pendant_is_marked_on_the_rose_that_is_opened_too():
    """The two circuits' conductors are terminated on the landing's rose: the lampholder's flex only hangs on it."""
    wiring, reading = example("landing-borrowed-neutral")
    assert {f.accessory for f in reading.findings if f.gravity is Gravity.DANGER} == {"Landing lamp"}
    layout = wiring_to_layout(wiring, STYLE)
    (drawing,) = layout_to_drawing(layout, wiring, reading, STYLE)
    marked = {dict(mark.about)["accessory"] for mark in SortedShapes(drawing, STYLE).dangers}
    assert marked == {"Landing lamp", "Landing"}
    assert not broken_rules(drawing, STYLE)


def test_a_danger_is_marked_at_its_accessory_and_nowhere_else():
    wiring, reading = example("two-way-conversion")
    layout = wiring_to_layout(wiring, STYLE)
    core = next(core for core in wiring.cores() if core.key == "W3/2")
    found = (Finding("made up", Gravity.DANGER, "", accessory="Stairs"), Finding("made up", Gravity.NOTE, "", "Top"),
             Finding("made up", Gravity.DANGER, "", core="W3/2"))
    for findings, at in ((found, {"Stairs", *(end.accessory for end in core.ends)}), ((), set())):
        changed = replace(reading, findings=findings)
        (drawing,) = layout_to_drawing(layout, wiring, changed, STYLE)
        assert {dict(mark.about)["accessory"] for mark in SortedShapes(drawing, STYLE).dangers} == at
        words = {s.text for s in legend(wiring, changed, STYLE).shapes if isinstance(s, Text)}
        assert ("danger: see the findings" in words) == bool(at)
    for show in (Show(conductors=False), Show(labels=False), Show(live={"W2/1": "line"})):
        (drawing,) = layout_to_drawing(layout, wiring, replace(reading, findings=found), STYLE, show)
        assert not SortedShapes(drawing, STYLE).dangers


@pytest.mark.parametrize("name", ["colour", "mono"])
@pytest.mark.parametrize("standing", [Standing.FITTED, Standing.MISSING])
def test_a_sleeve_says_its_colour_in_letters_or_bands(name, standing):
    style = load_style(name)
    frame = Frame(0, 0, style.measures["sleeve"], style.measures["sleeve height"])
    for code in style.names:
        shapes = sleeve_shapes(Sleeve("W1/1", 0, code, standing), frame, (), style)
        texts = [s for s in shapes if isinstance(s, Text)]
        bands = code == "GNYE" and name == "colour" and standing is Standing.FITTED
        assert [t.text for t in texts] == ([] if bands else ["G/Y" if code == "GNYE" else code])
        for text in texts:
            box = ink(text, style)
            assert box[0] >= 0 and box[2] <= frame.width
            fitted = style.colours[code].stroke if name == "colour" else "#ffffff"
            to_fit = "#ffb3df" if name == "colour" else "#000000"
            on = fitted if standing is Standing.FITTED else to_fit
            assert abs(brightness(style.letterings[text.role].paint) - brightness(on)) > 0.4


def test_a_long_name_keeps_a_small_circuit_on_one_sheet():
    circuit = Circuit()
    feed = circuit.way("1", serves="Lights of the whole upper floor and of the loft above it, stairs too")
    rose = "Rose in the large room over the old stable at the back, by the window"
    switch = "Switchinthelargeroomovertheoldstableatthebackbythewindowandthedoor"
    circuit.put(rose, "ceiling rose", "The large room over the old stable at the back of the house")
    circuit.put(switch, "one-way switch")
    circuit.twin(feed.accessory, rose, ("L", "loop"), ("N", "N"))
    circuit.twin(rose, switch, ("loop", "COM"), ("SL", "L1"), sleeved="2")
    circuit.pendant(rose)
    wiring = circuit.wiring()
    (drawing,) = layout_to_drawing(wiring_to_layout(wiring, STYLE), wiring, None, STYLE)
    titles = {name: [s.text for s in drawing.shapes if isinstance(s, Text) and s.role == "title"
                     and dict(s.about)["accessory"] == name] for name in (rose, switch)}
    assert " ".join(titles[rose]) == rose
    assert titles[switch][-1].endswith("…") and len(titles[switch]) == 1
    assert broken_rules(drawing, STYLE) == []


def test_terminals_of_a_plate_are_called_as_on_every_page():
    """As the connections say: 'landing L1', not 'landing.L1'."""
    (drawing,) = drawn("landing-borrowed-neutral")
    texts = {shape.text for shape in drawing.shapes if isinstance(shape, Text)}
    assert {"landing COM", "landing L1", "landing L2", "light COM", "light L1"} <= texts
    assert not [text for text in texts if text.startswith(("landing.", "light."))]
