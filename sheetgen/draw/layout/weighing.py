"""What ways into all accessories of a band cost together: crossings, detours, ends that leave backwards."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from collections.abc import Set as AbstractSet
from itertools import combinations, product
from typing import NamedTuple

from sheetgen.draw.layout.channels import CLASH, NEAR, RouteEnds, routes_of
from sheetgen.draw.layout.scene import Arrangement, Scene

SHEATHS_CROSS, SINGLES_CROSS = 3.0, 1.2
PER_MM = 0.02  # of length between the pins
BEND = 0.25
BACKWARDS = 0.5  # for an end that leaves on the side away from where the route goes
TOO_WIDE = 0.5  # for every mm that a row is wider than the paper
SAME, NEVER = 1e-9, float("inf")  # costs that differ by less are the same
PAIRED = 5  # ways of each of two joined accessories that are tried together
UPRIGHT = 2000  # of a run's length, about what is not level
_Lie = tuple[int, bool, int, bool, int, int, bool, int]
"""x and whether from above, twice; leftmost, rightmost; sheathed; at how many ends it leaves backwards."""


class Drawbacks(NamedTuple):
    """What may be held against a choice."""

    crossings: int
    backwards: int  # ends of routes
    outside: int  # crossings between enclosures
    cost: float  # of everything else too
    width: int  # but no less than the paper's


class Choice:
    """The choice so far, and the routes as they then lie; knows what a change would cost.

    What ways into two accessories cost together is at least what each costs with only its own routes moved; so most
    pairs are passed over unmeasured.
    """

    def __init__(self, scene: Scene, alike: Choice | None = None):
        """`alike`: a choice for the same accessories in the same order, to take over what does not go by the ways."""
        self.scene = scene
        self.inside: dict[str, Arrangement] = dict(scene.inside)
        self.channels: list[dict[str, RouteEnds]] = (
            alike.channels if alike else [routes for routes in routes_of(scene).values() if routes])
        self.placed = [{cable: self._lie_of(cable, ends) for cable, ends in routes.items()} for routes in self.channels]
        self.touching: dict[str, set[str]] = alike.touching if alike else {
            key: {c for e in enclosure.entries for c in e.routes} for key, enclosure in scene.enclosures.items()
        }
        self.row_of: dict[str, str] = (
            alike.row_of if alike else {key: row for row, keys in scene.order.items() for key in keys})
        self.wide = self._widths(self.inside)

    def _widths(self, inside: Mapping[str, Arrangement]) -> dict[str, int]:
        """How wide each row is."""
        between = self.scene.style.measures["between"]
        order = self.scene.order
        return {row: sum([_wide(inside[key]) + between for key in keys]) - between for row, keys in order.items()}

    def whole(self, least: float = NEVER) -> float:
        """What everything costs; at least `least` as soon as it is no less."""
        return self.cost(tuple(self.inside), set().union(*self.touching.values()), least)

    def before_routes(self, inside: Mapping[str, Arrangement]) -> float:
        """What these ways into all accessories cost before a route is laid."""
        return self._in_themselves(inside, inside, self._widths(inside))

    def _in_themselves(self, keys: Iterable[str], inside: Mapping[str, Arrangement], wide: Mapping[str, int]) -> float:
        total = sum([inside[key].cost for key in keys])
        return total + TOO_WIDE * sum([max(0, width - self.scene.width) for width in wide.values()]) / 100

    def crossed(self) -> list[str]:
        """The accessories with a route that crosses another, or with more crossings within than they need."""
        met: set[str] = set()
        for placed in self.placed:
            lies = list(placed.items())
            for i, (cable, lie) in enumerate(lies):
                met.update(c for other, its in lies[i + 1:] if _crossed(lie, its) for c in (cable, other))
        return [key for row in self.scene.order.values() for key in row
                if self.touching[key] & met or self.inside[key].crossings > self.scene.choices[key][0].crossings]

    def backwards(self) -> int:
        """How many ends of runs pass back over the middle of their enclosure."""
        return len(self.leaving_backwards())

    def leaving_backwards(self) -> list[tuple[str, str]]:
        """The enclosures at every end that passes back over the middle of its enclosure: its own, and the other."""
        return [
            (key, beyond)
            for routes, placed in zip(self.channels, self.placed, strict=True)
            for cable, (x, _, y, *_) in placed.items() if x != y
            for key, beyond, pin, other in (
                (routes[cable][0][0], routes[cable][1][0], x, y), (routes[cable][1][0], routes[cable][0][0], y, x))
            if self._away(key, pin, other, sum(self.inside[key].box) // 2)
        ]

    def outside(self) -> int:
        """Crossings between enclosures."""
        return sum(_crossed(lie, its) for placed in self.placed for lie, its in combinations(placed.values(), 2))

    def length(self) -> int:
        """About how long cables and trunks are, all together."""
        return sum(lie[5] - lie[4] + UPRIGHT for placed in self.placed for lie in placed.values() if lie[6])

    def width(self) -> int:
        """How far the rows reach, but no less than the paper does."""
        return max(self.scene.width, *(self.scene.at[k] + self.inside[k].reach[1] for k in self.scene.standing))

    def drawbacks(self) -> Drawbacks:
        """What may be held against the choice."""
        inside, outside = sum(way.crossings for way in self.inside.values()), self.outside()
        paid = BACKWARDS * sum(lie[7] for placed in self.placed for lie in placed.values())
        return Drawbacks(inside + outside, self.backwards(), outside, self.whole() - paid, self.width())

    def improve(self, key: str) -> None:
        """Take the best of the ways into this accessory, the others staying as they are."""
        best, touched = self.inside[key], self.touching[key]
        least = self.cost((key,), touched)
        for way in self.scene.choices[key]:
            if way is best:
                continue
            self._take(key, way)
            cost = self.cost((key,), touched, least)
            if cost < least - SAME:
                best, least = way, cost
        self._take(key, best)
        self._lay(touched)

    def improve_both(self, a: str, b: str) -> None:
        """Take the best pair of the ways into these accessories, the others staying as they are."""
        both = self.touching[a] | self.touching[b]
        best = self.inside[a], self.inside[b]
        least = self.cost((a, b), both)
        ways = {key: self.scene.choices[key][:PAIRED] for key in (a, b)}
        bounds = {a: self._bounds(a, self.touching[a] - self.touching[b], both),
                  b: self._bounds(b, self.touching[b] - self.touching[a], both)}
        for (i, one), (j, two) in product(enumerate(ways[a]), enumerate(ways[b])):
            if bounds[a][i] + bounds[b][j] >= least - SAME:
                continue
            self._take(a, one)
            self._take(b, two)
            cost = self.cost((a, b), both, least)
            if cost < least - SAME:
                best, least = (one, two), cost
        self._take(a, best[0])
        self._take(b, best[1])
        self._lay(both)

    def _bounds(self, key: str, own: set[str], both: set[str]) -> list[float]:
        """For each way into an accessory what at least it costs, whatever becomes of the routes in `both`."""
        before, found = self.inside[key], []
        for way in self.scene.choices[key][:PAIRED]:
            self._take(key, way)
            self._lay(own)
            found.append(way.cost + sum(
                self._crossings(routes, placed, own, NEVER, both - own)
                for routes, placed in zip(self.channels, self.placed, strict=True)
            ))
        self._take(key, before)
        self._lay(own)
        return found

    def _take(self, key: str, way: Arrangement) -> None:
        self.wide[self.row_of[key]] += _wide(way) - _wide(self.inside[key])
        self.inside[key] = way

    def _lay(self, touched: set[str]) -> None:
        """Lay the routes as the ways taken say."""
        for routes, placed in zip(self.channels, self.placed, strict=True):
            for cable in touched:
                if cable in routes:
                    placed[cable] = self._lie_of(cable, routes[cable])

    def cost(self, keys: tuple[str, ...], touched: set[str], least: float = NEVER) -> float:
        """What the ways taken cost with all routes that touch them; at least `least` as soon as it is no less."""
        total = self._in_themselves(keys, self.inside, self.wide)
        if total >= least:
            return total
        self._lay(touched)
        for routes, placed in zip(self.channels, self.placed, strict=True):
            total += self._crossings(routes, placed, touched, least - total)
            if total >= least:
                break
        return total

    def _crossings(self, routes: Mapping[str, RouteEnds], placed: dict[str, _Lie], touched: set[str], least: float,
                   without: AbstractSet[str] = frozenset()) -> float:
        """Length, bends and crossings of the routes touched, but for their crossings with those in `without`."""
        moved = [cable for cable in routes if cable in touched]
        total = 0.0
        for cable in moved:
            _, _, _, _, low, high, _, backwards = placed[cable]
            total += PER_MM * (high - low) / 100 + (BEND if low != high else 0.0) + BACKWARDS * backwards
        for cable in moved:
            if total >= least:
                break
            route = placed[cable]
            low, high, sheathed = route[4] - NEAR, route[5] + NEAR, route[6]
            for other, its in placed.items():
                if its[5] < low or high < its[4] or other in without or (other in touched and other <= cable):
                    continue
                crossed = _crossed(route, its)
                if crossed:
                    total += crossed * (SHEATHS_CROSS if sheathed and its[6] else SINGLES_CROSS)
        return total

    def _lie_of(self, cable: str, ends: RouteEnds) -> _Lie:
        (a, a_up), (b, b_up), sheathed = ends
        x = self.scene.at[a] + self.inside[a].pins[cable]
        y = self.scene.at[b] + self.inside[b].pins[cable]
        backwards = (x != y) * (self._away(a, x, y) + self._away(b, y, x))
        low, high = (x, y) if x < y else (y, x)
        return x, a_up, y, b_up, low, high, sheathed, backwards

    def _away(self, key: str, pin: int, other: int, beside: int = 0) -> bool:
        """Whether a route that leaves at `pin` passes back over its own strip, or the line so far beside its middle."""
        middle = self.scene.at[key] + beside
        return pin < middle < other or other < middle < pin


def drawbacks_of(scene: Scene) -> Drawbacks:
    """What may be held against a band that is laid out."""
    return Choice(scene).drawbacks()


def _wide(way: Arrangement) -> int:
    return way.reach[1] - way.reach[0]


def _crossed(a: _Lie, b: _Lie) -> int:
    """The fewest crossings of two routes near one another, in either order: as `levels.over`, for both at once."""
    ax, a_up, ay, a_too, a_low, a_high, a_wide, _ = a
    bx, b_up, by, b_too, b_low, b_high, b_wide, _ = b
    a_over = b_over = 0
    near = NEAR if a_wide or b_wide else NEAR // 2
    for x, up in ((ax, a_up), (ay, a_too)):
        if b_low < x < b_high:
            if up:
                b_over += 1
            else:
                a_over += 1
        for y, its in ((bx, b_up), (by, b_too)):
            if up != its and -near < x - y < near:
                if up:
                    b_over += CLASH
                else:
                    a_over += CLASH
    for x, up in ((bx, b_up), (by, b_too)):
        if a_low < x < a_high:
            if up:
                a_over += 1
            else:
                b_over += 1
    return min(a_over, b_over)
