"""The explained part of the operation page: the circuit diagram of a group, and each setting in ink and in words."""

from __future__ import annotations

from dataclasses import replace

from sheetgen.model.geometry import MM
from sheetgen.model.job import Diagram, LivePath
from sheetgen.model.page import Block, Heading, Picture, SideBySide, Table, Words
from sheetgen.model.solution import Group, LampState
from sheetgen.model.words import capital
from sheetgen.pages.lookup import Lookup

WIDTH, GUTTER = 277, 8  # of a sheet between its margins, and between what stands side by side; millimetres
BESIDE = 170  # a diagram no wider leaves room for a narrow table beside it
BESIDE_TABLE = 195  # and one no wider for the table alone
LOW = 38  # a diagram no higher leaves room below it for what is said after the table
FEW = 8  # rows of a table that may stand beside a diagram
MOST_ACROSS = 4  # live paths side by side
MOST_SAID = 4000  # letters of all settings of a group together
SMALL = 2  # settings of a group that is kept on one sheet
LEAST_WORDS = 45  # millimetres that words have at least where two share the width by their length
WORDS = 70  # millimetres that words need beside a miniature


def diagram_of(lookup: Lookup, group: Group) -> Diagram | None:
    """The diagram of a group, where the job has one."""
    own = (group.switches, group.lamps)
    return next((d for d in lookup.job.diagrams if (d.switches, d.lamps) == own), None)


def lit_path(diagram: Diagram, setting: tuple[str, ...]) -> list[Block]:
    """How the current flows in a setting, in words."""
    return [Words(path.says, "quiet") for path in diagram.paths if path.setting == setting and path.says]


def explained(
    lookup: Lookup, group: Group, diagram: Diagram, lead: list[Block], told: list[Block], narrow: bool
) -> list[Block]:
    """What is said of a group (`told`: a table and more), the diagram beside where both fit, and the live paths below.

    What is said after the table stands below a diagram that leaves room for it.
    """
    picture = Picture(diagram.drawing)
    width, table = diagram.drawing.width, told[0] if told else None
    blocks: list[Block]
    few = table is None or (isinstance(table, Table) and len(table.rows) <= FEW)
    share = (width / MM + GUTTER) / WIDTH
    if width <= BESIDE * MM and narrow and few:
        below = told[1:] if diagram.drawing.height <= LOW * MM else []
        above = told[:1] if below else told
        blocks = [SideBySide(((*lead, *above), (picture, *below)), (1 - share, share))]
    elif table and width <= BESIDE_TABLE * MM and narrow and few:
        blocks = [*lead, SideBySide((tuple(told), (picture,)), (1 - share, share))]
    else:
        blocks = [*lead, *told, picture]
    blocks += _live_paths(lookup, group, diagram)
    return [SideBySide((tuple(blocks),))] if len(diagram.paths) <= SMALL and narrow else blocks


def _live_paths(lookup: Lookup, group: Group, diagram: Diagram) -> list[Block]:
    """What each setting does, as many side by side as there is room for."""
    if not group.known:  # the same in every setting: that it cannot be told
        return [Words(says, "quiet") for says in dict.fromkeys(path.says for path in diagram.paths) if says]
    told = told_each(group, diagram)
    shown = diagram.paths if told else tuple(replace(path, says="") for path in diagram.paths)
    said = [] if told else _lit_first(lookup, group, diagram)
    if not any(path.says or path.drawing for path in shown):
        return said
    widest = max(path.drawing.width if path.drawing else 0 for path in shown)
    across = max(1, min(MOST_ACROSS, len(shown), WIDTH * MM // (widest + GUTTER * MM)))
    if told and len(shown) == across == SMALL and 2 * (widest / MM + GUTTER + LEAST_WORDS) <= WIDTH - GUTTER:
        return [_two(lookup, group, *shown)]
    beside = widest / MM + WORDS <= WIDTH / across
    cells = [_live_path(lookup, group, path, WIDTH / across if beside and told else 0) for path in shown]
    *rows, last = [cells[i: i + across] for i in range(0, len(cells), across)]
    pictures: list[Block] = [SideBySide(tuple(row)) for row in rows]
    if left := across - len(last):  # what is said stands beside the last ones
        return [*pictures, SideBySide((*last, tuple(said) or (Words(""),)), (*(1.0 for _ in last), float(left)))]
    return [*pictures, SideBySide(tuple(last)), *said]


def told_each(group: Group, diagram: Diagram) -> bool:
    """Whether every setting is told in words: where there are few, or a lamp does more than be on or off.

    Not where that would be so long that nobody would read it.
    """
    if sum(len(path.says) for path in diagram.paths) > MOST_SAID:
        return False
    sound = all(lamp.state in (LampState.ON, LampState.OFF) for row in group.rows for lamp in row.lamps)
    return len(group.rows) <= SMALL or not (sound and group.known) or any(row.shorts for row in group.rows)


def _lit_first(lookup: Lookup, group: Group, diagram: Diagram) -> list[Block]:
    """The first setting in which something is on, in words."""
    lit = {row.setting for row in group.rows if any(lamp.state is LampState.ON for lamp in row.lamps)}
    told = [path for path in diagram.paths if path.setting in lit and path.says][:1]
    return [Words(path.says, "quiet", f"{capital(lookup.setting(group, path.setting))}:") for path in told]


def _two(lookup: Lookup, group: Group, first: LivePath, second: LivePath) -> Block:
    """Two settings side by side, each miniature beside its words, the longer words with more of the width."""
    pictures = [path.drawing.width / MM + GUTTER if path.drawing else 0 for path in (first, second)]
    words = WIDTH - GUTTER - sum(pictures)
    part = len(first.says) / max(1, len(first.says) + len(second.says))
    part = min(max(part, LEAST_WORDS / words), 1 - LEAST_WORDS / words)
    widths = pictures[0] + words * part, pictures[1] + words * (1 - part)
    paths = _live_path(lookup, group, first, widths[0]), _live_path(lookup, group, second, widths[1])
    return SideBySide(paths, widths)


def _live_path(lookup: Lookup, group: Group, path: LivePath, beside: float) -> tuple[Block, ...]:
    """A setting: its name, the miniature, and the words below; or beside it in that width."""
    title = (Heading(capital(lookup.setting(group, path.setting)), 3),) if path.setting else ()
    if path.drawing is not None and not path.says:
        return (*title, Picture(path.drawing))
    if path.drawing is None:
        return (*title, Words(path.says, "quiet"))
    picture, words = Picture(path.drawing), Words(path.says, "quiet")
    if beside:
        share = (path.drawing.width / MM + GUTTER) / beside
        return (SideBySide(((picture,), (*title, words)), (share, 1 - share)),)
    return (*title, picture, words)
