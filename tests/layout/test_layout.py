"""The rules of the drawing hold, and the wiring can be read back, for the examples and for circuits of every kind."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from circuits import Circuit, wirings
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from layout.checker import broken_rules
from layout.random_wirings import KINDS, random_wirings
from layout.read_back import connections, wired

from sheetgen.draw.layout import DoesNotFit, wiring_to_layout
from sheetgen.draw.paper import drawing_space
from sheetgen.draw.wiring import layout_to_drawing
from sheetgen.draw.wiring.sleeves import as_found
from sheetgen.model.reading import Finding, Gravity, Reading
from sheetgen.model.wiring import Wiring
from sheetgen.pipeline import understood
from sheetgen.print.svg import drawing_to_svg
from sheetgen.read.style_from_yaml import load_style

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))
STYLE = load_style()
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


@pytest.mark.parametrize("paper", ["a4", "a3"])
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
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
@settings(max_examples=50, **TRIES)
def test_circuits_right_and_wrong(wiring):
    assert_sound(wiring)


@given(random_wirings())
@settings(max_examples=240, **TRIES)
def test_wirings_without_sense(wiring):
    try:
        assert_sound(wiring)
    except DoesNotFit as refused:
        ends = [e for core in wiring.cores() for e in core.ends if e.accessory == refused.accessory]
        assert len(ends) > 30


def test_an_accessory_larger_than_the_paper_is_a_problem_that_names_it():
    circuit = Circuit()
    feed = circuit.way("1")
    for i in range(24):
        circuit.put(f"Light {i}", "batten lampholder")
        circuit.twin(feed.accessory, f"Light {i}", ("L", "L"), ("N", "N"))
    with pytest.raises(DoesNotFit) as refused:
        wiring_to_layout(circuit.wiring(), STYLE)
    (problem,) = refused.value.problems
    assert problem.code == "E501" and "'way 1'" in problem.message and "--paper a3" in problem.hint


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
