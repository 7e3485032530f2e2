"""Cables cross no more often than as a layered engine draws them, where one is at hand; and the counting is right."""

from __future__ import annotations

import shutil

import pytest
from layout.against_layered import compared, crossed, curves_of
from layout.measure import by_method, examples

from sheetgen.read.style_from_yaml import load_style

STYLE = load_style()
with_dot = pytest.mark.skipif(not shutil.which("dot"), reason="no dot of Graphviz here")


def test_lines_that_cross_are_counted_and_lines_that_touch_are_not():
    level, upright, foot = [(0.0, 1.0), (4.0, 1.0)], [(2.0, 0.0), (2.0, 3.0)], [(3.0, 1.0), (3.0, 3.0)]
    assert crossed([level, upright, foot]) == 1


@with_dot
def test_crossings_are_found_where_no_drawing_can_do_without():
    """Three houses and three wells: at least one crossing in the plane; a ring of the same six has none."""
    wells = [f"n{a} -- n{b}" for a in (0, 1, 2) for b in (3, 4, 5)]
    ring = [f"n{i} -- n{(i + 1) % 6}" for i in range(6)]
    assert crossed(curves_of(wells)) >= 1
    assert crossed(curves_of(ring)) == 0


@with_dot
def test_cables_cross_no_more_often_than_a_layered_engine_has_them_cross():
    """In no circuit, with the cables in the same order along the edges of every accessory; and by far not in all."""
    circuits = (*examples(), *list(by_method())[::20])
    found = [done for name, wiring in circuits if (done := compared(name, wiring, STYLE))]
    assert any(c.several for c in found) and any(c.singles for c in found)
    assert [c.name for c in found if c.ours > c.kept] == []
    assert sum(c.ours for c in found) * 2 < sum(c.kept for c in found)
