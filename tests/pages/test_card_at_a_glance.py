"""The circuits on a card, by the widths of what is drawn: half a card is 131 mm, 6 mm lie between two miniatures."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import pytest
from pages.as_text import as_text
from pages.jobs import example

from sheetgen.model.drawing import Drawing
from sheetgen.model.geometry import MM
from sheetgen.model.job import Diagram, Job, LivePath
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.small_drawing import small_drawing


@lru_cache
def job_of(name: str) -> Job:
    """An example's job."""
    return example(name)


def glances(name: str, width: float, small: float, circuits: int = 9) -> list[str]:
    """The pages of a card, a line each block: diagrams and miniatures of those widths."""
    def drawing(wide: float, high: float) -> Drawing:
        return Drawing(round(wide * MM), round(high * MM), ())

    job = job_of(name)
    groups = [group for group in job.solution.groups if group.lamps][:circuits]
    diagrams = tuple(Diagram(g.switches, drawing(width, 30), tuple(
        LivePath(row.setting, "", drawing(small, 9)) for row in g.rows), g.lamps) for g in groups)
    solution = replace(job.solution, groups=tuple(groups))
    return as_text(small_drawing(Lookup(replace(job, diagrams=diagrams, solution=solution)))).splitlines()


HEAD = "==== card: The circuit at a glance [full, on_card]"


def test_a_diagram_as_wide_as_half_a_card_is_drawn_and_no_wider() -> None:
    """The lamp is first lit with Bottom at L1 and Top at L2; the next page is printed where this one has no room."""
    miniature = [HEAD, "[side by side]", "  +", "  ### Stairs lamp (with Bottom at L1, Top at L2)",
                 "  [picture 50 x 9 mm]"]
    assert glances("two-way-conversion", 131, 50) == [HEAD, "### Stairs lamp", "[picture 131 x 30 mm]", *miniature]
    assert glances("two-way-conversion", 131.25, 50) == miniature


@pytest.mark.parametrize(("small", "rows"), [
    # 3 x 39 + 2 x 6 are 129 mm, 3 x 40 + 12 are 132; 2 x 62 + 6 are 130, 2 x 63 + 6 are 132
    (39, [3, 3]), (40, [2, 2, 2]), (62, [2, 2, 2]), (63, [1] * 6), (131, [1] * 6), (132, [])])
def test_as_many_miniatures_stand_side_by_side_as_half_a_card_has_room_for(small: float, rows: list[int]) -> None:
    lines = glances("large-house", 200, small, 6)
    starts = [i for i, line in enumerate(lines) if line == "[side by side]"]
    ends = [*starts[1:], *([len(lines)] if starts else [])]
    assert [sum("### " in line for line in lines[a:b]) for a, b in zip(starts, ends, strict=True)] == rows


def test_more_than_six_circuits_are_not_drawn_on_a_card() -> None:
    assert glances("large-house", 100, 30, 6) and not glances("large-house", 100, 30, 7)
