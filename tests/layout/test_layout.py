"""The rules of the drawing hold, and the wiring can be read back, for the examples and for circuits of every kind."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from circuits import Circuit, wirings
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from layout.checker import SortedShapes, broken_rules
from layout.random_wirings import KINDS, random_wirings
from layout.read_back import connections, wired

from sheetgen.draw.layout import DoesNotFit, wiring_to_layout
from sheetgen.draw.layout.arrangements import KNOWN, KnownWays
from sheetgen.draw.layout.scene import Enclosure
from sheetgen.draw.paper import drawing_space
from sheetgen.draw.wiring import layout_to_drawing
from sheetgen.draw.wiring.sleeves import as_found
from sheetgen.model.accessory import Accessory, AccessoryKind, Level, LoadKind, Position, SwitchKind, TerminalKind
from sheetgen.model.drawing import Text
from sheetgen.model.reading import Finding, Gravity, Reading
from sheetgen.model.wiring import CoreEnd, Wiring
from sheetgen.pipeline import understood
from sheetgen.print.svg import drawing_to_svg
from sheetgen.read.style_from_yaml import load_style

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))
STYLE = load_style()
ON_A3_TOO = ("bungalow", "outbuildings", "three-switches", "two-way-line-at-switch")
TRIES = {"deadline": None, "derandomize": True, "suppress_health_check": list(HealthCheck)}


def drawn(wiring: Wiring, reading=None, style=STYLE):
    """The drawings of a wiring."""
    return layout_to_drawing(wiring_to_layout(wiring, style), wiring, reading, style)


def endangered(wiring: Wiring) -> Reading:
    """A reading in which every accessory has a danger, so that the mark must find room everywhere."""
    findings = tuple(Finding("made up", Gravity.DANGER, "", accessory=a.name) for a in wiring.accessories)
    return Reading({}, {}, tuple(as_found(wiring).values()), findings)


def assert_sound(wiring: Wiring, reading=None, style=STYLE) -> None:
    """No rule is broken, every sheet fits its paper, and the wiring can be read back."""
    reading = reading or endangered(wiring)
    drawings = drawn(wiring, reading, style)
    width, height = drawing_space(style)
    around = 2 * style.measures["drawing margin"]
    for drawing in drawings:
        assert broken_rules(drawing, style) == []
        assert drawing.width <= width + around and drawing.height <= height + around
    assert connections(drawings, style) == wired(wiring)


@pytest.mark.parametrize(("path", "paper"), [
    *((path, "a4") for path in EXAMPLES), *((path, "a3") for path in EXAMPLES if path.stem in ON_A3_TOO),
], ids=lambda value: value if isinstance(value, str) else value.stem)
def test_examples(path, paper):
    wiring, _, reading = understood(path.read_text(encoding="utf-8"))
    assert_sound(wiring, reading, load_style("colour", paper))


@pytest.mark.parametrize(("kind", "options"), KINDS, ids=lambda value: str(value))
def test_every_kind_of_accessory_with_a_core_on_every_terminal(kind, options):
    circuit = Circuit()
    circuit.way("1")
    name = circuit.put("Here", kind, "Hall", ["N joint"], **options)
    for terminal in circuit.accessories[-1].kind.terminals:
        circuit.cable("twin and earth", "way 1", name, ("L", terminal.name), ("N", None), ("E", terminal.name))
    wiring = circuit.wiring()
    assert_sound(wiring, style=load_style("colour", "a3"))


@given(wirings(max_rooms=4))
@settings(max_examples=10, **TRIES)
def test_circuits_right_and_wrong(wiring):
    assert_sound(wiring)


@given(random_wirings(own=2))
@settings(max_examples=60, **TRIES)
def test_wirings_without_sense(wiring):
    assert_sound(wiring)


@pytest.mark.parametrize(("lights", "paper"), [(12, "a4")])
def test_a_box_with_many_lights_and_switches_is_drawn(lights, paper):
    circuit = Circuit()
    feed = circuit.way("1")
    circuit.put("Box", "joint box", terminals=["L", "N", "E", *(f"S{i}" for i in range(lights))])
    circuit.twin(feed.accessory, "Box", ("L", "L"), ("N", "N"))
    for i in range(lights):
        circuit.put(f"Light {i}", "batten lampholder")
        circuit.put(f"Switch {i}", "one-way switch")
        circuit.twin("Box", f"Light {i}", (f"S{i}", "L"), ("N", "N"))
        circuit.twin("Box", f"Switch {i}", ("L", "COM"), (f"S{i}", "L1"), sleeved="2")
    assert_sound(circuit.wiring(), style=load_style("colour", paper))


def not_known(wiring: Wiring) -> Wiring:
    """The wiring with every second end in nothing not known, and every fifth end on a terminal."""
    seen = {True: 0, False: 0}

    def end(it: CoreEnd) -> CoreEnd:
        seen[it.nothing] += 1
        return replace(it, terminal=None, unknown=True) if seen[it.nothing] % (2 if it.nothing else 5) == 0 else it

    return replace(wiring, cables=tuple(
        replace(c, cores=tuple(replace(core, ends=(end(core.ends[0]), end(core.ends[1]))) for core in c.cores))
        for c in wiring.cables))


@given(random_wirings(accessories=4, cables=6))
@settings(max_examples=25, **TRIES)
def test_an_end_that_nobody_knows_is_never_read_as_an_end_in_nothing(wiring):
    assert_sound(not_known(wiring))


def test_a_way_with_many_cables_is_drawn_in_parts_that_say_so():
    circuit = Circuit()
    feed = circuit.way("1")
    for i in range(24):
        circuit.put(f"Light {i}", "batten lampholder")
        circuit.twin(feed.accessory, f"Light {i}", ("L", "L"), ("N", "N"))
    wiring = circuit.wiring()
    assert_sound(wiring)
    texts = [s.text for d in drawn(wiring) for s in d.shapes if isinstance(s, Text) and s.role == "title"]
    parts = sum("part" in text for text in texts)
    assert parts > 1 and f"Circuit 1, part 1 of {parts}" in texts


def test_an_own_kind_with_very_many_terminals_and_contacts_is_drawn():
    names = [f"T{i}" for i in range(120)]
    kind = AccessoryKind(
        "own", Level.WALL, tuple(TerminalKind(name) for name in names), tuple((name,) for name in names),
        (SwitchKind((Position("on", tuple((n, n) for n in names[:5])),), what="own"),
         SwitchKind((Position("on", ((names[3], names[99]),)), Position("off")), "far", what="own")),
        (LoadKind("T60", "T61", Fraction(8)),),
    )
    circuit = Circuit()
    circuit.way("1")
    circuit.accessories.append(Accessory("Rack", kind))
    for i in range(0, 120, 2):
        circuit.single("way 1", "L", "Rack", f"T{i}")
    wiring = circuit.wiring()
    assert_sound(wiring)
    shown = {dict(s.about)["terminal"] for d in drawn(wiring) for s in SortedShapes(d, STYLE).terminals}
    assert {f"Rack {name}" for name in names} <= shown


def test_a_sheet_too_small_for_one_cable_is_a_problem_that_names_the_accessory():
    circuit = Circuit()
    circuit.way("1")
    circuit.put("Light", "batten lampholder")
    circuit.twin("way 1", "Light", ("L", "L"), ("N", "N"))
    with pytest.raises(DoesNotFit) as refused:
        wiring_to_layout(circuit.wiring(), STYLE, (2000, 2000))
    (problem,) = refused.value.problems
    assert problem.code == "E501" and "part" in problem.message and "--paper a3" in problem.hint


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_goldens(path, golden):
    wiring, _, reading = understood(path.read_text(encoding="utf-8"))
    for number, drawing in enumerate(drawn(wiring, reading), 1):
        golden(f"{path.stem}-{number}.svg", drawing_to_svg(drawing, STYLE))


@given(wirings(max_rooms=2), st.randoms(use_true_random=False))
@settings(max_examples=15, **TRIES)
def test_the_order_of_the_cables_in_the_file_does_not_matter(wiring, random):
    cables = list(wiring.cables)
    random.shuffle(cables)
    assert drawn(replace(wiring, cables=tuple(cables))) == drawn(wiring)


def test_the_same_every_time():
    """Another process, with other hash seeds, draws the same."""
    code = (
        "import sys; from pathlib import Path; sys.path.insert(0, 'tests/layout'); sys.path.insert(0, 'tests');"
        "from layout.test_layout import EXAMPLES, STYLE, drawn, understood, drawing_to_svg;"
        "import hashlib; h = hashlib.sha256();"
        "[h.update(drawing_to_svg(d, STYLE).encode()) for p in EXAMPLES[2:4]"
        " for w, _, r in [understood(p.read_text(encoding='utf-8'))] for d in drawn(w, r)];"
        "print(h.hexdigest())"
    )
    root = Path(__file__).parents[2]
    found = {
        subprocess.run([sys.executable, "-c", code], cwd=root, capture_output=True, text=True, check=True,
                       env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(root)}).stdout
        for seed in ("1", "77")
    }
    assert len(found) == 1 and len(found.pop()) == 65


@given(random_wirings(), random_wirings())
@settings(max_examples=12, **TRIES)
def test_a_layout_does_not_depend_on_what_was_laid_out_before(earlier: Wiring, wiring: Wiring) -> None:
    KNOWN.found.clear()
    alone = wiring_to_layout(wiring, STYLE)
    KNOWN.found.clear()
    wiring_to_layout(earlier, STYLE)
    assert wiring_to_layout(wiring, STYLE) == alone


def test_no_more_ways_into_enclosures_are_kept_than_are_allowed() -> None:
    kept = KnownWays(most=3)
    for shape in "ABCADE":
        kept.ways(shape, Enclosure(shape, "ceiling", 0), STYLE)
    assert list(kept.found) == ["A", "D", "E"]
