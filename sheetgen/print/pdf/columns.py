"""Groups of pieces in columns of equal width: filled in reading order, level at the foot, on to further sheets."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

from reportlab.pdfgen.canvas import Canvas

from sheetgen.print.pdf.pieces import MOST_WHOLE, TOLERANCE, Framed, Piece, draw_stack, fill, stack_height
from sheetgen.print.pdf.typesetting import GUTTER, mm

GROUP_GAP = 2.1 * mm
LEAST_PART = 14 * mm  # a group is not parted for less than this
SMALL = 33 * mm  # a group no higher than this is parted only where a sheet would not hold it else
MOST_BEFORE_TURN = 2  # groups that a whole one may stand before, in a column where they have no room
CLOSE = 2.0  # how level the columns come out, in points


class KeptTogether:
    """Pieces that stay together where that is possible. `again` is the heading above what goes on elsewhere."""

    def __init__(self, pieces: Sequence[Piece], again: Piece | None = None):
        self.pieces, self.again = tuple(pieces), again

    @cached_property
    def height(self) -> float:
        """With the spaces between the pieces."""
        return stack_height(self.pieces)

    def parted(self, room: float, forced: bool) -> tuple[KeptTogether | None, list[KeptTogether]]:
        """What fits the room, no warning apart from what it is about; and what goes on, if anything does."""
        placed, rest = fill(self.pieces, room, forced, with_heading=LEAST_PART)
        here = [piece for _, piece in placed]
        while rest and here and not forced and (here[-1].heading or isinstance(here[-1], Framed)):
            rest.insert(0, here.pop())
        if not here:
            return None, [self]
        further = [self.again, *rest] if self.again and rest else rest
        return KeptTogether(here), [KeptTogether(further, self.again)] if further else []


Filled = list[list[KeptTogether]]  # the groups of each column


class ColumnFlow(Piece):
    """The piece of `model.page.Columns`. A `loose` flow may part a group between two columns, one of `whole` groups
    parts none that a column holds."""

    def __init__(self, groups: Sequence[KeptTogether], count: int, column: float, loose: bool = False,
                 whole: bool = False):
        self.groups, self.count, self.column, self.loose, self.whole = tuple(groups), count, column, loose, whole

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
            tried, rest = self._pack(middle, part=self.loose, part_small=False)
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
        return filled, ColumnFlow(rest, self.count, self.column, self.loose, self.whole)

    def draw(self, canvas: Canvas, x: float, top: float) -> None:
        """Column by column."""
        FilledColumns(self.columns, self.column).draw(canvas, x, top)

    def _pack(self, limit: float, part: bool, forced: bool = False,
              part_small: bool = True) -> tuple[Filled, list[KeptTogether]]:
        """Fill columns of this height; the groups in each, and those left over.

        With `part` a group that is higher than a column, or any group of a loose flow, goes on in the next column.
        """
        columns: Filled = [[]]
        queue, used = list(self.groups), 0.0
        while queue:
            gap = GROUP_GAP if columns[-1] else 0.0
            room = limit - used - gap
            begun = bool(columns[-1])
            fits = self._next(queue, room, begun)
            if fits is not None:
                used += queue[fits].height + gap
                columns[-1].append(queue.pop(fits))
                continue
            if part and (part_small or queue[0].height > SMALL) and self._may_be_parted(queue[0], room, forced, begun):
                here, queue[:1] = queue[0].parted(room, forced and not begun)
                if here:
                    columns[-1].append(here)
                elif not begun:
                    break
            if len(columns) == self.count:
                break
            columns.append([])
            used = 0.0
        return [self._in_order(column) for column in columns], queue

    def _next(self, queue: Sequence[KeptTogether], room: float, begun: bool) -> int | None:
        """The next group, where it fits; of whole groups one of those after it, where it would not fit below others."""
        near = queue[: 1 + (MOST_BEFORE_TURN if self.whole and begun else 0)]
        return next((i for i, group in enumerate(near) if group.height <= room + TOLERANCE), None)

    def _in_order(self, column: list[KeptTogether]) -> list[KeptTogether]:
        """Whole groups as in the flow; what is left of one that was too high stands first."""
        if not self.whole:
            return column
        return sorted(column, key=lambda group: self.groups.index(group) if group in self.groups else -1)

    def _may_be_parted(self, group: KeptTogether, room: float, forced: bool, begun: bool) -> bool:
        """Whether a group that the room does not hold may begin in a column; `begun`: below others."""
        if self.loose:
            return not begun or room > LEAST_PART
        return not begun and (forced or not self.whole or group.height > MOST_WHOLE)


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
