"""How many sheets a house takes, how well they are used, and that what is stacked on one sheet is sound."""

from __future__ import annotations

import pytest
from circuits import wirings
from houses import house, row_of_sensors
from hypothesis import given, settings
from layout.checker import broken_rules
from layout.measure import measured
from layout.read_back import connections, wired
from layout.test_layout import TRIES, assert_sound, endangered
from method_catalogue import Combination

from sheetgen.draw import layout
from sheetgen.draw.layout import wiring_to_layout
from sheetgen.draw.wiring import layout_to_drawing
from sheetgen.pipeline import wiring_of
from sheetgen.read.style_from_yaml import load_style

A3 = load_style("colour", "a3")
NARROW = 20000, 26000  # a sheet on which bands are narrow and two stand above one another


@pytest.mark.parametrize(("rooms", "paper", "most"), [(20, "a3", 3), (20, "a4", 5), (50, "a3", 8)])
def test_a_house_takes_few_sheets_and_uses_them(rooms, paper, most):
    """Three accessories a room. The figures are what a reader is willing to carry (asked for, not derived)."""
    style = load_style("colour", paper)
    found = measured(wiring_to_layout(wiring_of(house(rooms)), style), style)
    assert found.sheets <= most
    assert sum(found.used) / found.sheets > 0.7


@pytest.mark.parametrize("lights", [1, 2])
def test_the_board_has_no_sheet_to_itself_where_as_many_sheets_hold_something_else(lights):
    wiring = wiring_of(Combination("at the switch", "two strappers", 5, True).text(lights))
    sheets = wiring_to_layout(wiring, load_style()).sheets
    assert len(sheets) == 2
    assert min(len(sheet.accessories) for sheet in sheets) > 1


def test_what_is_stacked_on_one_sheet_is_sound_and_can_be_read_back():
    wiring = wiring_of(house(12))
    assert_sound(wiring, style=A3)
    layout = wiring_to_layout(wiring, A3)
    tops = {place.frame.y for place in layout.sheets[0].accessories if place.name.startswith("Rose")}
    assert len({y for y in tops if y < layout.sheets[0].height // 2}) < len(tops), "two bands of roses"


@given(wirings(max_rooms=6))
@settings(max_examples=8, **TRIES)
def test_any_circuit_may_be_stacked(wiring):
    drawings = layout_to_drawing(wiring_to_layout(wiring, A3, NARROW), wiring, endangered(wiring), A3)
    assert [rule for drawing in drawings for rule in broken_rules(drawing, A3)] == []
    assert connections(drawings, A3) == wired(wiring)


@pytest.mark.parametrize("rooms", [30, 50])
def test_no_lampholder_stands_on_another_sheet_than_its_rose(rooms):
    for sheet in wiring_to_layout(wiring_of(house(rooms)), A3).sheets:
        names = {place.name for place in sheet.accessories}
        assert {f"{name} lamp" for name in names if name.startswith("Rose") and "lamp" not in name} <= names


def test_sheets_of_one_job_are_filled_evenly():
    """One scale for both: with as much on the first as it holds, a quarter of the last was filled, in less scale."""
    wiring = wiring_of(Combination("at a joint box", "conversion", 6, False).text(2))
    style = load_style()
    found = measured(wiring_to_layout(wiring, style), style)
    assert found.sheets == 2
    assert min(found.used) > 0.6 and found.scale >= 1.1


@pytest.mark.parametrize(("sensors", "most"), [(20, 7), (40, 14)])
def test_what_was_seen_of_a_band_is_taken_of_those_that_look_like_it(monkeypatch, sensors, most):
    """A row of sensors with a light each, whose bands are higher than their enclosures: few are laid out in vain."""
    laid = []
    monkeypatch.setattr(layout, "_brought_onto_paper", lambda scene, lay=layout._brought_onto_paper: (
        laid.append(scene), lay(scene))[1])
    sheets = wiring_to_layout(wiring_of(row_of_sensors(sensors)), load_style()).sheets
    assert len(sheets) <= most
    assert len(laid) < 4 * len(sheets), "10 to a sheet where each is seen for itself alone"


def test_in_a_long_walk_a_light_stands_on_the_sheet_of_its_sensor():
    """Where all sensors came first, each light was on another sheet, and every sheet had a mark to it."""
    sheets = wiring_to_layout(wiring_of(row_of_sensors(20)), load_style()).sheets
    for sheet in sheets:
        names = {place.name for place in sheet.accessories}
        for i in range(1, 21):
            assert (f"Sensor {i}" in names) == (f"Flood {i}" in names)
        assert len(sheet.marks) <= 2
