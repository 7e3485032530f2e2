"""The rules of the drawing hold, and the wiring can be read back, for the examples and for circuits of every kind."""

from __future__ import annotations

from pathlib import Path

import pytest
from circuits import wirings
from hypothesis import HealthCheck, given, settings
from layout.checker import broken_rules
from layout.jumbles import jumbles
from layout.read_back import connections, wired

from sheetgen.layout_to_drawing import layout_to_drawing
from sheetgen.model.wiring import Wiring
from sheetgen.pipeline import understood
from sheetgen.style_from_yaml import load_style
from sheetgen.wiring_to_layout import drawing_space, wiring_to_layout

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))
STYLE = load_style()
TRIES = {"deadline": None, "derandomize": True, "suppress_health_check": list(HealthCheck)}


def drawn(wiring: Wiring, reading=None, style=STYLE):
    """The drawings of a wiring."""
    return layout_to_drawing(wiring_to_layout(wiring, style), wiring, reading, style)


def assert_sound(wiring: Wiring, reading=None, style=STYLE) -> None:
    """No rule is broken, every sheet fits its paper, and the wiring can be read back."""
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


@given(wirings(max_rooms=4))
@settings(max_examples=150, **TRIES)
def test_circuits_right_and_wrong(wiring):
    assert_sound(wiring)


@given(jumbles())
@settings(max_examples=250, **TRIES)
def test_jumbles(wiring):
    assert_sound(wiring)
