"""From levels and places to a sheet in absolute coordinates: enclosures, terminals, conductors, sheaths, tags."""

from __future__ import annotations

from sheetgen.draw.layout.hang import hang, hung_height
from sheetgen.draw.layout.lanes import MIDDLE_CHANNEL, TOP_CHANNEL, nets_of
from sheetgen.draw.layout.parts import IN, Parts, set_mouth, tag_at
from sheetgen.draw.layout.scene import BOTTOM, CEILING, TOP, WALL, Entry, Inside, Post, Scene, Strand
from sheetgen.draw.layout.strip import row_middles
from sheetgen.draw.typeface import text_width
from sheetgen.model.layout import (
    AccessoryPlace,
    ConductorPlace,
    Frame,
    Landing,
    MarkPlace,
    SheathPlace,
    Sheet,
    TerminalPlace,
    Words,
)
from sheetgen.model.wiring import Wiring

TITLE_LINE = 320
Point = tuple[int, int]


def assemble(scene: Scene, wiring: Wiring) -> Sheet:
    """Fix every point of the sheet.

    Requires: inside, at, lanes.
    Ensures: a Sheet with its top left corner at (0, 0) and nothing beyond its width and height.
    """
    levels = _heights(scene)
    parts = Parts()
    for row in (CEILING, WALL):
        for key in scene.order.get(row, ()):
            post, inside = scene.posts[key], scene.inside[key]
            if post.mark:
                _set_mark(post, inside, scene, levels[row], parts)
            else:
                _set_accessory(post, inside, scene, levels[row], parts)
                if post.hanging:
                    hang(post.hanging, parts, levels["hang"], scene.style, wiring)
    _set_routes(scene, wiring, levels, parts)
    width = max((scene.at[k] + scene.inside[k].reach[1] for k in scene.at), default=0)
    return Sheet(
        scene.number, width, levels["foot"], tuple(parts.accessories), tuple(parts.conductors), tuple(parts.landings),
        tuple(parts.sheaths), tuple(parts.tags), tuple(parts.marks),
    )


def _heights(scene: Scene) -> dict[str, int]:
    """The y of the rows' upper edges, of the lampholders, of the channels, and of the sheet's foot."""
    m = scene.style.measures
    tag_room = m["tag stand"] + m["tag height"] + m["lane"] // 2
    posts, inside = scene.posts, scene.inside
    nets = nets_of(scene)
    ceiling = scene.order.get(CEILING, ())
    wall = scene.order.get(WALL, ())
    entered = {row: any(e.edge == TOP for k in scene.order.get(row, ()) for e in posts[k].entries)
               for row in (CEILING, WALL)}
    y = m["lane"] // 2 + scene.depth[TOP_CHANNEL] if nets[TOP_CHANNEL] else 0
    found = {TOP_CHANNEL: m["lane"] // 2}
    found[CEILING] = y + (tag_room if entered[CEILING] else 0)
    roses = [k for k in ceiling if posts[k].hanging]
    tagged = {k: any(e.edge == BOTTOM and e.sheathed and not e.hangs for e in posts[k].entries) for k in ceiling}
    bottoms = [found[CEILING] + inside[k].height + (tag_room if tagged[k] else m["lane"] // 2) for k in ceiling]
    found["hang"] = max((found[CEILING] + inside[k].height for k in roses), default=0) + m["hang"]
    lamps = [found["hang"] + hung_height(posts[k].hanging, scene.style) + m["pad"] for k in roses]
    under = max([*bottoms, *lamps], default=m["lane"] // 2)
    found[MIDDLE_CHANNEL] = under
    found[WALL] = under
    if wall:
        gap = m["between"] if ceiling and not nets[MIDDLE_CHANNEL] else 0
        found[WALL] = under + scene.depth[MIDDLE_CHANNEL] + gap + (tag_room if entered[WALL] else 0)
    ends = [found[posts[k].row] + inside[k].height for k in (*ceiling, *wall)]
    found["foot"] = max([*ends, *lamps, under if nets[MIDDLE_CHANNEL] else 0])
    return found


def _set_accessory(post: Post, inside: Inside, scene: Scene, top: int, parts: Parts) -> None:
    x = scene.at[post.key]
    frame = Frame(x + inside.box[0], top, inside.box[1] - inside.box[0], inside.height)
    middles = [[top + y for y in ys] for ys in row_middles(post, inside, scene.style)]
    parts.accessories.append(AccessoryPlace(
        post.key, frame, _titles(post, x + inside.title_at, top, scene), _terminals(post, inside, middles, x, scene),
        _devices(post, inside, x, scene), board=post.rank < 0,
    ))
    for entry in post.entries:
        _set_entry(entry, post, inside, scene, frame, middles, parts)
    for a, b in post.links:
        (xa, ya), (xb, yb) = (_port(s, inside, x, middles) for s in (a, b))
        track = x + inside.tracks[a.key]
        parts.conductors.append(ConductorPlace(a.core, (a.end, b.end), ((xa, ya), (track, ya), (track, yb), (xb, yb)),
                                               (4, 0)))
        parts.landings += [_landing(s, post, inside, x, middles, scene) for s in (a, b)]


def _devices(post: Post, inside: Inside, x: int, scene: Scene) -> tuple[tuple[int, int], ...]:
    """The two columns of every switch and load: between the terminals of a split strip, else right of the names."""
    wide = scene.style.measures["device"]
    if post.split:
        return tuple((x - wide // 2 + 60, x + wide // 2 - 60) for _ in post.devices)
    first = x + inside.strip - post.columns * wide
    return tuple((first + i * wide + 120, first + (i + 1) * wide - 180) for i in post.devices)


def _titles(post: Post, x: int, top: int, scene: Scene) -> tuple[Words, ...]:
    y = top + scene.style.measures["pad"] // 2
    return tuple(Words(t.text, t.role, x, y + TITLE_LINE * (i + 1) - 75, t.width) for i, t in enumerate(post.titles))


def _terminals(post: Post, inside: Inside, middles, x: int, scene: Scene) -> tuple[TerminalPlace, ...]:
    m = scene.style.measures
    found = []
    for group, ys in zip(post.groups, middles, strict=True):
        if not ys or group.left is None:
            continue
        top, height = ys[0] - m["row"] // 2, len(ys) * m["row"]
        lines = tuple(y + m["row"] // 2 for y in ys[:-1])
        half = inside.strip - m["device"] // 2
        sides = [(group.left, x - inside.strip, 2 * inside.strip)]
        if group.left != group.right:
            sides = [(group.left, x - inside.strip, half), (group.right, x + inside.strip - half, half)]
        for name, left, width in sides:
            room = width - (0 if post.split else m["device"] * post.columns)
            text = post.accessory.label(name)
            wide = text_width(text, scene.style.letterings["terminal"])
            words = Words(text, "terminal", left + room // 2, (ys[0] + ys[-1]) // 2 + 88, wide)
            found.append(TerminalPlace(name, Frame(left, top, width, height), words, lines, group.connector))
    return tuple(found)


def _port(strand: Strand, inside: Inside, x: int, middles) -> Point:
    side, group, row = inside.ports[strand.key]
    return x + side * inside.strip, middles[group][row]


def _landing(strand: Strand, post: Post, inside: Inside, x: int, middles, scene: Scene) -> Landing:
    m = scene.style.measures
    at, y = _port(strand, inside, x, middles)
    side = inside.ports[strand.key][0]
    near = m["port"] + m["stub gap"]
    sleeve = at + side * near - (m["sleeve"] if side < 0 else 0)
    start = near + m["sleeve"] + m["stub gap"]
    code = Words(strand.label, "code", at + side * (start + strand.width // 2), y + 82, strand.width)
    return Landing(
        strand.core, strand.end, post.key, strand.terminal, (at, y), side, code,
        Frame(sleeve, y - m["sleeve height"] // 2, m["sleeve"], m["sleeve height"]),
    )


def _set_entry(entry: Entry, post: Post, inside: Inside, scene: Scene, frame: Frame, middles, parts: Parts) -> None:
    m = scene.style.measures
    x = scene.at[post.key]
    down = 1 if entry.edge == TOP else -1
    edge = frame.y if entry.edge == TOP else frame.y + frame.height
    lip = edge + down * (IN + m["mouth"]) if entry.sheathed else edge
    for s in entry.strands:
        track = x + inside.tracks[s.key]
        at, y = _port(s, inside, x, middles)
        points = [(at, y), (track, y), (track, lip)]
        parts.landings.append(_landing(s, post, inside, x, middles, scene))
        if entry.sheathed:
            parts.conductors.append(ConductorPlace(s.core, (s.end,), tuple(points), (3, 0)))
        else:
            parts.inner.setdefault(s.core.rpartition("/")[0], {})[s.end] = points
    for cable in entry.cables:
        parts.pins[cable, post.key] = (x + inside.pins[cable], edge)
    if entry.sheathed:
        tracks = [x + inside.tracks[s.key] for s in entry.strands]
        cable, end = entry.cables[0], entry.strands[0].end
        pin = x + inside.pins[cable]
        set_mouth(parts, cable, end, post.key, (pin, edge), down, (min(tracks), max(tracks)), entry.hangs, scene.style)
        y = edge - down * (m["tag stand"] + m["tag height"] // 2)
        parts.tags.append(tag_at(cable, entry.tag, pin, y, scene.style))


def _set_mark(post: Post, inside: Inside, scene: Scene, top: int, parts: Parts) -> None:
    number, sheet, onward = post.mark
    x = scene.at[post.key]
    m = scene.style.measures
    frame = Frame(x + inside.box[0], top, inside.box[1] - inside.box[0], inside.height)
    middle = x + inside.title_at
    words = tuple(
        Words(t.text, t.role, middle, top + m["pad"] + 330 * i + 245, t.width) for i, t in enumerate(post.titles)
    )
    cables = tuple(c for entry in post.entries for c in entry.cables)
    parts.marks.append(MarkPlace(number, sheet, onward, cables, frame, words))
    for entry in post.entries:
        for cable in entry.cables:
            parts.pins[cable, post.key] = (x + inside.pins[cable], top)
        if entry.sheathed:
            y = top - m["tag stand"] - m["tag height"] // 2
            parts.tags.append(tag_at(entry.cables[0], entry.tag, x + inside.pins[entry.cables[0]], y, scene.style))


def _set_routes(scene: Scene, wiring: Wiring, levels: dict[str, int], parts: Parts) -> None:
    """Sheaths and singles from edge to edge."""
    for channel, nets in nets_of(scene).items():
        for cable, ((a, _), (b, _), sheathed) in nets.items():
            level = scene.lanes[channel].get(cable)
            start, end = parts.pins[cable, a], parts.pins[cable, b]
            y = None if level is None else levels[channel] + level
            route = [start, end] if y is None else [start, (start[0], y), (end[0], y), end]
            if sheathed:
                _set_sheath(cable, route, wiring.cable(cable).flex, parts)
            else:
                _set_single(cable, route, parts)


def _set_sheath(cable: str, route: list[Point], flex: bool, parts: Parts) -> None:
    """A sheath from where it opens at one end to where it opens, or is cut, at the other."""
    mouths, points = parts.mouths.get(cable, []), list(route)
    for mouth in mouths:
        lip = mouth.corners[0][1]
        x = (mouth.corners[0][0] + mouth.corners[1][0]) // 2
        for i in (0, -1):
            if points[i][0] == x and abs(points[i][1] - lip) == IN:
                points[i] = (x, lip)
    parts.sheaths.append(SheathPlace(cable, flex, tuple(points), tuple(mouths)))


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
