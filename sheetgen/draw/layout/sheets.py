"""Parts a circuit that is too large for its paper: which accessories stand on which sheet, and there in which band.

The walk through the house is cut into sheets, and each sheet into bands that are stacked on it, as few sheets as can
be, cut at few cables and best at loop cables between ceiling accessories, and filled evenly; a sheet more is taken
where it keeps several rooms whole.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterator
from typing import NamedTuple

from sheetgen.draw.layout.assemble import BANDS_APART, GUTTER, band_height, band_width, size_of
from sheetgen.draw.layout.scene import CEILING, WALL, Scene, SheetPlace
from sheetgen.draw.layout.walk import Cut, Room, Span, WalkOrder, walk_of
from sheetgen.model.accessory import Accessory
from sheetgen.model.problems import Problem, Refused

SHEET = 40.0  # what a sheet costs, against cuts
ROOM_CUT = 8.0  # for each sheet on which a room is that goes on elsewhere
LONE = 10.0  # for an accessory that has a sheet to itself
BAND_CUT = 0.4  # of what a cut costs that goes to another sheet
UNEVEN = 4.0
NEVER = float("inf")
MANY = 6  # cables of an accessory that is tried on a sheet of its own first
MARK = 1700  # what a continuation mark takes of a row, with the room beside it
Parting = tuple[tuple[tuple[str, ...], ...], ...]  # of each sheet, of each of its bands, the keys of its enclosures
Bands = tuple[Span, ...]


class MostAllowed(NamedTuple):
    """What a parting may cost, and how many sheets it may take."""

    cost: float
    sheets: int


class CostsMore(Exception):
    """No parting keeps within its limits."""


class DoesNotFit(Refused):
    """An accessory that is larger than the paper, alone on a sheet."""

    def __init__(self, accessory: Accessory, paper: str):
        self.accessory = accessory.name
        message = f"'{accessory.name}' with all its conductors does not fit on {paper.upper()} at full size."
        hint = "Ask for the larger paper: --paper a3." if paper != "a3" else ""
        super().__init__([Problem(accessory.at, "E501", message, hint)])


def may_fit(scene: Scene) -> bool:
    """Whether both rows could be narrow enough for one sheet."""
    return least_width(scene) <= scene.width


def least_width(scene: Scene) -> int:
    """The width of the wider row, however its enclosures are turned."""
    between = scene.style.measures["between"]
    rows = {CEILING: -between, WALL: -between}
    for key, enclosure in scene.enclosures.items():
        if enclosure.row in rows:
            rows[enclosure.row] += min(way.reach[1] - way.reach[0] for way in scene.choices[key]) + between
    return max(rows.values())


def part_over_sheets(
    scene: Scene, width: int, height: int, lay: Callable[[Parting, int], tuple[Scene, ...]], lanes: int = 0,
    within: MostAllowed | None = None,
) -> tuple[float, Parting]:
    """What the parting costs its reader, and the keys of each sheet's bands.

    Requires: `scene` is the whole wiring with its choices. `lay(parts, i)` lays out the bands of one sheet. `lanes`:
    reckoned with in a band that was not laid out yet; the nearer to what it takes, the fewer are laid out in vain.
    Ensures: every enclosure is in one band of one sheet; every sheet fits, or DoesNotFit; it keeps within its
    limits, or CostsMore.
    """
    walk = walk_of(scene)
    room = Room(walk, scene)
    cutting = _Cutting(walk, room, scene, width, height, lanes)
    for i, key in enumerate(walk.keys):
        if room.wide[i] > width + room.between or room.high[i] - room.edge > height:
            raise _does_not_fit(scene, key)
        if len(scene.enclosures[key].entries) > MANY:  # else that is found out only after all else is laid out
            keys = [part for part in (walk.keys[:i], walk.keys[i:i + 1], walk.keys[i + 1:]) if part]
            wide, high = size_of(lay(tuple((part,) for part in keys), keys.index((key,))))
            if wide > width or high > height:
                raise _does_not_fit(scene, key)
    good: set[Bands] = set()
    while True:
        cost, sheets = cutting.cheapest()
        if within and (cost > within.cost or len(sheets) > within.sheets):
            raise CostsMore
        parts = tuple(tuple(walk.keys[a:b] for a, b in bands) for bands in sheets)
        bad = None
        for i, bands in enumerate(sheets):
            if bands not in good:
                laid = lay(parts, i)
                wide, high = size_of(laid)
                for span, band in zip(bands, laid, strict=True):
                    cutting.shown(span, band_height(band))
                if wide <= width and high <= height:
                    good.add(bands)
                else:
                    bad = bands
                    break
        if bad is None:
            return cost, parts
        if len(bad) == 1 and bad[0][1] - bad[0][0] == 1:
            raise _does_not_fit(scene, walk.keys[bad[0][0]])
        if wide > width:
            for k, band in enumerate(laid):
                cutting.laid(bad, k, band_width(band))
        cutting.refuse(bad)


def _does_not_fit(scene: Scene, key: str) -> DoesNotFit:
    accessory = scene.enclosures[key].accessory
    assert accessory is not None  # a whole wiring has no continuation marks
    return DoesNotFit(accessory, scene.style.paper.name)


class _PartSheet(NamedTuple):
    """Some bands of a sheet, on the way to a whole one; compared as the better is the less."""

    many: int
    cost: float
    height: int
    wide: int  # of its widest band
    gutters: int
    bands: Bands


class _Cutting:
    """The cheapest way to cut the walk: dynamic programming along it, sheet by sheet and in a sheet band by band."""

    def __init__(self, walk: WalkOrder, room: Room, scene: Scene, width: int, height: int, lanes: int):
        self.walk, self.room, self.width, self.height = walk, room, width, height
        self.lane = scene.style.measures["lane"]
        self.lanes = lanes * self.lane
        self.places = walk.good_places()
        self.refused: set[Bands] = set()  # that do not fit, though they seemed to
        self.cuts: dict[Span, list[Cut]] = {}
        self.widths: dict[Span, tuple[int, int]] = {}
        self.heights: dict[Span, int] = {}  # as reckoned, or as it was laid out
        self.like = list(zip(room.rows, room.high, walk.runs_from, strict=True))
        self.alike: dict[object, set[Span]] = {}  # what a band looks like -> those not laid out yet
        self.seen: dict[object, int] = {}  # what a band looks like -> how high the highest was that was laid out
        self.excess: dict[Span, int] = {}  # by how much it was wider than reckoned, on a sheet that did not fit
        self.sheets: dict[int, dict[int, _PartSheet]] = {}  # first place -> place after the last -> its best bands
        self.reach: dict[int, int] = {}  # first place -> the last place at which a band of its sheets may begin
        self.last_in_room = {name: i for i, name in enumerate(walk.rooms)}
        self.first_in_room = {name: i for i, name in reversed(list(enumerate(walk.rooms)))}

    def refuse(self, bands: Bands) -> None:
        """Take it that these bands do not fit on a sheet."""
        self.refused.add(bands)
        self.sheets.pop(bands[0][0], None)

    def shown(self, span: Span, height: int) -> None:
        """Take it that a band is so high, and every one that looks like it and was not laid out yet."""
        looks = tuple(self.like[slice(*span)])
        self.alike.setdefault(looks, set()).discard(span)
        known = {span: height}
        if height > self.seen.get(looks, 0):
            self.seen[looks] = height
            known |= dict.fromkeys(self.alike[looks], height)
        for own, high in known.items():
            if self.heights.get(own) != high:
                self.heights[own] = high
                self._forget(own)

    def laid(self, bands: Bands, k: int, width: int) -> None:
        """Take it that one of the bands of a sheet that does not fit is so wide; and so is what holds all of it, by as
        much more than reckoned."""
        span = bands[k]
        ceiling, wall, *_ = self._beside(span, bands[0][0], last=k == len(bands) - 1)
        excess = width + self.room.between - max(ceiling, wall)
        if excess > self._excess(span):
            self.excess[span] = excess
            self._forget(span)

    def _excess(self, span: Span) -> int:
        if not self.excess:
            return 0
        return max((excess for (a, b), excess in self.excess.items() if span[0] <= a and b <= span[1]), default=0)

    def _forget(self, span: Span) -> None:
        """What was found of sheets that may have the band, or one that holds it."""
        self.sheets = {start: known for start, known in self.sheets.items()
                       if not start <= span[0] <= self.reach[start]}

    def cheapest(self) -> tuple[float, list[Bands]]:
        """What it costs, and the bands of every sheet."""
        n = len(self.walk.keys)
        nowhere: tuple[float, int, Bands] = (NEVER, 0, ())
        best: list[tuple[float, int, Bands]] = [(0.0, 0, ()), *([nowhere] * n)]
        for start in self.places[:-1]:
            if best[start][0] == NEVER:
                continue
            if start not in self.sheets:
                self.sheets[start] = self._sheets_from(start)
            for end, sheet in self.sheets[start].items():
                cost = best[start][0] + SHEET + sheet.cost + self._cost(start, end)
                if cost < best[end][0]:
                    best[end] = (cost, start, sheet.bands)
        if best[n][0] == NEVER and len(self.places) <= n:
            self.places, self.sheets = list(range(n + 1)), {}
            return self.cheapest()
        found, end = [], n
        while end:
            _, start, bands = best[end]
            found.append(bands)
            end = start
        return best[n][0], found[::-1]

    def _sheets_from(self, start: int) -> dict[int, _PartSheet]:
        """End -> the best bands, for every end that a sheet may have that begins at `start`."""
        partly: dict[int, _PartSheet] = {start: _PartSheet(0, 0.0, -BANDS_APART, 0, 0, ())}
        whole: dict[int, _PartSheet] = {}
        places = self.places[bisect_left(self.places, start):]
        for i, at in enumerate(places):
            if at > max(partly):
                break
            for j, end in enumerate(places[i + 1:] if at in partly else ()):
                if j and max(self.room.widths((at, end))) > self.width + self.room.between:
                    break
                for known, last in ((partly, False), (whole, True)):
                    if end in known and known[end].many <= partly[at].many:
                        continue  # a band more is never better
                    sheet = self._with_band(partly[at], start, (at, end), last)
                    if sheet is not None and (end not in known or sheet < known[end]):
                        known[end] = sheet
        self.reach[start] = max(partly)
        return whole

    def _look_at(self, span: Span) -> None:
        self.cuts[span], self.widths[span] = self.walk.cuts(span), self.room.widths(span)
        if span not in self.heights:
            looks = tuple(self.like[slice(*span)])
            self.heights[span] = self.seen.get(looks, self.room.height(span) + self.lanes)
            self.alike.setdefault(looks, set()).add(span)

    def _with_band(self, sheet: _PartSheet, start: int, span: Span, last: bool) -> _PartSheet | None:
        """The sheet with one band more; None where that does not fit, or where the last of it was refused."""
        if span not in self.cuts:
            self._look_at(span)
        height = sheet.height + BANDS_APART + self.heights[span]
        alone = last and span[1] - start == 1  # whether it fits is then seen by laying it out
        if height > self.height and not alone:
            return None
        ceiling, wall, behind, ahead, more = self._beside(span, start, last)
        gutters, cost = sheet.gutters + behind, sheet.cost + more
        wide = max(ceiling, wall) + self._excess(span)
        cost += UNEVEN * (wide / self.width) ** 2 / 2
        widest = max(sheet.wide, wide)
        beside = gutters + ahead
        taken = beside * self.lane + (GUTTER - self.lane if beside else 0)
        if widest > self.width + self.room.between - taken and not alone:
            return None
        bands = (*sheet.bands, span)
        found = _PartSheet(sheet.many + 1, cost, height, widest, gutters, bands)
        return None if last and bands in self.refused else found

    def _beside(self, span: Span, start: int, last: bool) -> tuple[int, int, int, int, float]:
        """Of a band of a sheet that begins at `start`: the widths of both rows with their marks, the runs from bands
        above and to bands below, and what its cuts cost."""
        (ceiling, wall), behind, ahead, cost = self.widths[span], 0, 0, 0.0
        for cut in self.cuts[span]:
            if start <= cut.other < span[0]:
                behind += 1
                cost += BAND_CUT * cut.weight
            elif cut.other >= span[1] and not last:
                ahead += 1
            else:
                ceiling, wall = ceiling + MARK * (not cut.wall), wall + MARK * cut.wall
                cost += cut.weight / 2
        return ceiling, wall, behind, ahead, cost

    def _cost(self, start: int, end: int) -> float:
        """The rooms that a sheet cuts, and whether it has one accessory only."""
        lone = end - start == 1 < len(self.walk.keys)
        rooms = {name for name in self.walk.rooms[start:end] if name}
        cut = sum(self.first_in_room[r] < start or self.last_in_room[r] >= end for r in rooms)
        return LONE * lone + ROOM_CUT * cut


def number_marks(parts: Parting, scene: Scene) -> tuple[dict[str, SheetPlace], dict[str, int]]:
    """Every accessory's place, and the number of the mark of every run that is cut.

    Runs from one accessory to one band of a later sheet share a mark, but those that end at the wall have their own.
    """
    places = {
        key: SheetPlace(i, j) for i, bands in enumerate(parts, 1) for j, keys in enumerate(bands, 1) for key in keys
    }
    for key, place in list(places.items()):
        pendant = scene.enclosures[key].pendant
        if pendant:
            places[pendant.accessory.name] = place
    numbers: dict[tuple[str, SheetPlace, bool], int] = {}
    marks: dict[str, int] = {}
    for run, a, b in _ordered_runs(scene):
        if places[a].sheet != places[b].sheet:
            a, b = sorted((a, b), key=places.__getitem__)
            low = WALL in (scene.enclosures[a].row, scene.enclosures[b].row)
            marks[run] = numbers.setdefault((a, places[b], low), len(numbers) + 1)
    return places, marks


def _ordered_runs(scene: Scene) -> Iterator[tuple[str, str, str]]:
    seen = set()
    for key, enclosure in scene.enclosures.items():
        for entry in enclosure.entries:
            if entry.partner in scene.enclosures and entry.run not in seen:
                seen.add(entry.run)
                yield entry.run, key, entry.partner
