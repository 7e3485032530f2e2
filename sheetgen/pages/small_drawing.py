"""The circuit small, for the card: its diagrams where they have room, else the miniature of a lit setting of each."""

from __future__ import annotations

from collections.abc import Iterable

from sheetgen.model.geometry import MM
from sheetgen.model.job import LivePath
from sheetgen.model.page import Block, Heading, Page, Picture, SideBySide, Words
from sheetgen.model.solution import LIT, Group
from sheetgen.model.words import capital, joined
from sheetgen.pages.live_paths import diagram_of
from sheetgen.pages.lookup import Lookup

WIDEST, BETWEEN = 131, 6  # millimetres: of a half card between its margins; between two miniatures
MOST = 6  # circuits drawn


def small_drawing(lookup: Lookup) -> tuple[Page, ...]:
    """Pages for the card alone, of which the first that has room is printed: every circuit with a lamp, or none."""
    groups = [group for group in lookup.job.solution.groups if group.lamps]
    if not 0 < len(groups) <= MOST:
        return ()
    ways = (_diagrams(lookup, groups), _miniatures(lookup, groups))
    return tuple(Page("card", "The circuit at a glance", tuple(blocks), on_card=True, card_only=True)
                 for blocks in ways if blocks)


def _diagrams(lookup: Lookup, groups: list[Group]) -> list[Block]:
    """Each at its own size below its name."""
    found: list[Block] = []
    for group in groups:
        diagram = diagram_of(lookup, group)
        if diagram is None or _lit(lookup, group) is None or diagram.drawing.width > WIDEST * MM:
            return []
        found += [Heading(_lamps(lookup, group.lamps), 3), Picture(diagram.drawing)]
    return found


def _miniatures(lookup: Lookup, groups: list[Group]) -> list[Block]:
    """With the path of the current, as many beside one another as there is room for."""
    cells: list[tuple[Block, ...]] = []
    widest = 1
    for group in groups:
        path = _lit(lookup, group)
        if path is None or path.drawing is None:
            return []
        widest = max(widest, path.drawing.width // MM)
        note = f"with {lookup.setting(group, path.setting)}" if group.switches else ""
        row = group.row(dict(zip(group.switches, path.setting, strict=True)))
        lit = [lamp for lamp, at in zip(group.lamps, row.lamps, strict=True) if at.state in LIT]
        name = Heading(_lamps(lookup, lit), 3, note)
        cells.append((name, Picture(path.drawing)))
    across = min(len(cells), (WIDEST + BETWEEN) // (widest + BETWEEN))
    if not across:
        return []
    blank: tuple[Block, ...] = (Words(""),)
    rows = [cells[i: i + across] for i in range(0, len(cells), across)]
    return [SideBySide((*row, *(blank for _ in range(across - len(row))))) for row in rows]


def _lit(lookup: Lookup, group: Group) -> LivePath | None:
    """The first setting in which every load is on, or else the first in which one is."""
    diagram = diagram_of(lookup, group)
    if diagram is None or not group.known:
        return None
    on = {row.setting: sum(lamp.state in LIT for lamp in row.lamps) for row in group.rows}
    drawn = [path for path in diagram.paths if path.drawing is not None and on.get(path.setting)]
    return max(drawn, key=lambda path: on[path.setting], default=None)


def _lamps(lookup: Lookup, lamps: Iterable[str]) -> str:
    return capital(joined(lookup.loads[lamp] for lamp in lamps))
