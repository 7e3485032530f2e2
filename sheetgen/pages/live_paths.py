"""The explained part of the operation page: the circuit diagram of a group, and each setting in ink and in words."""

from __future__ import annotations

from sheetgen.geometry import MM
from sheetgen.model.job import Diagram, LivePath
from sheetgen.model.page import Block, Heading, Picture, Row, Table, Words
from sheetgen.model.solution import Group
from sheetgen.pages.lookup import Lookup
from sheetgen.words import capital

WIDTH, HALF, GUTTER = 277, 133, 6  # of a sheet, of a column, between what stands side by side; millimetres
BESIDE = 170  # a diagram no wider leaves room for a narrow table beside it
FEW = 8  # rows of a table that may stand beside a diagram
MOST_ACROSS = 4  # live paths side by side


def diagram_of(look: Lookup, group: Group) -> Diagram | None:
    """The diagram of a group, where the job has one."""
    own = (group.switches, group.lamps)
    return next((d for d in look.job.diagrams if (d.switches, d.lamps) == own), None)


def needs_width(diagram: Diagram | None) -> bool:
    """Whether a diagram is too wide for half a sheet."""
    return diagram is not None and diagram.drawing.width > HALF * MM


def explained(look: Lookup, group: Group, diagram: Diagram, table: Table, narrow: bool) -> list[Block]:
    """The table and the diagram, side by side where both fit, and the live paths below."""
    picture = Picture(diagram.drawing)
    side_by_side = needs_width(diagram) and diagram.drawing.width <= BESIDE * MM and narrow and len(table.rows) <= FEW
    if side_by_side:
        share = diagram.drawing.width / (WIDTH * MM)
        return [Row(((table,), (picture,)), (1 - share, share)), *_live_paths(look, group, diagram, WIDTH)]
    return [table, picture, *_live_paths(look, group, diagram, WIDTH if needs_width(diagram) or not narrow else HALF)]


def _live_paths(look: Lookup, group: Group, diagram: Diagram, width: int) -> list[Block]:
    """What each setting does, as many side by side as there is room for."""
    if not any(path.says or path.drawing for path in diagram.paths):
        return []
    widest = max(path.drawing.width if path.drawing else 0 for path in diagram.paths)
    across = max(1, min(MOST_ACROSS, len(diagram.paths), width * MM // (widest + GUTTER * MM)))
    cells = [_live_path(look, group, path) for path in diagram.paths]
    rows = [cells[i: i + across] for i in range(0, len(cells), across)]
    blank: tuple[Block, ...] = (Words(""),)
    return [Row((*row, *(blank for _ in range(across - len(row))))) for row in rows]


def _live_path(look: Lookup, group: Group, path: LivePath) -> tuple[Block, ...]:
    title = (Heading(capital(look.setting(group, path.setting)), 3),) if path.setting else ()
    picture = (Picture(path.drawing),) if path.drawing else ()
    return (*title, *picture, Words(path.says))
