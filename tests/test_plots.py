"""The volt drop plot: its bars are as long as the figures, it stays away where it would show nothing."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from itertools import combinations

import pytest
from houses import house
from pages.jobs import EXAMPLES

from sheetgen.circuit import Circuit as Solved
from sheetgen.draw.plots import drop_plots, profiles_of, steps_of, worth_plotting
from sheetgen.draw.typeface import text_width
from sheetgen.judge.figures import reckon
from sheetgen.judge.figures.loads import Loads
from sheetgen.model.drawing import Area, Line, Text
from sheetgen.pipeline import Look, job_of, judged, style_of, understood

STYLE = style_of(Look())
YARD = """
job: Yard lights
board: {earthing: TN-S, ze: 0.3 ohm, ways: {1: {serves: Yard, device: type B 6 A, rcd: 30 mA}}}
colours: current
accessories:
  Gate switch: {kind: one-way switch}
  Barn: {kind: light fitting, lamp: 300 W}
  Gate: {kind: light fitting, lamp: 200 W}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Gate switch, length: 20 m,
       cores: {BN: [L, COM], BU: [nothing, nothing], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Gate switch, to: Barn, length: 25 m,
       cores: {BN: [L1, L], BU: [nothing, nothing], cpc: [E, E]}}
  W3: {type: twin and earth 1.0, from: Barn, to: Gate, length: 30 m, cores: {BN: [L, L], BU: [N, N], cpc: [E, E]}}
  W4: {type: unsheathed single 1.0, in: conduit, from: way 1, to: Barn, length: 40 m, cores: {BU: [N, N]}}
"""


def profiles(text: str):
    """The profiles of a description, and the figures they are of."""
    wiring, solution, reading = understood(text)
    drops = reckon(wiring, solution, reading.ways).drops
    return profiles_of(Solved(wiring, solution), drops), drops


def test_the_pieces_add_up_to_the_drop():
    found, drops = profiles(YARD)
    assert [profile.lamp for profile in found] == ["Barn", "Gate"]
    for profile, drop in zip(found, drops, strict=True):
        assert profile.volts == pytest.approx(drop.volts)
        assert profile.limit == 6.9
    assert [cable for cable, _ in found[1].pieces] == ["W1", "W2", "W3", "W4"]


def test_a_piece_is_amperes_times_length_times_the_table():
    # BS 7671 Table 4D5: 44 mV/A/m for 1.0 mm2, half of it for one conductor; 500 W at 230 V along W1
    found, _ = profiles(YARD)
    assert dict(found[0].pieces)["W1"] == pytest.approx(500 / 230 * 20 * 0.022, rel=1e-6)
    assert dict(found[1].pieces)["W3"] == pytest.approx(200 / 230 * 30 * 0.044, rel=1e-6)


def test_bars_are_as_long_as_the_volts():
    found, _ = profiles(YARD)
    (drawing,) = drop_plots(found, STYLE)
    bars = [shape for shape in drawing.shapes if isinstance(shape, Area)]
    volts = [piece for profile in found for piece in profile.pieces]
    assert [dict(bar.about)["cable"] for bar in bars] == [cable for cable, _ in volts]
    wide = [max(x for x, _ in bar.points) - min(x for x, _ in bar.points) for bar in bars]
    scale = [length / v for length, (_, v) in zip(wide, volts, strict=True)]
    assert max(scale) - min(scale) < 0.02 * max(scale)
    (limit,) = [shape for shape in drawing.shapes if isinstance(shape, Line) and shape.role == "plot limit"]
    start = min(x for x, _ in bars[0].points)
    assert (limit.points[0][0] - start) / 6.9 == pytest.approx(sum(scale) / len(scale), rel=0.01)


def test_words_are_of_the_typeface_large_enough_and_apart():
    found, _ = profiles(YARD)
    (drawing,) = drop_plots(found, STYLE)
    boxes = []
    for text in drawing.shapes:
        if isinstance(text, Text):
            lettering = STYLE.letterings[text.role]
            assert lettering.size >= 6
            wide = text_width(text.text, lettering)
            left = text.x - {"start": 0, "middle": wide // 2, "end": wide}[text.anchor]
            assert left >= 0 and left + wide <= drawing.width and 200 <= text.y <= drawing.height
            boxes.append((left, text.y - 200, left + wide, text.y, text.text))
    for a, b in combinations(boxes, 2):
        assert not (a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]), (a, b)


def test_it_stays_away_where_lengths_are_missing_or_little_is_lost():
    _, drops = profiles(YARD.replace(", length: 40 m", ""))
    assert not worth_plotting(drops)
    assert worth_plotting(profiles(YARD)[1])
    assert job_of(YARD, Look()).plots
    assert not job_of((EXAMPLES / "bungalow.yaml").read_bytes(), Look()).plots


@pytest.mark.parametrize("longest, steps", [
    (6.9, [0, 1, 2, 3, 4, 5, 6]), (11.5, [0, 2, 4, 6, 8, 10]), (0.34, [0, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3]),
])
def test_the_axis_goes_up_in_round_steps(longest, steps):
    assert steps_of(longest) == pytest.approx(steps)


def test_many_lamps_take_several_plots_to_one_scale_and_each_lamp_one_bar():
    found, _ = profiles(YARD)
    many = [replace(found[0], lamp=f"Lamp {i}") for i in range(43)]
    drawings = drop_plots(many, STYLE)
    assert len(drawings) == 3
    assert all(drawing.height <= 150 * 100 for drawing in drawings)
    names = [s.text for d in drawings for s in d.shapes if isinstance(s, Text) and s.text.startswith("Lamp ")]
    assert names == [profile.lamp for profile in many]
    limits = {s.points for d in drawings for s in d.shapes if isinstance(s, Line) and s.role == "plot limit"}
    assert len({points[0] for points in limits}) == 1


def test_a_sheet_with_a_plot_needs_no_plotting_library():
    code = f"import sys; from sheetgen.pipeline import Look, job_sheet; job_sheet({YARD!r}, Look())"
    command = [sys.executable, "-c", f"{code}; print(*sys.modules)"]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    assert not {"matplotlib", "schemdraw", "numpy"} & set(done.stdout.split())


def test_what_flows_with_everything_on_is_reckoned_once_for_all_lamps(monkeypatch):
    """Twelve rooms, each light on its own switch: all of them lose most in one setting."""
    solved = []
    reckoned = Loads.flow
    monkeypatch.setattr(Loads, "flow", lambda loads, chosen: solved.append(chosen) or reckoned(loads, chosen))
    circuit, reading = judged(house(12))
    before = len(solved)
    found = profiles_of(circuit, reading.figures.drops)
    assert len(found) == 12 and len(solved) == before + 1
    for profile, drop in zip(found, reading.figures.drops, strict=True):
        assert profile.volts == pytest.approx(drop.volts)
