"""Groups of flowables in columns of equal width: filled in reading order, level at the foot, on to further sheets."""

from __future__ import annotations

from reportlab.lib.units import mm
from reportlab.platypus import Flowable

from sheetgen.print.pdf.look import GUTTER

Stack = list[Flowable]
GROUP_GAP = 2.6 * mm
LEAST_PART = 20 * mm  # a group is not parted for less than this
CLOSE = 2.0  # how level the columns come out, in points
ENDLESS = 1e6


def stack_height(flowables: Stack, width: float) -> float:
    """Height of flowables set below one another, with the spaces they ask for between them."""
    height = after = 0.0
    for i, flowable in enumerate(flowables):
        height += max(after, flowable.getSpaceBefore()) if i else 0.0
        height += flowable.wrapOn(None, width, ENDLESS)[1]
        after = flowable.getSpaceAfter()
    return height


def draw_stack(flowables: Stack, canvas, x: float, top: float, width: float) -> None:
    """Draw flowables below one another from the top."""
    after = 0.0
    for i, flowable in enumerate(flowables):
        top -= max(after, flowable.getSpaceBefore()) if i else 0.0
        top -= flowable.wrapOn(canvas, width, ENDLESS)[1]
        flowable.drawOn(canvas, x, top)
        after = flowable.getSpaceAfter()


def part_stack(flowables: Stack, width: float, height: float) -> tuple[Stack, Stack]:
    """What fits the height and the rest, parted inside the flowable at the edge; ([], all) where that cannot be."""
    for i, flowable in enumerate(flowables):
        room = height - stack_height(flowables[:i], width) - (flowable.getSpaceBefore() if i else 0)
        if flowable.wrapOn(None, width, ENDLESS)[1] <= room:
            continue
        parts = flowable.splitOn(None, width, room) if room > 0 else []
        if len(parts) == 2:
            return [*flowables[:i], parts[0]], [parts[1], *flowables[i + 1:]]
        headings_only = all(getattr(f, "heading", False) for f in flowables[:i])
        return ([], flowables) if headings_only else (flowables[:i], flowables[i:])
    return flowables, []


class ColumnFlow(Flowable):
    """The flowable of `model.page.Columns`. A `loose` flow may part a group between two columns."""

    def __init__(self, groups: list[Stack], count: int, loose: bool = False):
        super().__init__()
        self.groups, self.count, self.loose = groups, count, loose
        self._known: dict[tuple[int, float], tuple[float, Stack]] = {}  # the stack is kept so that its id stays its own

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """The least height at which everything fits in the columns."""
        self._column = (width - GUTTER * (self.count - 1)) / self.count
        heights = [self._height(group) for group in self.groups]
        high = sum(heights) + GROUP_GAP * len(heights)
        low = high / self.count if self.loose else max(max(heights), high / self.count - GROUP_GAP)
        self._columns, self.height = self._pack(high, part=False)[0], high
        while high - low > CLOSE:
            middle = (low + high) / 2
            columns, rest = self._pack(middle, part=self.loose)
            if rest:
                low = middle
            else:
                high, self._columns = middle, columns
        self.width, self.height = width, max(self._used(column) for column in self._columns)
        return self.width, self.height

    def split(self, width: float, height: float) -> Stack:
        """The columns filled to this height, and what goes on over the sheet; nothing where not a row fits."""
        self._column = (width - GUTTER * (self.count - 1)) / self.count
        columns, rest = self._pack(height, part=True)
        if not columns[0]:
            return []
        parts: Stack = [_Filled(columns, self._column, height)]
        return parts + ([ColumnFlow(rest, self.count, self.loose)] if rest else [])

    def draw(self) -> None:
        """Column by column."""
        _draw_columns(self._columns, self.canv, self._column, self.height)

    def _height(self, group: Stack) -> float:
        key = id(group), self._column
        if key not in self._known:
            self._known[key] = stack_height(group, self._column), group
        return self._known[key][0]

    def _used(self, column: list[Stack]) -> float:
        return sum(stack_height(group, self._column) for group in column) + GROUP_GAP * (len(column) - 1)

    def _pack(self, limit: float, part: bool) -> tuple[list[list[Stack]], list[Stack]]:
        """Fill columns of this height; the groups in each, and those left over.

        With `part` a group that is higher than a column, or any group of a loose flow, goes on in the next column.
        """
        columns: list[list[Stack]] = [[]]
        queue, used = list(self.groups), 0.0
        while queue:
            gap = GROUP_GAP if columns[-1] else 0.0
            needed = self._height(queue[0])
            if needed + gap <= limit - used + 0.01:
                columns[-1].append(queue.pop(0))
                used += needed + gap
                continue
            room = limit - used - gap
            if part and (not columns[-1] or (self.loose and room > LEAST_PART)):
                first, rest = part_stack(queue[0], self._column, room)
                if first:
                    columns[-1].append(first)
                    queue[0] = rest
                elif not columns[-1]:
                    break
            if len(columns) == self.count:
                break
            columns.append([])
            used = 0.0
        return columns, queue


class _Filled(Flowable):
    """Columns that fill what was left of a sheet, down to its foot."""

    def __init__(self, columns: list[list[Stack]], column: float, height: float):
        super().__init__()
        self.columns, self.column, self.height = columns, column, height

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """All that is left."""
        self.width = width
        return self.width, self.height

    def draw(self) -> None:
        """Column by column."""
        _draw_columns(self.columns, self.canv, self.column, self.height)


def _draw_columns(columns: list[list[Stack]], canvas, column: float, height: float) -> None:
    for number, groups in enumerate(columns):
        top = height
        for group in groups:
            draw_stack(group, canvas, number * (column + GUTTER), top, column)
            top -= stack_height(group, column) + GROUP_GAP
