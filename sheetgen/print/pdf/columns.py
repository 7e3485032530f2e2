"""Groups of pieces in columns of equal width: filled in reading order, level at the foot, on to further sheets."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

from reportlab.pdfgen.canvas import Canvas

from sheetgen.print.pdf.pieces import TOLERANCE, Piece, draw_stack, fill, stack_height
from sheetgen.print.pdf.typesetting import GUTTER, mm

GROUP_GAP = 2.1 * mm
LEAST_PART = 14 * mm  # a group is not parted for less than this
CLOSE = 2.0  # how level the columns come out, in points


class KeptTogether:
    """Pieces that stay together where that is possible."""

    def __init__(self, pieces: Sequence[Piece]):
        self.pieces = tuple(pieces)

    @cached_property
    def height(self) -> float:
        """With the spaces between the pieces."""
        return stack_height(self.pieces)


Filled = list[list[KeptTogether]]  # the groups of each column


class ColumnFlow(Piece):
    """The piece of `model.page.Columns`. A `loose` flow may part a group between two columns."""

    def __init__(self, groups: Sequence[KeptTogether], count: int, column: float, loose: bool = False):
        self.groups, self.count, self.column, self.loose = tuple(groups), count, column, loose

    @property
    def least(self) -> float:
        """Were all columns filled to the same height."""
        return self._total / self.count - GROUP_GAP

    @property
    def height(self) -> float:
        """Of the highest column."""
        return max(_used(column) for column in self.columns)

    @property
    def _total(self) -> float:
        return sum(group.height for group in self.groups) + GROUP_GAP * len(self.groups)

    @cached_property
    def columns(self) -> Filled:
        """The columns as level as they can be."""
        high = self._total
        low = high / self.count if self.loose else max(*(g.height for g in self.groups), high / self.count - GROUP_GAP)
        columns = self._pack(high, part=False)[0]
        while high - low > CLOSE:
            middle = (low + high) / 2
            tried, rest = self._pack(middle, part=self.loose)
            if rest:
                low = middle
            else:
                high, columns = middle, tried
        return columns

    def split(self, room: float, forced: bool) -> tuple[Piece, Piece | None] | None:
        """The columns filled to this height, and what goes on over the sheet."""
        columns, rest = self._pack(room, part=True, forced=forced)
        if not columns[0]:
            return None
        filled = FilledColumns(columns, self.column)
        filled.above = self.above
        if not rest:  # parted between its columns it fits
            return filled, None
        return filled, ColumnFlow(rest, self.count, self.column, self.loose)

    def draw(self, canvas: Canvas, x: float, top: float) -> None:
        """Column by column."""
        FilledColumns(self.columns, self.column).draw(canvas, x, top)

    def _pack(self, limit: float, part: bool, forced: bool = False) -> tuple[Filled, list[KeptTogether]]:
        """Fill columns of this height; the groups in each, and those left over.

        With `part` a group that is higher than a column, or any group of a loose flow, goes on in the next column.
        """
        columns: Filled = [[]]
        queue, used = list(self.groups), 0.0
        while queue:
            gap = GROUP_GAP if columns[-1] else 0.0
            if queue[0].height + gap <= limit - used + TOLERANCE:
                used += queue[0].height + gap
                columns[-1].append(queue.pop(0))
                continue
            room = limit - used - gap
            if part and (not columns[-1] or (self.loose and room > LEAST_PART)):
                placed, rest = fill(queue[0].pieces, room, forced and not columns[-1], with_heading=LEAST_PART)
                if placed:
                    columns[-1].append(KeptTogether([piece for _, piece in placed]))
                    queue[:1] = [KeptTogether(rest)] if rest else []
                elif not columns[-1]:
                    break
            if len(columns) == self.count:
                break
            columns.append([])
            used = 0.0
        return columns, queue


class FilledColumns(Piece):
    """Columns whose groups are settled."""

    def __init__(self, columns: Filled, column: float):
        self.columns, self.column = columns, column

    @property
    def height(self) -> float:
        """Of the highest column."""
        return max(_used(column) for column in self.columns)

    def draw(self, canvas: Canvas, x: float, top: float) -> None:
        """Column by column."""
        for number, groups in enumerate(self.columns):
            at = top
            for group in groups:
                draw_stack(group.pieces, canvas, x + number * (self.column + GUTTER), at)
                at -= group.height + GROUP_GAP


def _used(column: Sequence[KeptTogether]) -> float:
    return sum(group.height for group in column) + GROUP_GAP * max(0, len(column) - 1)
