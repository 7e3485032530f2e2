"""Tables: column widths from what the cells need, open rules, heads that repeat, blank boxes to write in."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from math import ceil
from typing import NamedTuple

from reportlab.pdfgen.canvas import Canvas

from sheetgen.model.page import Cell, Form, Swatch, Table, Words
from sheetgen.print.pdf.lettering import DOTS, TextRun, lines_of, width, words_of
from sheetgen.print.pdf.pictures import PlacedSwatch, swatch_fixed, swatch_least, swatch_width
from sheetgen.print.pdf.pieces import Paragraph, Piece
from sheetgen.print.pdf.typesetting import BOX_HEIGHT, CELL_X, CELL_Y, GAP, RuledLine, Typesetting, mm, use_rule

STRETCH = 1.3  # how much wider than its contents a table may be drawn to meet the right edge
MOST_STEPS = 8  # widths that are tried of a column that has to give way
RAGGED = 1.1  # text in lines takes so much more than on one line
BOX_NATURAL = 20 * mm  # a column of blank boxes asks for this much
FORM_BOX = 8 * mm  # height of a box of a form
LABEL_ABOVE, LABEL_BELOW = 1.0, 2.0  # white around the label of a box, points
MOST_IN_HEAD = 12  # lines in the head of a column
MOST_FOR_WORD = 30 * mm  # a longer word is broken before a table is parted for it
FEW_ROWS = 3  # a table of no more stays whole where it can: neither part of it would have two rows
NUMBER = "No."  # names the rows of a table that is parted between its columns
HEAVY = ("strong", "danger")  # tones set in bold


def _parts(cell: Cell, tone: str) -> tuple[str, str, str]:
    """Lead, text and tone of a cell of text."""
    if isinstance(cell, Words):
        return cell.lead, cell.text, tone if cell.tone == "plain" else cell.tone
    return "", str(cell), tone


def _needs(cell: Cell, tone: str, setting: Typesetting) -> tuple[float, float]:
    """Width of a cell on one line, and of its longest word."""
    if isinstance(cell, Swatch):
        return swatch_width(cell, setting), swatch_least(cell, setting)
    lead, text, tone = _parts(cell, tone)
    weight, size = "bold" if tone in HEAVY or lead else "regular", setting.lettering("cell").size
    return _text_needs(f"{lead} {text}", weight, size)


@lru_cache(maxsize=20000)
def _text_needs(text: str, weight: str, size: float) -> tuple[float, float]:
    words = words_of(text, weight)
    return width(" ".join(words), weight, size), max((width(w, weight, size) for w in words), default=0.0)


def column_widths(table: Table, needs: Sequence[ColumnNeeds], room: float) -> list[float]:
    """Widths in points: by shares where given, else what the contents need, the columns giving way so that the fewest
    lines come of it."""
    if table.shares:
        return by_shares(table.shares, [column.least for column in needs], room)
    return share_out([column.cells for column in needs], [column.least for column in needs], room,
                     [column.fixed for column in needs])


class ColumnNeeds(NamedTuple):
    """Of a column: the widths that its cells have on one line, that of the longest word in it, and what of a width is
    not for text."""

    cells: list[float]
    least: float
    fixed: float


def _column_needs(table: Table, setting: Typesetting) -> list[ColumnNeeds]:
    found = []
    around = 2 * CELL_X + 0.5
    for i, head in enumerate(table.head):
        needs = [_needs(row[i], tone, setting) for row, tone in zip(table.rows, tones_of(table), strict=True)]
        needs.append(_text_needs(head, setting.lettering("head").weight, setting.lettering("head").size))
        box = BOX_NATURAL if i in table.boxes else 0.0
        cells = [max(box, n) + around for n, _ in needs]
        fixed = around + max((swatch_fixed() for row in table.rows if isinstance(row[i], Swatch)), default=0.0)
        found.append(ColumnNeeds(cells, max(box / 2, *(m for _, m in needs)) + around, fixed))
    return found


def by_shares(shares: tuple[float, ...], least: list[float], room: float) -> list[float]:
    """Widths in proportion to the shares; a column whose longest word needs more has it, the others giving way."""
    if sum(least) >= room:
        return _level_down(least, room)
    narrow: dict[int, float] = {}
    while True:
        left, total = room - sum(narrow.values()), sum(s for i, s in enumerate(shares) if i not in narrow)
        widths = [narrow.get(i, left * share / total if total else 0.0) for i, share in enumerate(shares)]
        more = {i: least[i] for i, width in enumerate(widths) if i not in narrow and width < least[i] - 1e-6}
        if not more:
            return widths
        narrow |= more


def share_out(cells: list[list[float]], least: list[float], room: float, fixed: Sequence[float] = ()) -> list[float]:
    """Widths between the least and the natural ones, or a little over, that fill the room as far as is sensible.

    `cells`: of every column, the widths of its cells on one line; `fixed`: what of each is not for text. Where they do
    not all fit, the column gives way next that loses the fewest lines for the room it gives.
    """
    widths = [max(column) for column in cells]
    total = sum(widths)
    if total <= room:
        spare = min(room, total * STRETCH) - total
        return [n + spare * n / total for n in widths]
    if sum(least) >= room:
        return _level_down(least, room)
    bare = fixed or (0.0,) * len(cells)
    steps = [_steps(column, low, taken) for column, low, taken in zip(cells, least, bare, strict=True)]
    lines = [steps[i][width] for i, width in enumerate(widths)]
    over = total - room
    while over > 1e-6:
        _, i, step = min((_price(steps, lines, i, step) / (now - step), i, step)
                         for i, now in enumerate(widths) for step in steps[i] if step < now)
        lines[i] = steps[i][step]
        width = max(step, widths[i] - over)
        over -= widths[i] - width
        widths[i] = width
    return widths


def _steps(column: Sequence[float], least: float, fixed: float) -> dict[float, list[int]]:
    """Widths that a column may come down to, with the lines that each of its cells then takes."""
    widest = max(column)
    parted = (fixed + (widest - fixed) * RAGGED / number for number in (2, 3))  # in lines of one length
    below = sorted((w for w in {*column, *parted} if least < w <= widest), reverse=True)[:MOST_STEPS]
    return {width: [1 if cell <= width else ceil((cell - fixed) * RAGGED / max(width - fixed, mm)) for cell in column]
            for width in (*below, least)}


def _price(steps: Sequence[dict[float, list[int]]], lines: list[list[int]], column: int, step: float) -> int:
    """How many lines more the rows take with one column at a step."""
    after = [*lines[:column], steps[column][step], *lines[column + 1:]]
    return _lines_of_rows(after) - _lines_of_rows(lines)


def _lines_of_rows(columns: Sequence[Sequence[int]]) -> int:
    return sum(max(row) for row in zip(*columns, strict=True))


def _level_down(widths: list[float], room: float) -> list[float]:
    """The widest cut back to one width, so that all fit; words too long for their column are broken."""
    left, fair = room, room
    for i, least in enumerate(sorted(widths)):
        fair = left / (len(widths) - i)
        if least > fair:
            break
        left -= least
    return [min(least, fair) for least in widths]


def tones_of(table: Table) -> tuple[str, ...]:
    """The tone of every row."""
    return table.tones or ("",) * len(table.rows)


class PlacedRow:
    """A row of a table: its cells, and whether it goes on with what the row above names."""

    def __init__(self, cells: Sequence[Paragraph], continues: bool, padding: float):
        self.cells, self.continues, self.padding = tuple(cells), continues, padding
        self.height = max((cell.height for cell in self.cells), default=0.0) + 2 * padding

    def split(self, room: float) -> tuple[PlacedRow, PlacedRow]:
        """A row that no sheet could hold: as many lines of each cell as fit, and the others."""
        parts = [cell.split(room - 2 * self.padding, True) or (cell, cell.emptied()) for cell in self.cells]
        return (PlacedRow([first for first, _ in parts], self.continues, self.padding),
                PlacedRow([rest for _, rest in parts], True, self.padding))

    def named(self, above: Sequence[PlacedRow], joined: int) -> PlacedRow:
        """The row with what it goes on with, in the joined columns."""
        cells = list(self.cells)
        for column in range(joined):
            if cells[column].blank:
                cells[column] = next((r.cells[column] for r in reversed(above) if not r.cells[column].blank),
                                     cells[column])
        return PlacedRow(cells, False, self.padding)


class PlacedTable(Piece):
    """A table; where it goes on over the sheet its head repeats."""

    below = GAP

    def __init__(self, widths: Sequence[float], head: PlacedRow | None, rows: Sequence[PlacedRow], setting: Typesetting,
                 joined: int = 0, boxes: tuple[int, ...] = ()):
        self.widths, self.head, self.rows, self.setting = tuple(widths), head, tuple(rows), setting
        self.joined, self.boxes = joined, boxes
        self._height = sum(row.height for row in self.rows) + (head.height if head else 0.0)

    @property
    def height(self) -> float:
        """Of head and rows."""
        return self._height

    def split(self, room: float, forced: bool) -> tuple[PlacedTable, PlacedTable] | None:
        """Neither part of a single row, where that can be; the second begins by naming what it goes on with."""
        left, count = room - (self.head.height if self.head else 0.0), 0
        while count < len(self.rows) and self.rows[count].height <= left:
            left -= self.rows[count].height
            count += 1
        if len(self.rows) - count == 1 and count > 2:
            count -= 1
        if not forced and (count == 1 or len(self.rows) <= FEW_ROWS):
            return None
        if count == 0:
            return self._parted_in_row(left) if forced else None
        if count == len(self.rows):
            return None
        above, rest = self.rows[:count], self.rows[count:]
        return self._part(above), self._part((rest[0].named(above, self.joined), *rest[1:]))

    def _parted_in_row(self, room: float) -> tuple[PlacedTable, PlacedTable]:
        first, rest = self.rows[0].split(room)
        return self._part((first,)), self._part((rest.named((first,), self.joined), *self.rows[1:]))

    def _part(self, rows: Sequence[PlacedRow]) -> PlacedTable:
        return PlacedTable(self.widths, self.head, rows, self.setting, self.joined, self.boxes)

    def draw(self, canvas: Canvas, x: float, top: float) -> None:
        """Text, then rules, then boxes."""
        lefts = [x]
        for wide in self.widths:
            lefts.append(lefts[-1] + wide)
        thin, strong = self.setting.rule("thin rule"), self.setting.rule("strong rule")
        y, rules = top, []
        if self.head is not None:
            tallest = max(cell.height for cell in self.head.cells)
            for cell, left in zip(self.head.cells, lefts, strict=False):
                cell.draw(canvas, left + CELL_X, y - self.head.padding - (tallest - cell.height))
            y -= self.head.height
        edge = thin if self.head is None else strong
        heights = [y]
        for number, row in enumerate(self.rows):
            if number:
                rules.append((lefts[self.joined if row.continues else 0], y))
            for cell, left in zip(row.cells, lefts, strict=False):
                cell.draw(canvas, left + CELL_X, y - row.padding)
            y -= row.height
            heights.append(y)
        _level(canvas, thin, rules, lefts[-1])
        _level(canvas, edge, [(x, heights[0]), (x, y)] if self.rows else [(x, y)], lefts[-1])
        if self.boxes and self.rows:
            use_rule(canvas, self.setting.rule("box"))
            for column in self.boxes:
                canvas.grid([lefts[column], lefts[column + 1]], heights)


def _level(canvas: Canvas, rule: RuledLine, starts: Sequence[tuple[float, float]], right: float) -> None:
    if starts:
        use_rule(canvas, rule)
        canvas.lines([(x, y, right, y) for x, y in starts])


def _set(cell: Cell, tone: str, room: float, setting: Typesetting) -> Paragraph:
    if isinstance(cell, Swatch):
        return PlacedSwatch(cell, setting, room)
    lead, text, own = _parts(cell, tone)
    role = "cell quiet" if own == "quiet" else "cell"
    runs = [setting.run(text, role, "bold" if own in HEAVY else "regular")]
    return _paragraph([setting.run(lead, role, "bold"), *runs] if lead else runs, room, setting.leading("cell"))


def _paragraph(runs: Sequence[TextRun], room: float, leading: float, most: int = 0) -> Paragraph:
    """Lines of text; what is longer than `most` lines ends in dots."""
    lines = lines_of(runs, room)
    if most and len(lines) > most:
        last = lines[most - 1][-1]
        lines = (*lines[: most - 1], (*lines[most - 1][:-1], last._replace(text=last.text[:-1] + DOTS)))
    return Paragraph(lines, runs[0].size, leading)


def _continues(table: Table, row: tuple[Cell, ...]) -> bool:
    """Whether a row goes on with what the row above names in the joined columns."""
    return table.joined > 0 and not any(row[: table.joined])


def set_tables(table: Table, setting: Typesetting, room: float) -> list[Piece]:
    """A table; one of more columns than the room has, in parts below one another whose rows are numbered alike."""
    needs = _column_needs(table, setting)
    least = [min(column.least, MOST_FOR_WORD) for column in needs]
    if sum(least) <= room or len(least) < 3:
        return [_set_table(table, needs, setting, room)]
    number = _text_needs(str(len(table.rows)) + NUMBER, "bold", setting.lettering("head").size)[0] + 2 * CELL_X
    parts: list[list[int]] = [[]]
    for column, low in enumerate(least):
        if parts[-1] and number + sum(least[i] for i in parts[-1]) + low > room:
            parts.append([])
        parts[-1].append(column)
    return [set_table(_some_columns(table, columns), setting, room) for columns in parts]


def _some_columns(table: Table, columns: Sequence[int]) -> Table:
    """A part of a table with the numbers of its rows before it."""
    rows = tuple((str(n), *(row[i] for i in columns)) for n, row in enumerate(table.rows, 1))
    boxes = tuple(columns.index(i) + 1 for i in table.boxes if i in columns)
    return Table((NUMBER, *(table.head[i] for i in columns)), rows, tones=table.tones, boxes=boxes, plain=table.plain)


def set_table(table: Table, setting: Typesetting, room: float) -> PlacedTable:
    """A table of the given width or less."""
    return _set_table(table, _column_needs(table, setting), setting, room)


def _set_table(table: Table, needs: Sequence[ColumnNeeds], setting: Typesetting, room: float) -> PlacedTable:
    widths = column_widths(table, needs, room)
    inner = [max(w - 2 * CELL_X, mm) for w in widths]
    padding = (BOX_HEIGHT * table.tall - setting.leading("cell")) / 2 if table.boxes else CELL_Y
    heads = [_paragraph([setting.run(text, "head")], w, setting.leading("head"), MOST_IN_HEAD)
             for text, w in zip(table.head, inner, strict=True)]
    rows = [
        PlacedRow([_set(cell, tone, w, setting) for cell, w in zip(row, inner, strict=True)],
                  _continues(table, row), padding)
        for row, tone in zip(table.rows, tones_of(table), strict=True)
    ]
    return PlacedTable(widths, None if table.plain else PlacedRow(heads, False, CELL_Y), rows, setting,
                       table.joined, table.boxes)


class PlacedForm(Piece):
    """Labels above blank boxes, in one line."""

    below = GAP

    def __init__(self, labels: Sequence[Paragraph], widths: Sequence[float], rule: RuledLine):
        self.labels, self.widths, self.rule = tuple(labels), tuple(widths), rule
        self.head = max((label.height for label in self.labels), default=0.0) + LABEL_ABOVE + LABEL_BELOW

    @property
    def height(self) -> float:
        """Of labels and boxes."""
        return self.head + FORM_BOX

    def draw(self, canvas: Canvas, x: float, top: float) -> None:
        """The labels stand on their boxes."""
        edges = [x]
        for label, wide in zip(self.labels, self.widths, strict=True):
            label.draw(canvas, edges[-1] + LABEL_ABOVE, top - self.head + LABEL_BELOW + label.height)
            edges.append(edges[-1] + wide)
        use_rule(canvas, self.rule)
        canvas.grid(edges, [top - self.head, top - self.height])


def set_form(form: Form, setting: Typesetting, room: float) -> PlacedForm:
    """The labels and boxes of a form."""
    shares = form.shares or (1.0,) * len(form.labels)
    widths = [room * s / sum(shares) for s in shares]
    labels = [_paragraph([setting.run(label, "head")], max(w - 2 * LABEL_ABOVE, mm), setting.leading("head"),
                         MOST_IN_HEAD)
              for label, w in zip(form.labels, widths, strict=True)]
    return PlacedForm(labels, widths, setting.rule("box"))
