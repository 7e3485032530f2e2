"""Singles that pass boxes uncut in their conduit: which, what is judged of them, and how they are drawn."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from checks.judged import findings
from circuits import Circuit, strappers
from layout.checker import SortedShapes, rect, within
from pages.as_text import as_text
from pages.jobs import example

from sheetgen.circuit.conduit import passed_by
from sheetgen.model.wiring import Wiring
from sheetgen.pages.job_to_pages import job_to_pages
from sheetgen.pipeline import Look, drawings_of, style_of

STYLE = style_of(Look())


def square(*lengths: int) -> Wiring:
    """Four boxes, and singles from each to the next; the last from the first box to the last."""
    c = Circuit()
    for name in "ABCD":
        c.put(name, "joint box", terminals=["L"])
    for ends in ("AB", "BC", "CD", "AD"):
        c.single(ends[0], "L", ends[1], "L")
    wiring = c.wiring()
    told = [Fraction(n) for n in lengths] or [None] * 4
    return replace(wiring, cables=tuple(replace(x, length=n) for x, n in zip(wiring.cables, told, strict=True)))


def workshop() -> Circuit:
    """Line to one switch, two strappers, lamp from the other; the neutral goes from the board to the lamp."""
    c = Circuit("legacy")
    strappers(c, c.way(), "Shop")
    return c


def only(circuit: Circuit) -> tuple[str, tuple[str, ...]]:
    (found,) = passed_by(circuit.wiring()).items()
    return found


def test_the_neutral_of_two_strappers_passes_both_switches():
    c = workshop()
    name, boxes = only(c)
    assert c.wiring().cable(name).cores[0].colour == "BK"
    assert c.wiring().cable(name).ends == ("way 1", "Shop")
    assert boxes == ("Shop 1", "Shop 2")


@pytest.mark.parametrize(("lengths", "passing"), [
    ((), {"W4": ("B", "C")}),  # not told: the last of four alike
    ((5, 5, 5, 15), {"W4": ("B", "C")}),
    ((5, 5, 5, 12), {"W4": ("B", "C")}),  # a measure of the floor, not of the conduit
    ((5, 5, 5, 5), {}),  # a ring of trunking: W4 is too short to go by B and C
    ((15, 5, 5, 5), {"W1": ("D", "C")}),
])
def test_of_a_ring_the_longest_is_drawn_through_the_others(lengths, passing):
    wiring = square(*lengths)
    assert passed_by(wiring) == passing
    assert passed_by(replace(wiring, cables=wiring.cables[::-1])) == passing


def test_another_conduit_leads_nowhere_and_neither_does_a_cable():
    wiring = square()
    first, *rest = wiring.cables
    assert passed_by(replace(wiring, cables=(replace(first, run_in="trunking"), *rest))) == {}
    assert passed_by(replace(wiring, cables=(replace(first, run_in=""), *rest))) == {}


def test_a_way_is_passed_by_nothing():
    c = Circuit()
    way = c.way().accessory
    for name in "AB":
        c.put(name, "joint box", terminals=["L"])
        c.single(way, "L", name, "L")
    c.single("A", "L", "B", "L")
    assert passed_by(c.wiring()) == {}


def wide(c: Circuit) -> list[str]:
    return [f.says for f in findings(c.wiring()) if f.rule == "wide_loop"]


def test_line_and_neutral_in_one_conduit_are_no_wide_loop_and_in_two_they_are():
    """BS 7671 521.8.1: the conductors of a circuit run together; each of the two ways below carries one alone."""
    c = workshop()
    assert wide(c) == []
    name, _ = only(c)
    c.cables = [replace(x, run_in="another conduit") if x.name == name else x for x in c.cables]
    (said,) = wide(c)
    assert name == "W2"
    assert said == ("Line and neutral of circuit 1 (Lights) run by separate routes: the current in "
                    "W1, W2, W4, W5 and W7 comes back another way.")


def test_it_is_drawn_through_the_box_with_its_name_and_meets_no_terminal():
    c = workshop()
    name, boxes = only(c)
    (drawing,) = drawings_of(c.wiring(), None, STYLE)
    shapes = SortedShapes(drawing, STYLE)
    frames = dict(shapes.enclosures)
    for box in boxes:
        lines = [line for line in shapes.conductors
                 if dict(line.about)["cable"] == name and within((*line.points[0], *line.points[0]), rect(frames[box]))]
        (line,) = lines
        for x, y in (line.points[0], line.points[-1]):
            assert any(within((x, y, x, y), rect(mouth)) for mouth in shapes.mouths)
        here = [t.text for t in shapes.texts if within((t.x, t.y, t.x, t.y), rect(frames[box]))]
        assert here.count(f"BK {name}") == 1
    ports = [dict(circle.about) for circle in shapes.circles if circle.role == "port"]
    assert [about["terminal"] for about in ports if about["core"] == f"{name}/1"] == ["way 1 N", "Shop N"]


def test_what_passes_is_said_where_it_passes():
    said = as_text(job_to_pages(example("two-strappers-conduit"), ("method", "connections", "cables")))
    assert said.count("| passes uncut | [BK] W5 BK | circuit 1 to Workshop | neutral") == 2
    assert "| Yard door | yes | strapper | passes uncut | yes | \N{EN DASH} |" in said
    assert "| W5 | circuit 1 | Workshop | 18 m | in conduit past Yard door and Store door, method B |" in said
