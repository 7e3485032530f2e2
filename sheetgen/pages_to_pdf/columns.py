"""Groups of flowables in columns of equal width: filled in reading order, level at the foot, on to further sheets."""

from __future__ import annotations

from reportlab.platypus import Flowable

from sheetgen.pages_to_pdf.look import GUTTER

Group = list[Flowable]
GROUP_GAP = 3.6 * 72 / 25.4


def stack_height(flowables: list[Flowable], width: float) -> float:
    """Height of flowables set below one another, with the spaces they ask for between them."""
    height = after = 0.0
    for i, flowable in enumerate(flowables):
        between = max(after, flowable.getSpaceBefore()) if i else 0.0
        height += between + flowable.wrapOn(None, width, 1e6)[1]
        after = flowable.getSpaceAfter()
    return height


def draw_stack(flowables: list[Flowable], canvas, x: float, top: float, width: float) -> None:
    """Draw flowables below one another from the top."""
    after = 0.0
    for i, flowable in enumerate(flowables):
        top -= max(after, flowable.getSpaceBefore()) if i else 0.0
        top -= flowable.wrapOn(canvas, width, 1e6)[1]
        flowable.drawOn(canvas, x, top)
        after = flowable.getSpaceAfter()


def fill(heights: list[float], limit: float, count: int) -> list[list[int]] | None:
    """Groups by column when each column takes what fits under the limit; None where `count` columns are too few."""
    columns: list[list[int]] = [[]]
    used = 0.0
    for i, height in enumerate(heights):
        needed = height + (GROUP_GAP if columns[-1] else 0)
        if used + needed > limit + 0.01 and columns[-1]:
            columns.append([])
            used, needed = 0.0, height
        columns[-1].append(i)
        used += needed
    fits = len(columns) <= count and all(h <= limit + 0.01 for h in heights)
    return columns if fits else None


def level(heights: list[float], count: int) -> tuple[float, list[list[int]]]:
    """The least height at which all groups fit in the columns, and their columns."""
    limits = sorted({
        sum(heights[i:j]) + GROUP_GAP * (j - i - 1) for i in range(len(heights)) for j in range(i + 1, len(heights) + 1)
    })
    low, high = 0, len(limits) - 1
    while low < high:
        middle = (low + high) // 2
        if fill(heights, limits[middle], count):
            high = middle
        else:
            low = middle + 1
    return limits[low], fill(heights, limits[low], count) or []


class ColumnFlow(Flowable):
    """The flowable of `model.page.Columns`; `at_least` keeps what goes on over the sheet from starting below it."""

    def __init__(self, groups: list[Group], count: int, at_least: float = 0.0):
        super().__init__()
        self.groups, self.count, self.at_least = groups, count, at_least
        self._known: dict[float, list[float]] = {}

    def _column(self, width: float) -> float:
        return (width - GUTTER * (self.count - 1)) / self.count

    def _heights(self, width: float) -> list[float]:
        if width not in self._known:
            self._known[width] = [stack_height(group, self._column(width)) for group in self.groups]
        return self._known[width]

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        self._width = width
        height, self._columns = level(self._heights(width), self.count)
        self._height = max(height, self.at_least)
        return width, self._height

    def split(self, width: float, height: float) -> list[Flowable]:
        """What fills the columns to this height, and the rest; a group higher than a column is itself split."""
        heights = self._heights(width)
        taken = 0
        for end in range(len(heights), 0, -1):
            if fill(heights[:end], height, self.count):
                taken = end
                break
        head, rest = self.groups[:taken], self.groups[taken:]
        if not head:
            first, remainder = self._split_group(rest[0], width, height)
            if not first:
                return []
            head, rest = [first], [remainder, *rest[1:]]
        if not rest:
            return [ColumnFlow(head, self.count)]
        return [ColumnFlow(head, self.count, at_least=height), ColumnFlow(rest, self.count)]

    def _split_group(self, group: Group, width: float, height: float) -> tuple[Group, Group]:
        column = self._column(width)
        for i in range(len(group)):
            room = height - stack_height(group[:i], column) - (group[i].getSpaceBefore() if i else 0)
            if group[i].wrapOn(None, column, 1e6)[1] <= room:
                continue
            parts = group[i].splitOn(None, column, room) if room > 0 else []
            if len(parts) == 2:
                return [*group[:i], parts[0]], [parts[1], *group[i + 1:]]
            return group[:i] if i > 1 else [], group[i:] if i > 1 else group
        return group, []

    def draw(self) -> None:
        column = self._column(self._width)
        heights = self._heights(self._width)
        for number, members in enumerate(self._columns):
            top = self._height
            for i in members:
                draw_stack(self.groups[i], self.canv, number * (column + GUTTER), top, column)
                top -= heights[i] + GROUP_GAP
