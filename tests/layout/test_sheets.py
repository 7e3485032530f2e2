"""How many sheets a house takes, how well they are used, and that what is stacked on one sheet is sound."""

from __future__ import annotations

import pytest
from circuits import wirings
from houses import house
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


def test_a_band_that_was_too_wide_is_not_laid_again_in_other_company(monkeypatch):
    """A row of sensors with a light each, where bands are wider than their enclosures: few are laid out in vain."""
    laid = []
    monkeypatch.setattr(layout, "_brought_onto_paper", lambda scene, lay=layout._brought_onto_paper: (
        laid.append(scene), lay(scene))[1])
    sheets = wiring_to_layout(wiring_of(row_of_sensors(20)), load_style()).sheets
    assert len(sheets) == 7
    assert len(laid) < 6 * 41, "8.4 for each accessory where the same sheet alone is refused"


def row_of_sensors(count: int) -> str:
    accessories, cables, last = [], [], "way 1"
    for i in range(1, count + 1):
        accessories += [f"  Sensor {i}: {{kind: sensor}}", f"  Flood {i}: {{kind: batten lampholder, lamp: 8 W}}"]
        cables += [f"  {name}: {{type: twin and earth 1.0, from: {a}, to: {b}, cores: {{BN: [{line}], BU: [N, N], "
                   "cpc: [E, E]}}" for name, a, b, line in ((f"W{i}", last, f"Sensor {i}", "L, L"),
                                                            (f"D{i}", f"Sensor {i}", f"Flood {i}", "SL, L"))]
        last = f"Sensor {i}"
    return "\n".join(["job: Floods", "board: {ways: {1: {serves: Floods}}}", "colours: current", "accessories:",
                      *accessories, "cables:", *cables, ""])
