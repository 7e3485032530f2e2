"""What of an operation page stands side by side, by the widths of what is drawn: reckoned on a sheet of 277 mm.

8 mm lie between what stands side by side. A table may stand beside a diagram of 170 mm with its introduction, of 195 mm
without. Words beside a miniature need 70 mm; where two settings share the width by their words, 45 mm.
"""

from __future__ import annotations

from functools import lru_cache

import pytest
from pages.as_text import as_text
from pages.jobs import example

from sheetgen.model.drawing import Drawing
from sheetgen.model.geometry import MM
from sheetgen.model.job import Diagram, LivePath
from sheetgen.model.page import Page, Table, Words
from sheetgen.pages.live_paths import explained
from sheetgen.pages.lookup import Lookup

TWO, FOUR = "one-way-loop-in", "two-way-conversion"  # settings


@lru_cache
def lookup_of(name: str) -> Lookup:
    """The job of an example to look things up in."""
    return Lookup(example(name))


def laid(name: str, width: float, height: float = 30, small: float = 100, rows: int = 2, narrow: bool = True,
         says: tuple[str, ...] = ("It is so.",), settings: int = 9) -> list[str]:
    """The blocks of a diagram of that size, a line each; miniatures of width `small`, words of each in turn."""
    def drawing(wide: float, high: float) -> Drawing:
        return Drawing(round(wide * MM), round(high * MM), ())

    lookup = lookup_of(name)
    group = lookup.job.solution.groups[0]
    paths = tuple(LivePath(row.setting, says[i % len(says)], drawing(small, 9) if small else None)
                  for i, row in enumerate(group.rows[:settings]))
    told = [Table(("a",), (("b",),) * rows), Words("after")]
    blocks = explained(lookup, group, Diagram(group.switches, drawing(width, height), paths, group.lamps),
                       [Words("lead")], told, narrow)
    return [line.strip() for line in as_text([Page("x", "y", tuple(blocks))]).splitlines()[1:]]


def outlined(lines: list[str]) -> str:
    """The same in a line, as far as the diagram and what is told."""
    end = next(i for i, line in enumerate(lines) if line.endswith(("30 mm]", "38 mm]", "39 mm]")))
    more = lines[end + 1:end + 2] == ["after"]
    return " ".join(lines[:end + 1 + more])


@pytest.mark.parametrize(("width", "more", "starts"), [
    # (170 + 8) / 277 is 0.643; a diagram no higher than 38 mm leaves room below for what is said after the table
    (170, {}, "[side by side] (0.357, 0.643) + lead || a || | b | b + [picture 170 x 30 mm] after"),
    (170, {"height": 38}, "[side by side] (0.357, 0.643) + lead || a || | b | b + [picture 170 x 38 mm] after"),
    (170, {"height": 39}, "[side by side] (0.357, 0.643) + lead || a || | b | b after + [picture 170 x 39 mm]"),
    # (180 + 8) / 277 is 0.679, (195 + 8) / 277 0.733
    (180, {}, "lead [side by side] (0.321, 0.679) + || a || | b | b after + [picture 180 x 30 mm]"),
    (195, {}, "lead [side by side] (0.267, 0.733) + || a || | b | b after + [picture 195 x 30 mm]"),
    (196, {}, "lead || a || | b | b after [picture 196 x 30 mm]"),
    (170, {"narrow": False}, "lead || a || | b | b after [picture 170 x 30 mm]"),
    (180, {"narrow": False}, "lead || a || | b | b after [picture 180 x 30 mm]"),
    (170, {"rows": 8}, f"[side by side] (0.357, 0.643) + lead || a ||{' | b' * 8} + [picture 170 x 30 mm] after"),
    (170, {"rows": 9}, f"lead || a ||{' | b' * 9} after [picture 170 x 30 mm]"),
    (180, {"rows": 9}, f"lead || a ||{' | b' * 9} after [picture 180 x 30 mm]"),
])
def test_what_is_told_stands_beside_a_diagram_that_leaves_room(width: float, more: dict, starts: str) -> None:
    assert outlined(laid(FOUR, width, **more)) == starts


def test_a_group_of_two_settings_is_kept_together_where_its_table_is_narrow() -> None:
    kept, loose = laid(TWO, 170), laid(TWO, 170, narrow=False)
    assert kept[:3] == ["[side by side]", "+", "[side by side] (0.357, 0.643)"] and loose[0] == "lead"
    assert laid(FOUR, 170)[0] == "[side by side] (0.357, 0.643)"


@pytest.mark.parametrize(("small", "rows"), [
    # 4 x (61.25 + 8) mm are 277 mm, 3 x (84.25 + 8) and 2 x (130.5 + 8) too
    (61.25, [4]), (61.5, [3, 1]), (84.25, [3, 1]), (84.5, [2, 2]), (130.5, [2, 2]), (130.75, [1, 1, 1, 1])])
def test_as_many_settings_stand_side_by_side_as_there_is_room_for(small: float, rows: list[int]) -> None:
    lines = laid(FOUR, 270, small=small)
    lines = lines[lines.index("[picture 270 x 30 mm]") + 1:]
    starts = [i for i, line in enumerate(lines) if line.startswith("[side by side]")]
    ends = [*starts[1:], len(lines)]
    assert [sum("### " in line for line in lines[a:b]) for a, b in zip(starts, ends, strict=True)] == rows


def test_words_stand_where_settings_leave_room() -> None:
    """Of four settings, three side by side, the words take what two leave; of two and two they stand below."""
    beside, below = laid(FOUR, 270, small=62), laid(FOUR, 270, small=100)
    said, last = "<quiet> **Bottom at L1, Top at L2:** It is so.", "### Bottom at L2, Top at L1"
    assert beside[-6:] == ["[side by side] (1, 2)", "+", last, "[picture 62 x 9 mm]", "+", said]
    assert below[-2:] == ["[picture 100 x 9 mm]", said]


@pytest.mark.parametrize(("small", "says", "shares"), [
    # each miniature with its 8 mm, and half of the other 269 - 2 x 58 = 153 mm: 134.5 and 134.5
    (50, ("It is so.",), "[side by side] (134, 134)"),
    # words of 30 and 10 letters: 58 + 114.75 and 58 + 38.25, but 45 mm at least: 58 + 108 and 58 + 45
    (50, ("x" * 30, "y" * 10), "[side by side] (166, 103)"),
    (50, ("x" * 10, "y" * 30), "[side by side] (103, 166)"),
    # 2 x (81.5 + 8 + 45) are 269 mm
    (81.5, ("It is so.",), "[side by side] (134, 134)"), (81.75, ("It is so.",), "[side by side]"),
])
def test_two_settings_share_the_width_by_their_words(small: float, says: tuple[str, ...], shares: str) -> None:
    lines = laid(TWO, 270, small=small, says=says, narrow=False)
    assert lines[lines.index("[picture 270 x 30 mm]") + 1] == shares


@pytest.mark.parametrize("small", [82, 0])
def test_without_room_the_words_stand_below_their_miniature(small: float) -> None:
    """Two across have 138.5 mm each: 68.5 + 70."""
    lines = laid(TWO, 270, small=small, narrow=False)
    words = lines.index("<quiet> It is so.")
    assert lines[words - 1] == (f"[picture {small} x 9 mm]" if small else "### Door off")


@pytest.mark.parametrize(("small", "shares"), [(207, "[side by side] (0.776, 0.224)"), (207.25, "### Door off")])
def test_one_setting_alone_has_its_words_beside_it_where_they_have_70_mm(small: float, shares: str) -> None:
    """207 + 70 is 277; (207 + 8) / 277 is 0.776."""
    lines = laid(TWO, 270, small=small, settings=1, narrow=False)
    assert lines[lines.index("[picture 270 x 30 mm]") + 3] == shares
