"""Parts a circuit that is too large for its paper: which accessories stand on which sheet.

Accessories are walked in the order of the wiring, switches right after what they hang on; the walk is cut into
stretches that fit, as few as can be, cut at few cables and best at loop cables between ceiling accessories, and filled
evenly.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate

from sheetgen.draw.layout.pendants import pendant_height
from sheetgen.draw.layout.scene import CEILING, WALL, Enclosure, Scene
from sheetgen.model.accessory import Accessory
from sheetgen.model.layout import Sheet
from sheetgen.model.problems import Problem, Refused

LOOP_CUT, OTHER_CUT = 1.0, 3.0  # what it costs to cut a loop cable at the ceiling, and any other run
UNEVEN = 4.0
MARK = 1700  # what a continuation mark takes of a row, with the room beside it
NEVER = float("inf")


class DoesNotFit(Refused):
    """An accessory that is larger than the paper, alone on a sheet."""

    def __init__(self, accessory: Accessory, paper: str):
        self.accessory = accessory.name
        message = f"'{accessory.name}' with all its conductors does not fit on {paper.upper()} at full size."
        hint = "Ask for the larger paper: --paper a3." if paper != "a3" else ""
        super().__init__([Problem(accessory.at, "E501", message, hint)])


@dataclass(frozen=True)
class _Walk:
    """The enclosures in the order of the walk, and the runs between them by place in it."""

    keys: tuple[str, ...]
    runs: tuple[tuple[int, int, float, str, str], ...]  # two places, weight of a cut, rows


def may_fit(scene: Scene) -> bool:
    """Whether both rows could be narrow enough for one sheet."""
    between = scene.style.measures["between"]
    for row in (CEILING, WALL):
        least = [min(i.reach[1] - i.reach[0] for i in scene.choices[key]) + between
                 for key, enclosure in scene.enclosures.items() if enclosure.row == row]
        if sum(least) > scene.width + between:
            return False
    return True


def part_over_sheets(scene: Scene, width: int, height: int, lay: Callable[[tuple[tuple[str, ...], ...], int], Sheet],
         fits: Callable[[Sheet], bool]) -> tuple[tuple[str, ...], ...]:
    """The keys of each sheet's enclosures.

    Requires: `scene` is the whole wiring with its choices. `lay(parts, i)` lays out one sheet of a parting, `fits`
    says whether it fits.
    Ensures: every enclosure is on one sheet; every sheet fits, or DoesNotFit.
    """
    walk = _walk(scene)
    too_large: set[tuple[int, int]] = set()
    good: set[tuple[int, int]] = set()
    costs = _Costs(walk, scene, width, height)
    for i, key in enumerate(walk.keys):
        if costs.too_large_alone(i):
            raise _does_not_fit(scene, key)
    while True:
        cuts = _cut(walk, costs, too_large)
        parts = tuple(walk.keys[a:b] for a, b in cuts)
        bad = None
        for i, span in enumerate(cuts):
            if span not in good:
                if fits(lay(parts, i)):
                    good.add(span)
                else:
                    bad = span
                    break
        if bad is None:
            return parts
        if bad[1] - bad[0] == 1:
            raise _does_not_fit(scene, walk.keys[bad[0]])
        too_large.add(bad)


def _does_not_fit(scene: Scene, key: str) -> DoesNotFit:
    accessory = scene.enclosures[key].accessory
    assert accessory is not None  # a whole wiring has no continuation marks
    return DoesNotFit(accessory, scene.style.paper.name)


def _walk(scene: Scene) -> _Walk:
    enclosures = scene.enclosures
    beside: dict[str, list[str]] = {
        key: [e.partner for e in enclosure.entries if e.partner in enclosures] for key, enclosure in enclosures.items()
    }

    def by_rank(key: str) -> tuple[bool, int]:
        return enclosures[key].row != WALL, enclosures[key].rank

    order: list[str] = []
    seen: set[str] = set()
    for start in sorted(enclosures, key=lambda k: enclosures[k].rank):
        stack = [start]
        while stack:
            key = stack.pop()
            if key in seen:
                continue
            seen.add(key)
            order.append(key)
            stack += sorted((k for k in beside[key] if k not in seen), key=by_rank, reverse=True)
    place = {key: i for i, key in enumerate(order)}
    runs = {}
    for key, enclosure in enclosures.items():
        for entry in enclosure.entries:
            if entry.partner in enclosures:
                a, b = sorted((key, entry.partner), key=place.__getitem__)
                rows = enclosures[a].row, enclosures[b].row
                loop = rows == (CEILING, CEILING) and not any(_switches(enclosures[k]) for k in (a, b))
                weight = LOOP_CUT if loop else OTHER_CUT
                runs[entry.run] = (place[a], place[b], weight, *rows)
    return _Walk(tuple(order), tuple(runs.values()))


def _switches(enclosure: Enclosure) -> bool:
    return enclosure.accessory is not None and bool(enclosure.accessory.kind.switches)


def _cut(walk: _Walk, costs: _Costs, too_large: set[tuple[int, int]]) -> list[tuple[int, int]]:
    """The cheapest parting into the fewest sheets: dynamic programming along the walk."""
    n = len(walk.keys)
    best: list[tuple[int, float, int]] = [(0, 0.0, 0)] + [(n + 1, NEVER, 0)] * n
    for end in range(1, n + 1):
        for start in range(end - 1, -1, -1):
            if end - start > 1 and costs.surely_too_wide(start, end):
                break  # and every wider stretch too
            cost = costs.of(start, end)
            if cost is None and end - start > 1:
                continue
            if any(a >= start and b <= end for a, b in too_large):
                break
            sheets, before, _ = best[start]
            best[end] = min(best[end], (sheets + 1, before + (cost or 0.0), start))
    spans, end = [], n
    while end:
        start = best[end][2]
        spans.append((start, end))
        end = start
    return spans[::-1]


class _Costs:
    """What a sheet of some stretch of the walk costs."""

    def __init__(self, walk: _Walk, scene: Scene, width: int, height: int):
        self.walk, self.width, self.height = walk, width, height
        self.between = scene.style.measures["between"]
        m = scene.style.measures
        self.edge = m["tag stand"] + m["tag height"] + m["lane"] // 2
        self.known: dict[tuple[int, int], float | None] = {}
        self.rows: list[str] = []
        self.wide: list[int] = []
        self.high: list[int] = []
        self.hung: list[int] = []
        for key in walk.keys:
            enclosure, ways = scene.enclosures[key], scene.choices[key]
            self.rows.append(enclosure.row)
            self.wide.append(min(way.reach[1] - way.reach[0] for way in ways) + self.between)
            self.high.append(min(way.height for way in ways) + self.edge)
            lamp = pendant_height(enclosure.pendant, scene.style) + m["hang"] + m["pad"] if enclosure.pendant else 0
            self.hung.append(self.high[-1] + lamp)
        self.sums = {
            row: [0, *accumulate(wide if its == row else 0 for its, wide in zip(self.rows, self.wide, strict=True))]
            for row in (CEILING, WALL)
        }

    def of(self, start: int, end: int) -> float | None:
        """The cost of the enclosures from start to before end; None where they would surely be too wide or too high."""
        if (start, end) not in self.known:
            self.known[start, end] = self._of(start, end)
        return self.known[start, end]

    def too_large_alone(self, place: int) -> bool:
        """Whether an enclosure is too large for a sheet in every arrangement, even without its cables."""
        return self.wide[place] > self.width + self.between or self.hung[place] - self.edge > self.height

    def surely_too_wide(self, start: int, end: int) -> bool:
        """Whether the enclosures from start to before end are too wide for a sheet even without marks."""
        return any(sums[end] - sums[start] > self.width + self.between for sums in self.sums.values())

    def _of(self, start: int, end: int) -> float | None:
        rows = {CEILING: 0, WALL: 0}
        top = low = 0
        for i in range(start, end):
            rows[self.rows[i]] += self.wide[i]
            if self.rows[i] == CEILING:
                top = max(top, self.hung[i])
            else:
                low = max(low, self.high[i])
        cut = 0.0
        for a, b, weight, row_a, row_b in self.walk.runs:
            if (start <= a < end) != (start <= b < end):
                rows[WALL if WALL in (row_a, row_b) else CEILING] += MARK
                cut += weight / 2
        if max(rows.values()) > self.width + self.between or top + low > self.height:
            return None
        return cut + UNEVEN * (max(rows.values()) / self.width) ** 2


def number_marks(parts: Sequence[Sequence[str]], scene: Scene) -> tuple[dict[str, int], dict[str, int]]:
    """Every accessory's sheet, and the number of the mark of every run that is cut.

    Runs from one accessory to one later sheet share a mark, but those that end at the wall have their own.
    """
    sheet_of = {key: i for i, keys in enumerate(parts, 1) for key in keys}
    for keys in parts:
        for key in keys:
            pendant = scene.enclosures[key].pendant
            if pendant:
                sheet_of[pendant.accessory.name] = sheet_of[key]
    numbers: dict[tuple[str, int, bool], int] = {}
    marks: dict[str, int] = {}
    for run, a, b in _ordered_runs(scene):
        if sheet_of[a] != sheet_of[b]:
            a, b = sorted((a, b), key=sheet_of.__getitem__)
            low = WALL in (scene.enclosures[a].row, scene.enclosures[b].row)
            marks[run] = numbers.setdefault((a, sheet_of[b], low), len(numbers) + 1)
    return sheet_of, marks


def _ordered_runs(scene: Scene) -> Iterator[tuple[str, str, str]]:
    seen = set()
    for key, enclosure in scene.enclosures.items():
        for entry in enclosure.entries:
            if entry.partner in scene.enclosures and entry.run not in seen:
                seen.add(entry.run)
                yield entry.run, key, entry.partner
