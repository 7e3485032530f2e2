"""The walk through a house: its accessories in the order of the wiring, switches right after what they hang on."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate

from sheetgen.draw.layout.pendants import pendant_height
from sheetgen.draw.layout.scene import CEILING, WALL, Enclosure, Scene

LOOP_CUT, OTHER_CUT = 1.0, 5.0  # what it costs to cut a loop cable at the ceiling, and any other run
BOARD_CUT = 3.0  # from the board to the first accessory
FLEX_CUT = 60.0  # a lampholder keeps its rose
SHORT = 30  # a walk of no more accessories may be cut anywhere, and goes by rows alone
Span = tuple[int, int]  # of the walk: from, to before


@dataclass(frozen=True)
class Cut:
    """A run with one end in a span of the walk: where its other end is, and what cutting it costs."""

    other: int
    weight: float
    wall: bool  # one of its ends is in the wall row


@dataclass(frozen=True)
class WalkOrder:
    """The enclosures in the order of the walk, and the runs between them by place in it."""

    keys: tuple[str, ...]
    rooms: tuple[str, ...]
    runs: tuple[tuple[int, int, float, bool], ...]  # two places, weight of a cut, whether one end is at the wall

    def good_places(self) -> list[int]:
        """Where to cut a long walk: where no place beside it is better; anywhere in a short one."""
        n = len(self.keys)
        if n <= SHORT:
            return list(range(n + 1))
        change = [0.0] * (n + 1)
        for a, b, weight, _ in self.runs:
            change[a + 1] += weight
            change[b + 1] -= weight
        weights = list(accumulate(change))
        inner = [i for i in range(1, n) if weights[i] <= min(weights[i - 1] or FLEX_CUT, weights[i + 1] or FLEX_CUT)]
        return [0, *inner, n]

    def cuts(self, span: Span) -> list[Cut]:
        """The runs that leave a span."""
        numbers = sorted({n for place in range(*span) for n in self._runs_at.get(place, ())})
        found = []
        for a, b, weight, wall in (self.runs[n] for n in numbers):
            inside = span[0] <= a < span[1], span[0] <= b < span[1]
            if inside != (True, True):
                found.append(Cut(b if inside[0] else a, weight, wall))
        return found

    @cached_property
    def runs_from(self) -> list[tuple[tuple[int, bool], ...]]:
        """Of each place, how far along the walk each of its runs leads, and whether one of the ends is at the wall."""
        found: list[list[tuple[int, bool]]] = [[] for _ in self.keys]
        for a, b, _, wall in self.runs:
            found[a].append((b - a, wall))
            found[b].append((a - b, wall))
        return [tuple(sorted(runs)) for runs in found]

    @cached_property
    def _runs_at(self) -> dict[int, list[int]]:
        """Place -> the runs that end there, by their number."""
        found: dict[int, list[int]] = {}
        for n, (a, b, _, _) in enumerate(self.runs):
            found.setdefault(a, []).append(n)
            found.setdefault(b, []).append(n)
        return found


def walk_of(scene: Scene) -> WalkOrder:
    """The walk through a whole wiring: from the board outward, depth first, the wall before the ceiling.

    In a long one what leads no further comes first: a light right after the switch or sensor that it hangs on.
    """
    enclosures = scene.enclosures
    long = len(enclosures) > SHORT
    beside: dict[str, list[str]] = {
        key: [e.partner for e in enclosure.entries if e.partner in enclosures] for key, enclosure in enclosures.items()
    }

    def by_rank(key: str) -> tuple[bool, bool, bool, int]:
        leads_on = long and len({*beside[key]}) > 1
        return not enclosures[key].lampholder, leads_on, enclosures[key].row != WALL, enclosures[key].rank

    order: list[str] = []
    seen: set[str] = set()
    for start in sorted(enclosures, key=lambda k: (enclosures[k].lampholder, enclosures[k].rank)):
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
                runs[entry.run] = (place[a], place[b], _weight(enclosures[a], enclosures[b]),
                                   WALL in (enclosures[a].row, enclosures[b].row))
    rooms = tuple(e.accessory.room if (e := enclosures[key]).accessory else "" for key in order)
    return WalkOrder(tuple(order), rooms, tuple(runs.values()))


def _weight(a: Enclosure, b: Enclosure) -> float:
    if a.lampholder or b.lampholder:
        return FLEX_CUT
    if any(e.rank < 0 for e in (a, b)):
        return BOARD_CUT
    switches = any(e.accessory is not None and e.accessory.kind.switches for e in (a, b))
    return LOOP_CUT if (a.row, b.row) == (CEILING, CEILING) and not switches else OTHER_CUT


class Room:
    """How much room spans of the walk take at least."""

    def __init__(self, walk: WalkOrder, scene: Scene):
        m = scene.style.measures
        self.between = m["between"]
        self.edge = m["tag stand"] + m["tag height"] + m["lane"] // 2
        self.rows: list[str] = []
        self.wide: list[int] = []
        self.high: list[int] = []
        for key in walk.keys:
            enclosure, ways = scene.enclosures[key], scene.choices[key]
            self.rows.append(enclosure.row)
            self.wide.append(min(way.reach[1] - way.reach[0] for way in ways) + self.between)
            lamp = pendant_height(enclosure.pendant, scene.style) + m["hang"] + m["pad"] if enclosure.pendant else 0
            hung = 0 if enclosure.lampholder else lamp
            self.high.append(min(way.height for way in ways) + self.edge + hung)
        self.sums = {
            row: [0, *accumulate(wide if its == row else 0 for its, wide in zip(self.rows, self.wide, strict=True))]
            for row in (CEILING, WALL)
        }

    def widths(self, span: Span) -> tuple[int, int]:
        """The width of the ceiling row and of the wall row, without marks."""
        (start, end), ceiling, wall = span, self.sums[CEILING], self.sums[WALL]
        return ceiling[end] - ceiling[start], wall[end] - wall[start]

    def height(self, span: Span) -> int:
        """The height of a band."""
        return sum(
            max((self.high[i] for i in range(*span) if self.rows[i] == row), default=0) for row in (CEILING, WALL))

