"""From levels and places to a sheet in absolute coordinates: enclosures, terminals, conductors, sheaths, tags."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from sheetgen.draw.layout.channels import MIDDLE_CHANNEL, TOP_CHANNEL, routes_of
from sheetgen.draw.layout.overview import BELOW_EDGE, words_of
from sheetgen.draw.layout.parts import IN, Parts, set_sheath_end, tag_at
from sheetgen.draw.layout.pendants import hang_pendant, pendant_height, set_out_pendant
from sheetgen.draw.layout.scene import (
    BOTTOM,
    CEILING,
    TOP,
    WALL,
    Arrangement,
    CableEntry,
    Enclosure,
    Pendant,
    Scene,
    Termination,
)
from sheetgen.draw.layout.strip_measuring import row_middles
from sheetgen.draw.typeface import text_width
from sheetgen.model.layout import (
    AccessoryPlace,
    ConductorPlace,
    CoreEndPlace,
    Frame,
    MarkPlace,
    SheathPlace,
    Sheet,
    TerminalPlace,
    TextPlace,
)
from sheetgen.model.wiring import Wiring

TITLE_LINE = 320
Point = tuple[int, int]
Middles = Sequence[Sequence[int]]  # of the rows of each group: their y


BANDS_APART = 600  # between two bands of a sheet
GUTTER = 450  # from the rows to the first gutter beside them: a run into the outermost accessory bends, and has no jog


def assemble(bands: Sequence[Scene], wiring: Wiring) -> Sheet:
    """Fix every point of the sheet.

    Requires: of every band inside, at, levels.
    Ensures: a Sheet with its top left corner at (0, 0) and nothing beyond its width and height; bands stand below one
    another, and what runs from one to another runs beside them.
    """
    gutters = _gutters(bands)
    first = max([0, *(-x for x in gutters.values())])
    parts, top, width = Parts(), 0, 0
    runs: dict[str, list[OuterRun]] = {}
    for band in bands:
        scene = replace(band, at={k: x + first for k, x in band.at.items()})
        levels = {what: y + top for what, y in _heights(scene).items()}
        for row in (CEILING, WALL):
            for key in scene.order.get(row, ()):
                _set_enclosure(scene.enclosures[key], scene, levels, row, parts, wiring)
        for run in _routes(scene, levels, parts, {key: x + first for key, x in gutters.items()}):
            runs.setdefault(run.name, []).append(run)
        top = levels["foot"] + BANDS_APART
        width = max([width, *(scene.at[k] + scene.inside[k].reach[1] for k in scene.standing)])
    for name, found in runs.items():
        route = found[0].points + (found[1].points[::-1] if len(found) > 1 else [])
        if found[0].sheathed:
            _set_sheath(name, route, wiring.cable(name).flex, parts)
        else:
            _set_single(name, route, parts)
    width = max([width, *(x + first for x in gutters.values())])
    return Sheet(
        bands[0].number, width, top - BANDS_APART, tuple(parts.accessories), tuple(parts.conductors),
        tuple(parts.core_ends), tuple(parts.sheaths), tuple(parts.tags), tuple(parts.marks),
    )


class OuterRun(NamedTuple):
    """What lies outside enclosures of a cable, a trunk or a single, in one band."""

    name: str
    points: list[Point]
    sheathed: bool


def size_of(bands: Sequence[Scene]) -> tuple[int, int]:
    """Width and height of the sheet that these bands make."""
    gutters = _gutters(bands)
    wide = max(map(band_width, bands))
    width = max([wide, *gutters.values()]) + max([0, *(-x for x in gutters.values())])
    return width, sum(band_height(scene) for scene in bands) + (len(bands) - 1) * BANDS_APART


def band_width(scene: Scene) -> int:
    """Width of one band, without the gutters beside it."""
    return max(scene.at[k] + scene.inside[k].reach[1] for k in scene.standing)


def band_height(scene: Scene) -> int:
    """Height of one band."""
    return _heights(scene)["foot"]


def _gutters(bands: Sequence[Scene]) -> dict[str, int]:
    """Gutter -> its x: the first beside the widest band, at each side."""
    wide = max(scene.at[k] + scene.inside[k].reach[1] for scene in bands for k in scene.standing)
    lane = bands[0].style.measures["lane"]
    return {key: start + side * (GUTTER + lane * i)
            for side, start in ((-1, 0), (1, wide)) for i, key in enumerate(_gutters_at(side, bands))}


def width_of_gutters(bands: Sequence[Scene]) -> int:
    """How much of a sheet's width its gutters take."""
    lane = bands[0].style.measures["lane"]
    keys = [_gutters_at(side, bands) for side in (-1, 1)]
    return sum(GUTTER + lane * (len(side) - 1) for side in keys if side)


def _gutters_at(side: int, bands: Sequence[Scene]) -> list[str]:
    return sorted({key for scene in bands for key, e in scene.enclosures.items() if e.gutter == side})


def _set_enclosure(
    enclosure: Enclosure, scene: Scene, levels: dict[str, int], row: str, parts: Parts, wiring: Wiring
) -> None:
    inside = scene.inside[enclosure.key]
    if enclosure.mark:
        _set_mark(enclosure, inside, scene, levels[row], parts)
    elif enclosure.lampholder and enclosure.pendant:
        _set_lampholder(enclosure, enclosure.pendant, scene, levels[row], parts)
    elif enclosure.boxed:
        _set_box(enclosure, inside, scene, levels[row], parts, wiring)
    else:
        _set_accessory(enclosure, inside, scene, levels[row], parts)
        if enclosure.pendant:
            hang_pendant(enclosure.pendant, parts, levels["hang"], scene.style, wiring)


def _set_box(
    enclosure: Enclosure, inside: Arrangement, scene: Scene, top: int, parts: Parts, wiring: Wiring
) -> None:
    x, m = scene.at[enclosure.key], scene.style.measures
    frame = Frame(x + inside.box[0], top, inside.box[1] - inside.box[0], inside.height)
    titles = _titles(enclosure, x + inside.title_at, top + BELOW_EDGE, scene)
    parts.accessories.append(AccessoryPlace(enclosure.key, frame, titles, (), board=enclosure.rank < 0))
    for entry in enclosure.entries:
        down = 1 if entry.edge == TOP else -1
        edge = top if entry.edge == TOP else top + inside.height
        pin = x + inside.pins[entry.run]
        parts.pins[entry.run, enclosure.key] = (pin, edge)
        parts.trunks[entry.run] = entry.cables if wiring.cable(entry.run).single else ()
        if entry.tag:
            y = edge - down * (m["tag stand"] + m["tag height"] // 2)
            parts.tags.append(tag_at(entry.run, entry.tag, pin, y, scene.style, words_of(entry.cables)))


def _set_lampholder(enclosure: Enclosure, pendant: Pendant, scene: Scene, top: int, parts: Parts) -> None:
    (entry,) = enclosure.entries
    x, m = scene.at[enclosure.key], scene.style.measures
    parts.pins[entry.run, enclosure.key] = (x, top)
    parts.tags.append(tag_at(entry.run, entry.tag, x, top - m["tag stand"] - m["tag height"] // 2, scene.style))
    set_out_pendant(pendant, parts, (x, top), scene.style)


def _heights(scene: Scene) -> dict[str, int]:
    """The y of the rows' upper edges, of the lampholders, of the channels, and of the foot, from the band's top."""
    m = scene.style.measures
    clear = m["lane"] // 2
    tag_room = m["tag stand"] + m["tag height"] + clear
    enclosures, inside = scene.enclosures, scene.inside
    routes = routes_of(scene)
    ceiling = scene.order.get(CEILING, ())
    wall = scene.order.get(WALL, ())
    above: dict[str, int] = {}  # row -> what stands between its channel and its enclosures
    for row in (CEILING, WALL):
        tops = [e for k in scene.order.get(row, ()) for e in enclosures[k].entries if e.edge == TOP]
        above[row] = tag_room if any(e.tag for e in tops) else clear if tops else 0
    y = m["lane"] // 2 + scene.depth[TOP_CHANNEL] if routes[TOP_CHANNEL] else 0
    found = {TOP_CHANNEL: m["lane"] // 2}
    found[CEILING] = y + above[CEILING]
    pendants = {k: p for k in ceiling if (p := enclosures[k].pendant)}
    tagged = {k: any(e.edge == BOTTOM and e.tag and not e.hangs for e in enclosures[k].entries) for k in ceiling}
    bottoms = [found[CEILING] + inside[k].height + (tag_room if tagged[k] else m["lane"] // 2) for k in ceiling]
    found["hang"] = max((found[CEILING] + inside[k].height for k in pendants), default=0) + m["hang"]
    lamps = [found["hang"] + pendant_height(p, scene.style) + m["pad"] for p in pendants.values()]
    under = max([*bottoms, *lamps], default=m["lane"] // 2)
    found[MIDDLE_CHANNEL] = under
    found[WALL] = under
    if wall:
        gap = m["between"] if ceiling and not routes[MIDDLE_CHANNEL] else 0
        found[WALL] = under + scene.depth[MIDDLE_CHANNEL] + gap + above[WALL]
    ends = [found[enclosures[k].row] + inside[k].height for k in (*ceiling, *wall)]
    low = under + scene.depth[MIDDLE_CHANNEL] + m["lane"] // 2 if routes[MIDDLE_CHANNEL] else 0
    found["foot"] = max([*ends, *lamps, low])
    return found


def _set_accessory(enclosure: Enclosure, inside: Arrangement, scene: Scene, top: int, parts: Parts) -> None:
    x = scene.at[enclosure.key]
    frame = Frame(x + inside.box[0], top, inside.box[1] - inside.box[0], inside.height)
    middles = [[top + y for y in ys] for ys in row_middles(enclosure, inside, scene.style)]
    parts.accessories.append(AccessoryPlace(
        enclosure.key, frame, _titles(enclosure, x + inside.title_at, top, scene),
        _terminals(enclosure, inside, middles, x, scene), _devices(enclosure, inside, x, scene),
        board=enclosure.rank < 0,
    ))
    for entry in enclosure.entries:
        _set_entry(entry, enclosure, inside, scene, frame, middles, parts)
    for a, b in enclosure.links:
        (xa, ya), (xb, yb) = (_port(s, inside, x, middles) for s in (a, b))
        track = x + inside.tracks[a.key]
        parts.conductors.append(ConductorPlace(a.core, (a.end, b.end), ((xa, ya), (track, ya), (track, yb), (xb, yb)),
                                               (4, 0)))
        parts.core_ends += [_core_end_place(s, enclosure, inside, x, middles, scene) for s in (a, b)]


def _devices(enclosure: Enclosure, inside: Arrangement, x: int, scene: Scene) -> tuple[tuple[int, int] | None, ...]:
    """The two columns of every switch and load: between the terminals of a split strip, else right of the names."""
    wide = scene.style.measures["device"]
    if enclosure.split:
        return tuple(None if i is None else (x - wide // 2 + 60, x + wide // 2 - 60) for i in enclosure.devices)
    first = x + inside.strip - enclosure.columns * wide
    return tuple(
        None if i is None else (first + i * wide + 120, first + (i + 1) * wide - 180) for i in enclosure.devices
    )


def _titles(enclosure: Enclosure, x: int, top: int, scene: Scene) -> tuple[TextPlace, ...]:
    y = top + scene.style.measures["pad"] // 2
    return tuple(
        TextPlace(t.text, t.role, x, y + TITLE_LINE * (i + 1) - 75, t.width) for i, t in enumerate(enclosure.titles)
    )


def _terminals(
    enclosure: Enclosure, inside: Arrangement, middles: Middles, x: int, scene: Scene
) -> tuple[TerminalPlace, ...]:
    m = scene.style.measures
    found = []
    for group, ys in zip(enclosure.groups, middles, strict=True):
        if not ys or group.left is None or group.right is None or enclosure.accessory is None:
            continue
        top, height = ys[0] - m["row"] // 2, len(ys) * m["row"]
        lines = tuple(y + m["row"] // 2 for y in ys[:-1])
        half = inside.strip - m["device"] // 2
        sides = [(group.left, x - inside.strip, 2 * inside.strip)]
        if group.left != group.right:
            sides = [(group.left, x - inside.strip, half), (group.right, x + inside.strip - half, half)]
        for name, left, width in sides:
            room = width - (0 if enclosure.split else m["device"] * enclosure.columns)
            text = enclosure.accessory.printed_label(name)
            wide = text_width(text, scene.style.letterings["terminal"])
            words = TextPlace(text, "terminal", left + room // 2, (ys[0] + ys[-1]) // 2 + 88, wide)
            found.append(TerminalPlace(name, Frame(left, top, width, height), words, lines, group.connector))
    return tuple(found)


def _port(termination: Termination, inside: Arrangement, x: int, middles: Middles) -> Point:
    side, group, row = inside.ports[termination.key]
    return x + side * inside.strip, middles[group][row]


def _core_end_place(
    termination: Termination, enclosure: Enclosure, inside: Arrangement, x: int, middles: Middles, scene: Scene
) -> CoreEndPlace:
    m = scene.style.measures
    at, y = _port(termination, inside, x, middles)
    side = inside.ports[termination.key][0]
    near = m["port"] + m["stub gap"]
    sleeve = at + side * near - (m["sleeve"] if side < 0 else 0)
    start = near + m["sleeve"] + m["stub gap"]
    code = TextPlace(termination.label, "code", at + side * (start + termination.width // 2), y + 82, termination.width)
    return CoreEndPlace(
        termination.core, termination.end, enclosure.key, termination.terminal, (at, y), side, code,
        Frame(sleeve, y - m["sleeve height"] // 2, m["sleeve"], m["sleeve height"]),
    )


def _set_entry(
    entry: CableEntry, enclosure: Enclosure, inside: Arrangement, scene: Scene, frame: Frame, middles: Middles,
    parts: Parts,
) -> None:
    m = scene.style.measures
    x = scene.at[enclosure.key]
    down = 1 if entry.edge == TOP else -1
    edge = frame.y if entry.edge == TOP else frame.y + frame.height
    lip = edge + down * (IN + m["mouth"]) if entry.sheathed else edge
    for s in entry.terminations:
        track = x + inside.tracks[s.key]
        at, y = _port(s, inside, x, middles)
        points = [(at, y), (track, y), (track, lip)]
        if s.key in inside.across:
            own, over = inside.across[s.key]
            points[2:] = [(track, frame.y + over), (x + own, frame.y + over), (x + own, lip)]
        parts.core_ends.append(_core_end_place(s, enclosure, inside, x, middles, scene))
        if entry.sheathed:
            parts.conductors.append(ConductorPlace(s.core, (s.end,), tuple(points), (len(points), 0)))
        else:
            parts.inner.setdefault(s.core.rpartition("/")[0], {})[s.end] = points
    for route in entry.routes:
        parts.pins[route, enclosure.key] = (x + inside.pins[route], edge)
    if entry.sheathed:
        tracks = [x + inside.across.get(s.key, (inside.tracks[s.key], 0))[0] for s in entry.terminations]
        cable, end = entry.cables[0], entry.terminations[0].end
        pin = x + inside.pins[cable]
        outermost = (min(tracks), max(tracks))
        set_sheath_end(parts, cable, end, enclosure.key, (pin, edge), down, outermost, entry.flex, scene.style)
        parts.trunks[cable] = entry.trunk
        if entry.tag:
            y = edge - down * (m["tag stand"] + m["tag height"] // 2)
            parts.tags.append(tag_at(cable, entry.tag, pin, y, scene.style))


def _set_mark(enclosure: Enclosure, inside: Arrangement, scene: Scene, top: int, parts: Parts) -> None:
    assert enclosure.mark is not None
    number, sheet, onward = enclosure.mark
    x = scene.at[enclosure.key]
    m = scene.style.measures
    frame = Frame(x + inside.box[0], top, inside.box[1] - inside.box[0], inside.height)
    middle = x + inside.title_at
    words = tuple(
        TextPlace(t.text, t.role, middle, top + m["pad"] + 330 * i + 245, t.width)
        for i, t in enumerate(enclosure.titles)
    )
    cables = tuple(c for entry in enclosure.entries for c in entry.cables)
    parts.marks.append(MarkPlace(number, sheet, onward, cables, frame, words))
    for entry in enclosure.entries:
        for route in entry.routes:
            parts.pins[route, enclosure.key] = (x + inside.pins[route], top)
        if entry.tag:
            y = top - m["tag stand"] - m["tag height"] // 2
            parts.tags.append(tag_at(entry.cables[0], entry.tag, x + inside.pins[entry.cables[0]], y, scene.style))


def _routes(scene: Scene, levels: dict[str, int], parts: Parts, gutters: dict[str, int]) -> Iterator[OuterRun]:
    """Sheaths and singles from edge to edge, or from an edge to the gutter in which they leave the band."""
    for channel, routes in routes_of(scene).items():
        for name, ((a, _), (b, _), sheathed) in routes.items():
            level = scene.levels[channel].get(name)
            y = None if level is None else levels[channel] + level
            start, end = (parts.pins.get((name, key)) for key in (a, b))
            if start and end:
                yield OuterRun(name, [start, end] if y is None else [start, (start[0], y), (end[0], y), end], sheathed)
            elif at := start or end:
                assert y is not None  # a gutter is never straight below an enclosure
                yield OuterRun(name, [at, (at[0], y), (gutters[b if start else a], y)], sheathed)


def _set_sheath(cable: str, route: list[Point], flex: bool, parts: Parts) -> None:
    """A sheath from where it opens at one end to where it opens, or is cut, at the other."""
    sheath_ends, points = parts.sheath_ends.get(cable, []), list(route)
    for sheath_end in sheath_ends:
        lip = sheath_end.corners[0][1]
        x = (sheath_end.corners[0][0] + sheath_end.corners[1][0]) // 2
        for i in (0, -1):
            if points[i][0] == x and abs(points[i][1] - lip) == IN:
                points[i] = (x, lip)
    parts.sheaths.append(SheathPlace(cable, flex, tuple(points), tuple(sheath_ends), parts.trunks[cable]))


def _set_single(cable: str, route: list[Point], parts: Parts) -> None:
    inner = parts.inner[cable]
    first = min(inner)
    start = inner[first]
    if start[-1] != route[0]:
        route = route[::-1]
    back = [p for end in inner if end != first for p in inner[end][::-1]]
    points = _joined([*start, *route[1:], *back[1:]] if back else [*start, *route[1:]])
    parts.conductors.append(ConductorPlace(f"{cable}/1", tuple(sorted(inner)), points, (2, 2 if back else 0)))


def _joined(points: list[Point]) -> tuple[Point, ...]:
    """The same path without points that lie on a straight stretch."""
    kept: list[Point] = []
    for point in points:
        if kept and kept[-1] == point:
            continue
        if len(kept) > 1 and (kept[-2][0] == kept[-1][0] == point[0] or kept[-2][1] == kept[-1][1] == point[1]):
            kept.pop()
        kept.append(point)
    return tuple(kept)
