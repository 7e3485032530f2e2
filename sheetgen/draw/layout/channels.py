"""The level stretches of cables: which lies over which in the channel above the ceiling row and in the one between."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from sheetgen.draw.layout.scene import CEILING, GUTTER, TOP, WALL, ChannelRoute, Scene

TOP_CHANNEL, MIDDLE_CHANNEL = "top", "middle"
EXACT = 11  # routes whose order is found exactly
CLASH = 100  # two upright stretches that would lie on one another
PARTED, ASIDE = 60, 150  # how often, and how far, accessories are moved to part such stretches
NEAR = 360  # upright stretches nearer than this must not meet
RouteEnds = tuple[tuple[str, bool], tuple[str, bool], bool]
"""Enclosure and whether it is above the channel, twice; whether it is sheathed."""


def set_levels(scene: Scene) -> Scene:
    """Give every route its level.

    Requires: inside, at.
    Ensures: `levels` and `depth` for both channels: no two stretches lie on one another, crossings are the fewest for
    these pins (up to EXACT routes), and levels are as few as the order allows. Where upright stretches would lie on one
    another in every order, accessories of the wall row are moved aside until they do not: `at`.
    """
    sides: dict[str, int] = {}
    for _ in range(PARTED):
        found, depth, clash = {}, {}, None
        for channel, routes in placed_routes(scene).items():
            order = _order(routes)
            clash = clash or _clash(order)
            found[channel], depth[channel] = _tracks(order, scene)
        if clash is None:
            return replace(scene, levels=found, depth=depth)
        scene = _parted(scene, clash, sides)
    return set_levels(_side_by_side(scene))


def _side_by_side(scene: Scene) -> Scene:
    """The wall row wholly to the right of the ceiling row: no upright stretch then meets another."""
    at, inside = scene.at, scene.inside
    low = min(at[k] + inside[k].reach[0] for k in scene.order[WALL])
    high = max(at[k] + inside[k].reach[1] for k in scene.order[CEILING])
    return scene.moved_to_edge({**at, **{k: at[k] + high + NEAR - low for k in scene.order[WALL]}})


def _clash(order: Sequence[ChannelRoute]) -> str | None:
    """A route that would lie on another's upright stretch even in the best order."""
    for i, a in enumerate(order):
        for b in order[i + 1:]:
            if over(a, b) >= CLASH:
                return a.cable
    return None


def _parted(scene: Scene, cable: str, sides: dict[str, int]) -> Scene:
    """Move the accessory below at which the route ends a little to the side that moves the fewest others; then on."""
    ends = routes_of(scene)[MIDDLE_CHANNEL][cable]
    below = next(enclosure for enclosure, above in ends[:2] if not above)
    keys = scene.order[scene.enclosures[below].row]
    place = keys.index(below)
    right = _pushed(scene, keys[place:], 1)
    left = _pushed(scene, keys[place::-1], -1)
    side = sides.setdefault(below, -1 if len(left) < len(right) else 1)
    at = {**scene.at, **(left if side < 0 else right)}
    return scene.moved_to_edge(at)


def _pushed(scene: Scene, keys: Sequence[str], side: int) -> dict[str, int]:
    """The first of these accessories moved to one side, and each further one as far as it must give way."""
    between = scene.style.measures["between"]
    moved = {keys[0]: scene.at[keys[0]] + side * ASIDE}
    for last, key in pairwise(keys):
        right, left = (key, last) if side > 0 else (last, key)
        apart = scene.inside[left].reach[1] - scene.inside[right].reach[0] + between
        must = moved[last] + side * apart
        if side * (scene.at[key] - must) >= 0:
            break
        moved[key] = must
    return moved


def routes_of(scene: Scene) -> dict[str, dict[str, RouteEnds]]:
    """channel -> cable -> its two enclosures; a pendant's flex is in no channel."""
    seen: dict[str, list[tuple[str, bool, str, bool]]] = {}
    for key, enclosure in scene.enclosures.items():
        for entry in enclosure.entries:
            if not entry.hangs:
                for cable in entry.routes:
                    seen.setdefault(cable, []).append((key, entry.edge != TOP, enclosure.row, entry.sheathed))
    channels: dict[str, dict[str, RouteEnds]] = {TOP_CHANNEL: {}, MIDDLE_CHANNEL: {}}
    for cable, ends in seen.items():
        (a, a_up, a_row, sheathed), (b, b_up, b_row, _) = ends
        own = [row == CEILING and not up for up, row in ((a_up, a_row), (b_up, b_row)) if row != GUTTER]
        channels[TOP_CHANNEL if all(own) else MIDDLE_CHANNEL][cable] = ((a, a_up), (b, b_up), sheathed)
    return channels


def placed_routes(scene: Scene) -> dict[str, list[ChannelRoute]]:
    """channel -> routes with the x of their pins."""
    at, inside = scene.at, scene.inside
    return {
        channel: [
            ChannelRoute(
                cable, ((at[a] + inside[a].pins[cable], a_up), (at[b] + inside[b].pins[cable], b_up)), sheathed
            )
            for cable, ((a, a_up), (b, b_up), sheathed) in routes.items()
        ]
        for channel, routes in routes_of(scene).items()
    }


def straight(route: ChannelRoute) -> bool:
    """One upright line from the row above to the row below."""
    (a, a_up), (b, b_up) = route.pins
    return a == b and a_up != b_up


def over(a: ChannelRoute, b: ChannelRoute) -> int:
    """Crossings if a lies over b: a's legs going down through b, b's legs going up through a; and clashes."""
    (al, ah), (bl, bh) = a.span, b.span
    count = 0
    for x, up in a.pins:
        if not up and bl < x < bh:
            count += 1
    for x, up in b.pins:
        if up and al < x < ah:
            count += 1
    for x, x_up in a.pins:
        for y, y_up in b.pins:
            if not x_up and y_up and abs(x - y) < (NEAR if a.sheathed or b.sheathed else NEAR // 2):
                count += CLASH
    return count


def _order(routes: Sequence[ChannelRoute]) -> list[ChannelRoute]:
    """Every route with a level stretch, top first."""
    bent = [route for route in routes if not straight(route)]
    bent.sort(key=lambda n: (n.span[0] - n.span[1], n.cable))
    costs = [[over(a, b) for b in bent] for a in bent]
    rest, lowest = _lowest(costs)
    theirs = [[costs[i][j] for j in rest] for i in rest]
    placed = _exact(theirs) if len(rest) <= EXACT else _sifted(theirs)
    return [bent[i] for i in [*(rest[i] for i in placed), *lowest]]


def _lowest(costs: list[list[int]]) -> tuple[list[int], list[int]]:
    """The routes for which an order is to be sought, and those under them, top first: none of all that is over it
    would cost less under it."""
    rest = list(range(len(costs)))
    lowest: list[int] = []
    while True:
        under = [i for i in rest if all(costs[j][i] <= costs[i][j] for j in rest)]
        if not under:
            return rest, lowest[::-1]
        lowest.append(under[-1])
        rest.remove(under[-1])


def _exact(costs: list[list[int]]) -> list[int]:
    """The order, top first, with the fewest crossings: dynamic programming over sets of routes already placed."""
    n = len(costs)
    below = [_sums([costs[i][last] for i in range(n)]) for last in range(n)]  # what it crosses under each set
    best: list[tuple[int, int]] = [(0, -1)] * (1 << n)
    for taken in range(1, 1 << n):
        cost, last = min((best[rest][0] + below[last][rest], -last) for last in range(n) if taken >> last & 1
                         for rest in (taken & ~(1 << last),))
        best[taken] = (cost, -last)
    order, taken = [], (1 << n) - 1
    while taken:
        last = best[taken][1]
        order.append(last)
        taken &= ~(1 << last)
    return order[::-1]


def _sums(costs: list[int]) -> list[int]:
    """The sum of every set of some costs, a set as the bits of a number."""
    sums = [0]
    for cost in costs:
        sums += [known + cost for known in sums]
    return sums


def _sifted(costs: list[list[int]]) -> list[int]:
    """A good order of many: take out and put back one route at a time where it costs least."""
    order = list(range(len(costs)))
    for _ in range(8):
        before = list(order)
        for route in before:
            order.remove(route)
            cost = sum(costs[route][i] for i in order)
            least, place = cost, 0
            for position, other in enumerate(order, 1):
                cost += costs[other][route] - costs[route][other]
                if cost < least:
                    least, place = cost, position
            order.insert(place, route)
        if order == before:
            break
    return order


def _tracks(order: Sequence[ChannelRoute], scene: Scene) -> tuple[dict[str, int], int]:
    """The y of each route from the channel's top.

    As high as those over it allow where their spans meet; then routes with both ends below as low as those under them
    allow.
    """
    levels: dict[str, int] = {}
    for i, route in enumerate(order):
        over_it = [levels[o.cable] + _apart(route, o, scene) for o in order[:i] if _meet(route, o, scene)]
        levels[route.cable] = max(over_it, default=0)
    depth = max(levels.values(), default=0)
    for i in range(len(order) - 1, -1, -1):
        route = order[i]
        if not any(up for _, up in route.pins):
            under = [levels[o.cable] - _apart(route, o, scene) for o in order[i + 1:] if _meet(route, o, scene)]
            levels[route.cable] = min(under, default=depth)
    return levels, depth


def _apart(a: ChannelRoute, b: ChannelRoute, scene: Scene) -> int:
    return scene.style.measures["lane" if a.sheathed or b.sheathed else "thin lane"]


def _meet(a: ChannelRoute, b: ChannelRoute, scene: Scene) -> bool:
    clear = scene.style.measures["lane"]
    return a.span[0] < b.span[1] + clear and b.span[0] < a.span[1] + clear
