"""Small circuits against the fewest crossings there can be: every combination of arrangements is laid out."""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from pathlib import Path

import pytest
from layout.measure import (
    SMALL,
    at_random,
    backwards,
    by_method,
    crossings_of,
    examples,
    fewest_inside,
    measured,
    needless,
)
from method_catalogue import Combination

from sheetgen.draw.layout import wiring_to_layout
from sheetgen.draw.layout.arrangements import find_arrangements
from sheetgen.draw.layout.assemble import assemble
from sheetgen.draw.layout.channels import set_levels
from sheetgen.draw.layout.order import put_in_order
from sheetgen.draw.layout.place import place
from sheetgen.draw.layout.scene import SheetPlace
from sheetgen.draw.layout.strips import in_strips, strips_of
from sheetgen.draw.layout.through import in_stretches
from sheetgen.draw.layout.wiring_to_scene import IndexedWiring, wiring_to_scene
from sheetgen.draw.paper import drawing_space
from sheetgen.pipeline import wiring_of
from sheetgen.read.style_from_yaml import load_style

STYLE = load_style()
MOST_BACKWARDS = 1  # without a cost for it they are 5
MOST = 5  # arrangements of each enclosure that are combined; the best by themselves
CIRCUITS = [
    Combination("at the rose", "one-way", 1, False), Combination("at the rose", "one-way", 1, True),
    Combination("at the rose", "conversion", 2, False), Combination("at the rose", "conversion", 2, True),
    Combination("at the switch", "conversion", 2, True),
]


def fewest(wiring) -> int:
    """The fewest crossings of the whole sheet over all combinations, in the order of the rows that is drawn."""
    width, _ = drawing_space(STYLE)
    wiring = in_stretches(wiring)
    places = {a.name: SheetPlace(1) for a in wiring.accessories}
    scene = wiring_to_scene(IndexedWiring(wiring), STYLE, places, SheetPlace(1), {}, width)
    scene = put_in_order(find_arrangements(in_strips(scene, strips_of(scene))))
    counts = []
    for chosen in product(*(scene.choices[key][:MOST] for key in scene.enclosures)):
        placed = place(replace(scene, inside=dict(zip(scene.enclosures, chosen, strict=True))))
        counts.append(sum(crossings_of(assemble((set_levels(placed),), wiring)).values()))
    return min(counts)


@pytest.mark.parametrize("circuit", CIRCUITS, ids=str)
def test_no_small_circuit_is_more_than_two_above_the_fewest(circuit):
    wiring = wiring_of(circuit.text())
    (sheet,) = wiring_to_layout(wiring, STYLE).sheets
    assert sum(crossings_of(sheet).values()) <= fewest(wiring) + 2


def test_no_small_example_is_more_than_two_above_what_its_enclosures_need():
    small = [wiring for _, wiring in examples() if len(wiring.accessories) <= SMALL]
    found = [(wiring, wiring_to_layout(wiring, STYLE).sheets) for wiring in small]
    above = [sum(crossings_of(sheets[0]).values()) - fewest_inside(wiring, STYLE)
             for wiring, sheets in found if len(sheets) == 1]
    assert len(above) >= 10
    assert max(above) <= 2


def test_what_leaves_an_enclosure_goes_forwards_and_never_bends_a_little():
    """Over the examples; some ends must leave backwards, for the order of an accessory's terminals is given."""
    found = [measured(wiring_to_layout(wiring, STYLE), STYLE) for _, wiring in examples()]
    assert sum(f.jogs for f in found) == 0
    assert sum(f.backwards for f in found) <= MOST_BACKWARDS


def test_a_mark_stands_where_its_single_crosses_no_trunk():
    """At the left of the last switch it would cross the trunk that comes from there."""
    wiring = wiring_of(Combination("at the rose", "two strappers", 6, True).text(2))
    wiring = replace(wiring, cables=tuple(
        replace(c, run_in="a conduit of its own") if c.name == "W6" else c for c in wiring.cables))
    sheet = wiring_to_layout(wiring, STYLE).sheets[-1]
    assert {m.number for m in sheet.marks} == {1, 2, 3}
    assert crossings_of(sheet)["outside"] == 0


def test_a_drop_too_cramped_to_be_moved_straight_has_its_mouths_slid():
    """Four roses fill the row, so none can move: the drop to the switch had a jog of 2.2 mm."""
    wiring = wiring_of(Combination("at the switch", "one-way", 1, True).text(4))
    assert measured(wiring_to_layout(wiring, STYLE), STYLE).jogs == 0


def test_an_enclosure_between_two_drops_is_moved_by_itself():
    """Three circuits fill their rows: only all to the right of a place was moved, and jogs of 1.9 mm stayed.

    Where both rows are as wide as the paper, and nothing can be moved, mouths are slid; one jog of 2.2 mm stayed.
    """
    assert sum(measured(wiring_to_layout(wiring, STYLE), STYLE).jogs for _, wiring in at_random()[2::3]) == 0


@pytest.mark.parametrize(("number", "most", "place"), [
    (33, 12, 9),  # a gutter 5.8 mm beside the mouth to which it leads
    (31, 12, 5), (38, 12, 9),  # no room for a move: mouths slide apart, so that the bend is one; a tag stands out
    (40, 12, 10),  # likewise, and meet
    (33, 12, 8),  # enclosures come nearer
    (11, 200, 99),  # an accessory was moved aside, for two drops would have lain on one another
])
def test_no_jog_is_left(number, most, place):
    """Each had one, of circuits drawn at random."""
    _, wiring = at_random(most, number)[place]
    assert measured(wiring_to_layout(wiring, STYLE), STYLE).jogs == 0


@pytest.mark.parametrize(("circuit", "lights"), [
    (Combination("at the switch", "in first, out last", 2, True), 1),
    (Combination("line at the switches", "conversion", 3, True), 2),
    (Combination("line at the switches", "conversion", 2, True), 3),
], ids=str)
def test_no_run_leaves_backwards_where_another_way_is_near(circuit, lights):
    """Weighed before the drops were straight, an end that straightening turned backwards stayed."""
    assert needless(wiring_of(circuit.text(lights)), STYLE)[1] == 0


def test_a_rose_is_turned_to_where_its_run_goes():
    """It costs no crossing, but the sweeps leave the other accessories where they stand."""
    wiring = wiring_of(Combination("at the switch", "two strappers", 4, True).text(3))
    assert backwards(wiring_to_layout(wiring, STYLE).sheets[-1]) == 0


def test_runs_between_accessories_hardly_ever_cross():
    """One circuit in ten of what methods lay, on as many sheets as each needs: marks and gutters are nested."""
    found = [measured(wiring_to_layout(wiring, STYLE), STYLE) for _, wiring in list(by_method())[::10]]
    assert sum(f.crossings["sheaths"] + f.crossings["outside"] for f in found) <= len(found) // 2


def test_a_conversion_in_conduit_has_as_few_crossings_as_trunks_allow():
    """Drawn core by core it had 23 crossings; the trunks leave those inside the rose."""
    wiring = wiring_of(Combination("at the rose", "conversion", 2, True).text())
    (sheet,) = wiring_to_layout(wiring, STYLE).sheets
    found = crossings_of(sheet)
    assert found["sheaths"] == found["outside"] == 0 and sum(found.values()) <= 3


def test_cables_whose_cores_end_in_nothing_come_in_by_the_order_of_their_other_ends():
    """Every order is as good within the rose: a, c, b, d was drawn, and b crossed c."""
    text = (Path(__file__).parents[2] / "examples" / "finding-out" / "opened-rose.yaml").read_text(encoding="utf-8")
    (sheet,) = wiring_to_layout(wiring_of(text), STYLE).sheets
    assert sum(crossings_of(sheet).values()) == 0


def test_no_core_crosses_for_want_of_a_few_millimetres_of_paper():
    """Five crossings in the first of four switches in conduit let the row fill the paper to its last millimetre."""
    wiring = wiring_of(Combination("at the rose", "two strappers", 4, True).text(1))
    (sheet,) = wiring_to_layout(wiring, STYLE).sheets
    assert sum(crossings_of(sheet).values()) <= 1
