"""Makes drops from ceiling to wall straight that are nearly so: moves the right-hand part of both rows, then mouths."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from sheetgen.draw.layout.channels import MIDDLE_CHANNEL, routes_of, set_levels
from sheetgen.draw.layout.scene import CEILING, WALL, Arrangement, Scene

ROUNDS = 12
LEAST, JOG = 600, 700  # a bend of less than this is a jog, and what a jog costs more
BENT = 400  # what a drop that is not straight costs, against hundredths of a millimetre that it is off
SLID = 200  # how far a sheath's mouth may stand beside the middle of its cores
TAGS_APART = 30
Drop = tuple[str, str, int]  # enclosure above, enclosure below, difference of their pins

Rows = Sequence[tuple[str, ...]]  # ceiling, wall
Places = dict[str, int]  # x of the middle of each strip


def straighten(scene: Scene) -> Scene:
    """Straighten drops.

    Requires: order, inside, at.
    Ensures: no two enclosures come nearer than `place` leaves them, or, where that takes out a jog, than the measure
    `between close`; the rows stay within the paper where they were; the sum of what the drops are off never rises. A
    jog that is left is taken out where its mouths can slide: `inside`.
    """
    if not _drops(scene) or not all(_rows(scene)):
        return scene
    apart, close = (scene.style.measures[name] for name in ("between", "between close"))
    moved = _moved_straight(scene, apart)
    slid = _with_mouths_slid(moved)
    if jogs(slid) and close < apart:
        return min(slid, _with_mouths_slid(_moved_straight(moved, close)), key=jogs)
    return slid


def _rows(scene: Scene) -> Rows:
    return [scene.order.get(row, ()) for row in (CEILING, WALL)]


def _moved_straight(scene: Scene, between: int) -> Scene:
    """Moved as long as that helps, so far apart."""
    drops, rows, at = _drops(scene), _rows(scene), dict(scene.at)
    for _ in range(ROUNDS):
        moved = _best_move(at, rows, drops, scene, between)
        if moved is None:
            break
        at = moved
    return scene.moved_to_edge(at)


def slide_mouths(scene: Scene) -> Scene:
    """Take out jogs that came when what would have lain on another was moved aside.

    Requires and ensures: what `set_levels` ensures.
    """
    return min(scene, set_levels(_with_mouths_slid(scene)), key=jogs) if jogs(scene) else scene


def jogs(scene: Scene) -> int:
    """How many drops bend less than a bend must, to be seen as one."""
    return sum(0 < abs(_off(scene.at, drop)) < LEAST for drop in _drops(scene))


def _with_mouths_slid(scene: Scene) -> Scene:
    """Take the jogs that are left out of drops: the mouths at both ends meet, or stand apart by what a bend must be."""
    inside = dict(scene.inside)
    for cable, ((a, a_up), (b, b_up), sheathed) in routes_of(scene)[MIDDLE_CHANNEL].items():
        if sheathed and a_up != b_up and a in scene.standing and b in scene.standing:
            x, y = (scene.at[key] + inside[key].pins[cable] for key in (a, b))
            (low, high), (least, most) = (_reached(cable, key, inside[key], scene) for key in (a, b))
            slid = _slid(x, y, (low, high), (least, most)) if 0 < abs(x - y) < LEAST else (x, y)
            for key, pin in zip((a, b), slid, strict=True):
                inside[key] = replace(inside[key], pins={**inside[key].pins, cable: pin - scene.at[key]})
    return replace(scene, inside=inside)


def _slid(x: int, y: int, x_may: tuple[int, int], y_may: tuple[int, int]) -> tuple[int, int]:
    """Where two mouths meet that may slide so far; or how they stand apart by what a bend must be; or as they were."""
    low, high = max(x_may[0], y_may[0]), min(x_may[1], y_may[1])
    if low <= high:
        pin = min(max((x + y) // 2, low), high)
        return pin, pin
    if x > y:
        return _slid(y, x, y_may, x_may)[::-1]
    lacking = LEAST - (y - x)
    back = min(x - x_may[0], lacking)
    on = min(y_may[1] - y, lacking - back)
    return (x - back, y + on) if back + on == lacking else (x, y)


def _reached(cable: str, key: str, way: Arrangement, scene: Scene) -> tuple[int, int]:
    """From where to where a cable's mouth may slide, its tag clear of others, and hardly beyond the enclosure."""
    enclosure, pin = scene.enclosures[key], way.pins[cable]
    if not enclosure.groups and not enclosure.mark:
        return scene.at[key] + pin, scene.at[key] + pin
    edge = next(e.edge for e in enclosure.entries if e.run == cable)
    tags = {e.run: e.tag // 2 for e in enclosure.entries if e.edge == edge and e.sheathed}
    own = tags.pop(cable)
    left, right = _beside(key, scene)
    low, high = max(pin - SLID, way.reach[0] + own - left), min(pin + SLID, way.reach[1] - own + right)
    for other, half in tags.items():
        if way.pins[other] < pin:
            low = max(low, way.pins[other] + own + half + TAGS_APART)
        else:
            high = min(high, way.pins[other] - own - half - TAGS_APART)
    return scene.at[key] + min(low, pin), scene.at[key] + max(high, pin)


def _beside(key: str, scene: Scene) -> tuple[int, int]:
    """How far a tag may stand out beside an enclosure, on the left and on the right: the neighbour's may as well."""
    def lies(it: str) -> tuple[int, int]:
        return scene.at[it] + scene.inside[it].reach[0], scene.at[it] + scene.inside[it].reach[1]

    keys = next(keys for keys in scene.order.values() if key in keys)
    place, (low, high) = keys.index(key), lies(key)
    before, after = keys[:place], keys[place + 1:]
    left = (low - lies(before[-1])[1] - TAGS_APART) // 2 if before else low - min(lies(k)[0] for k in scene.standing)
    right = (lies(after[0])[0] - high - TAGS_APART) // 2 if after else max(lies(k)[1] for k in scene.standing) - high
    return max(left, 0), max(right, 0)


def _drops(scene: Scene) -> list[Drop]:
    found = []
    for cable, ((a, a_up), (b, b_up), _) in routes_of(scene)[MIDDLE_CHANNEL].items():
        if a_up != b_up and a in scene.standing and b in scene.standing:
            above, below = (a, b) if a_up else (b, a)
            found.append((above, below, scene.inside[above].pins[cable] - scene.inside[below].pins[cable]))
    return found


def _off(at: Mapping[str, int], drop: Drop) -> int:
    a, b, d = drop
    return at[b] - at[a] - d


def _cost(off: int) -> int:
    if not off:
        return 0
    return abs(off) + BENT + (JOG if abs(off) < LEAST else 0)


CHEAPEST = min(_cost(1), _cost(LEAST))  # of what bends


def _shifts(off: int) -> list[int]:
    """The moves that make a drop straight; or where it is nearly so, that make its bend large enough to be seen."""
    aims = (0, LEAST, -LEAST) if abs(off) < LEAST else (0,)
    return [aim - off for aim in aims]


def _best_move(at: Places, rows: Rows, drops: list[Drop], scene: Scene, between: int) -> Places | None:
    """The move of the right-hand parts of both rows that helps most, or else of one enclosure; or None."""
    most, best = 0, None
    known: dict[frozenset[tuple[int, int]], list[tuple[int, int]]] = {}
    for i, j, parted in _cuts(at, rows, drops):
        offs = frozenset(parted.items())
        if offs not in known:
            known[offs] = _gains(parted)
        for shift, gain in known[offs]:
            if gain > most:
                part = {*rows[0][i:], *rows[1][j:]}
                if _room(at, rows, ((i, len(rows[0])), (j, len(rows[1]))), part, shift, scene, between):
                    most, best = gain, _moved(at, part, shift)
    if best is not None:
        return best
    of_one: dict[str, Counter[int]] = {}
    for drop in drops:
        off = _off(at, drop)
        of_one.setdefault(drop[0], Counter())[-off] += 1
        of_one.setdefault(drop[1], Counter())[off] += 1
    for r, i in [(r, i) for r, row in enumerate(rows) for i in range(len(row))]:
        part, pieces = {rows[r][i]}, [(0, 0), (0, 0)]
        pieces[r] = (i, i + 1)
        for shift, gain in _gains(of_one.get(rows[r][i], Counter())):
            if gain > most and _room(at, rows, pieces, part, shift, scene, between):
                most, best = gain, _moved(at, part, shift)
    return best


def _cuts(at: Places, rows: Rows, drops: Sequence[Drop]) -> Iterator[tuple[int, int, Counter[int]]]:
    """Every place to cut both rows, with the drops of which a move there moves one end, as `_gains` counts them."""
    above = {key: i for i, key in enumerate(rows[0])}
    below: dict[str, list[tuple[int, int]]] = {}  # lower enclosure -> place of the upper one, and what the drop is off
    for drop in drops:
        below.setdefault(drop[1], []).append((above[drop[0]], _off(at, drop)))
    for i in range(len(rows[0]) + 1):
        parted = Counter(off for found in below.values() for place, off in found if place < i)  # their lower ends move
        yield i, 0, parted
        for j, key in enumerate(rows[1], 1):
            for place, off in below.get(key, ()):
                moves, by = (-off, 1) if place >= i else (off, -1)
                parted[moves] += by
                if not parted[moves]:
                    del parted[moves]
            yield i, j, parted


def _moved(at: Places, part: set[str], shift: int) -> Places:
    return {k: x + shift if k in part else x for k, x in at.items()}


def _gains(parted: Mapping[int, int]) -> list[tuple[int, int]]:
    """Shifts of a part that make a drop straight, with what each gains, where it gains anything.

    `parted`: how far a move of the part has drops off, and how many: what a drop is off where its lower end moves, and
    minus that where its upper end does.
    """
    straight = parted.get(0, 0)
    bent = {off: many for off, many in parted.items() if off}
    cost = sum(_cost(off) * many for off, many in bent.items())
    if cost <= straight * CHEAPEST:
        return []
    found = []
    for shift in sorted({shift for off in bent for shift in _shifts(off)}):
        left = cost - straight * _cost(shift)
        if left > 0:
            gain = left - sum(_cost(off + shift) * many for off, many in bent.items())
            if gain > 0:
                found.append((shift, gain))
    return found


def _room(
    at: Places, rows: Rows, pieces: Sequence[tuple[int, int]], part: set[str], shift: int, scene: Scene, between: int
) -> bool:
    """Whether there is room for the move of a piece of each row: between neighbours, and on the paper."""
    inside = scene.inside
    for row, piece in zip(rows, pieces, strict=True):
        for cut, away in zip(piece, (shift, -shift), strict=True):
            if piece[0] < piece[1] and 0 < cut < len(row):
                last, first = row[cut - 1], row[cut]
                gap = at[first] + inside[first].reach[0] - at[last] - inside[last].reach[1]
                if gap + away < between:
                    return False
    low, high = (
        [at[k] + inside[k].reach[side] + (shift if k in part else 0) for k in (keys[place] for keys in rows)]
        for side, place in ((0, 0), (1, -1)))
    return max(high) - min(low) <= scene.width
