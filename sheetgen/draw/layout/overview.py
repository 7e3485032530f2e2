"""The overview of a wiring that takes several sheets: accessories and cables only, and where each is drawn.

It is laid out by the same passes as a sheet; an accessory is a box with its name, and a cable goes no further than its
edge.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import islice, permutations, product

from sheetgen.draw.layout.scene import (
    BOTTOM,
    CEILING,
    TOP,
    WALL,
    Arrangement,
    CableEntry,
    Enclosure,
    Scene,
    SheetPlace,
    Title,
)
from sheetgen.draw.layout.through import whole
from sheetgen.draw.layout.titles import broken
from sheetgen.draw.layout.wiring_to_scene import IndexedWiring, gutter_of, mark_of, pendants_of, row_of, with_run
from sheetgen.draw.typeface import text_width
from sheetgen.model.accessory import Accessory, Level
from sheetgen.model.layout import Layout
from sheetgen.model.style import Style
from sheetgen.model.wiring import Cable, Wiring

ORDERS = 24  # of the cables at one edge of a box that are tried
NAMED = 3  # cables of one trunk that are named in its tag
BELOW_EDGE = 80  # words keep so far from the edge, at which cables end
WIDEST = 2600  # of a name in its box


class OverviewWiring(IndexedWiring):
    """What an overview shows of a wiring, and on which sheets of its layout each accessory is drawn."""

    def __init__(self, wiring: Wiring, layout: Layout):
        super().__init__(_without_hung(wiring))
        self.by_name = {name: a for name, a in self.by_name.items() if name not in self.hanging}
        self.rank = _room_by_room(self.wiring)
        self.drawn_on = _sheets_of(layout)


def overview_scene(
    indexed: OverviewWiring, style: Style, places: Mapping[str, SheetPlace], here: SheetPlace,
    marks: Mapping[str, int], width: int,
) -> Scene:
    """The scene of one band of an overview.

    Requires: as `wiring_to_scene`.
    Ensures: a box for every accessory of the band but lampholders that hang from a rose, an entry for every run.
    """
    by_name = indexed.by_name
    entries: dict[str, list[CableEntry]] = {name: [] for name in by_name if places[name] == here}
    others: dict[str, Enclosure] = {}
    for cables in indexed.runs_at(entries):
        ends = cables[0].ends
        for end in (0, 1):
            at, other = ends[end], ends[1 - end]
            if at not in entries or other not in by_name:
                continue
            cut, parted = places[other].sheet != here.sheet, places[other] != here
            key = f"mark {marks[cables[0].name]}" if cut else f"gutter {cables[0].name}" if parted else other
            rows = row_of(by_name[at]), row_of(by_name[other])
            entry = _entry(cables, key, BOTTOM if rows == (CEILING, WALL) else TOP, style, tagged=end == 1 or cut)
            entries[at].append(entry)
            if cut:
                level = WALL if WALL in rows else CEILING
                known = others.get(key) or mark_of(
                    key, marks[cables[0].name], places[other].sheet, here.sheet, level, style, "overview")
                others[key] = with_run(known, entry, at)
            elif parted:
                left = any(by_name[name].kind.level is Level.BOARD for name in ends)
                others[key] = gutter_of(key, entry, at, left, up=places[other].band < here.band)
    boxes = {name: _box(by_name[name], indexed.rank[name], tuple(found), indexed.drawn_on[name], indexed.wiring, style)
             for name, found in entries.items()}
    return Scene(here.sheet, style, width, others | boxes)


def _sheets_of(layout: Layout) -> dict[str, list[int]]:
    found: dict[str, list[int]] = {}
    for sheet in layout.sheets:
        for place in sheet.accessories:
            if sheet.number not in found.setdefault(place.name, []):
                found[place.name].append(sheet.number)
    return found


def _room_by_room(wiring: Wiring) -> dict[str, int]:
    """The rank of every accessory: rooms in the order in which they are first named, and within a room as written."""
    rooms = list(dict.fromkeys(a.room for a in wiring.accessories))
    order = sorted(wiring.accessories, key=lambda a: rooms.index(a.room) if a.room else -1)
    board = {a.name for a in order if a.kind.level is Level.BOARD}
    return {a.name: i - (10**5 if a.name in board else 0) for i, a in enumerate(order)}


def _entry(cables: Sequence[Cable], partner: str, edge: str, style: Style, tagged: bool) -> CableEntry:
    names = tuple(c.name for c in cables)
    tag = text_width(words_of(names), style.letterings["tag"]) + 2 * style.measures["tag pad"] if tagged else 0
    return CableEntry(names[0], names, partner, edge, (), sheathed=True, tag=tag, flex=cables[0].flex)


def words_of(names: Sequence[str]) -> str:
    """What stands in the tag of a run: a cable's name, or those of the singles that run together."""
    singles = [whole(name) for name in names]
    if len(singles) <= NAMED:
        return ", ".join(singles)
    return f"{singles[0]} and {len(singles) - 1} more"


def _box(
    accessory: Accessory, rank: int, entries: tuple[CableEntry, ...], sheets: Sequence[int], wiring: Wiring,
    style: Style,
) -> Enclosure:
    way = wiring.way(accessory.name)
    name = way.titled if way else accessory.name
    kind = way.serves if way else accessory.kind.name.split(",")[0] if accessory.seen else ""
    room = accessory.room if accessory.room.casefold() not in accessory.name.casefold() else ""
    lines = broken(name, "title", style, WIDEST)
    for text in (kind, room):
        lines += broken(text, "kind", style, WIDEST)
    where = f"sheet{'s' if len(sheets) > 1 else ''} {', '.join(map(str, sheets))}"
    lines += (Title(where, "lamp", text_width(where, style.letterings["lamp"])),)
    return Enclosure(accessory.name, row_of(accessory), rank, entries=entries, titles=lines, accessory=accessory)


def box_arrangements(enclosure: Enclosure, style: Style) -> tuple[Arrangement, ...]:
    """Every order of the cables along the upper and along the lower edge of a box, or some of them."""
    edges = [[e for e in enclosure.entries if e.edge == edge] for edge in (TOP, BOTTOM)]
    orders = [[*islice(permutations(edge), ORDERS)] for edge in edges]
    return tuple(_arrangement(enclosure, tops, bottoms, style) for tops, bottoms in product(*orders))


def _arrangement(
    enclosure: Enclosure, tops: Sequence[CableEntry], bottoms: Sequence[CableEntry], style: Style
) -> Arrangement:
    m = style.measures
    pins: dict[str, int] = {}
    low = high = 0
    for entries in (tops, bottoms):
        halves = [max(m["lane"], entry.tag + 100) // 2 for entry in entries]
        x = -sum(halves)
        low, high = min(low, x), max(high, -x)
        for entry, half in zip(entries, halves, strict=True):
            pins[entry.run] = x + half
            x += 2 * half
    mark = m["danger mark"] + m["danger gap"]
    written = max(t.width + (0 if i else 2 * mark) for i, t in enumerate(enclosure.titles)) + 2 * m["edge"]
    half = max(written // 2, *(abs(x) + m["lane"] // 2 for x in pins.values()), 0)
    height = m["pad"] + 320 * len(enclosure.titles) + 40 + BELOW_EDGE
    return Arrangement(
        rows=(), ports={}, tracks={}, pins=pins, strip=0, box=(-half, half), reach=(min(low, -half), max(high, half)),
        title_at=0, header=0, height=height, cost=0.0,
    )


def _without_hung(wiring: Wiring) -> Wiring:
    """The wiring without lampholders that hang from a rose, and without links: what an overview shows."""
    hung = pendants_of(wiring)
    return replace(
        wiring, accessories=tuple(a for a in wiring.accessories if a.name not in hung),
        cables=tuple(c for c in wiring.cables if not c.link and not hung.keys() & set(c.ends)),
    )
