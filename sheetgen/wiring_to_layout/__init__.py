"""Lays a wiring out on sheets of paper: the passes, in the order in which they run."""

from __future__ import annotations

from sheetgen.model.layout import Layout
from sheetgen.model.style import Style
from sheetgen.model.wiring import Wiring
from sheetgen.wiring_to_layout.assemble import assemble
from sheetgen.wiring_to_layout.choose import choose
from sheetgen.wiring_to_layout.enter import enter
from sheetgen.wiring_to_layout.gather import gather
from sheetgen.wiring_to_layout.lanes import lanes
from sheetgen.wiring_to_layout.order import put_in_order
from sheetgen.wiring_to_layout.scene import Scene

PASSES = (enter, put_in_order, choose, lanes)


def wiring_to_layout(wiring: Wiring, style: Style, width: int, height: int) -> Layout:
    """The layout of a wiring on sheets that leave the drawing a space of width x height (hundredths of a mm)."""
    scene = gather(wiring, style, {a.name: 1 for a in wiring.accessories}, 1, {}, width)
    for run_pass in PASSES:
        scene = run_pass(scene)
    return Layout((assemble(scene, wiring),))


__all__ = ["PASSES", "Scene", "wiring_to_layout"]
