"""Which way into each accessory: weighed over the whole sheet, for few crossings and short detours."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

from sheetgen.wiring_to_layout.lanes import CLASH, NEAR, nets_of
from sheetgen.wiring_to_layout.place import place
from sheetgen.wiring_to_layout.scene import Inside, Scene

SHEATHS_CROSS, SINGLES_CROSS = 3.0, 1.2
PER_MM = 0.02  # of length between the pins
BEND = 0.25
TOO_WIDE = 0.5  # for every mm that a row is wider than the paper
SWEEPS = 4
PAIRED = 5  # ways of each of two joined accessories that are tried together
_Lie = tuple[int, bool, int, bool, int, int, bool]  # x and whether from above, twice; leftmost, rightmost; sheathed


def choose(scene: Scene) -> Scene:
    """Take one way into every accessory.

    Requires: choices, order.
    Ensures: `inside` and `at` for every post. The cost of the whole never rises from step to step.
    """
    inside = {key: ways[0] for key, ways in scene.choices.items()}
    scene = place(replace(scene, inside=inside))
    for _ in range(SWEEPS):
        before = dict(scene.inside)
        scene = _sweep(scene)
        if scene.inside == before:
            break
    return scene


def _sweep(scene: Scene) -> Scene:
    """Each accessory alone, then each two that share a cable; then set the rows out anew."""
    table = _Table(scene)
    keys = [key for row in scene.order.values() for key in row]
    for key in keys:
        table.improve((key,))
    for a, b in _joined(scene, keys):
        table.improve((a, b))
    return place(replace(scene, inside=dict(table.inside)))


def _joined(scene: Scene, keys: list[str]) -> list[tuple[str, str]]:
    index = {key: i for i, key in enumerate(keys)}
    pairs = {
        tuple(sorted((key, e.partner), key=index.__getitem__))
        for key in keys for e in scene.posts[key].entries if e.partner in index
    }
    return sorted(pairs, key=lambda p: (index[p[0]], index[p[1]]))


class _Table:
    """The choice so far, and the nets as they then lie; knows what a change would cost."""

    def __init__(self, scene: Scene):
        self.scene = scene
        self.inside: dict[str, Inside] = dict(scene.inside)
        self.channels = [nets for nets in nets_of(scene).values() if nets]
        self.placed = [{cable: self._net(cable, ends) for cable, ends in nets.items()} for nets in self.channels]
        self.touching = {
            key: {c for e in post.entries for c in e.cables} for key, post in scene.posts.items()
        }

    def improve(self, keys: tuple[str, ...]) -> None:
        """Take the best of the ways into these accessories together, the others staying as they are."""
        choices = self.scene.choices
        depth = len(choices[keys[0]]) if len(keys) == 1 else PAIRED
        best = tuple(self.inside[k] for k in keys)
        least = self.cost(keys, best)
        for ways in product(*(choices[k][:depth] for k in keys)):
            cost = self.cost(keys, ways)
            if cost < least - 1e-9:
                best, least = ways, cost
        self.cost(keys, best)

    def cost(self, keys: tuple[str, ...], ways: tuple[Inside, ...]) -> float:
        """What these ways cost, with all nets that touch them; leaves the table so."""
        self.inside.update(zip(keys, ways, strict=True))
        total = sum(way.cost for way in ways)
        touched = set().union(*(self.touching[key] for key in keys))
        for nets, placed in zip(self.channels, self.placed, strict=True):
            total += self._channel_cost(nets, placed, touched)
        return total + TOO_WIDE * self._too_wide() / 100

    def _too_wide(self) -> int:
        between = self.scene.style.measures["between"]
        over = 0
        for keys in self.scene.order.values():
            wide = sum(self.inside[k].reach[1] - self.inside[k].reach[0] + between for k in keys) - between
            over += max(0, wide - self.scene.width)
        return over

    def _channel_cost(self, nets, placed: dict[str, _Lie], touched: set[str]) -> float:
        moved = [cable for cable in nets if cable in touched]
        for cable in moved:
            placed[cable] = self._net(cable, nets[cable])
        total = 0.0
        for cable in moved:
            net = placed[cable]
            total += PER_MM * (net[5] - net[4]) / 100 + BEND * (net[4] != net[5])
            for other, its in placed.items():
                if its is not net and not (other in touched and other < cable):
                    crossed = _crossed(net, its)
                    if crossed:
                        total += crossed * (SHEATHS_CROSS if net[6] and its[6] else SINGLES_CROSS)
        return total

    def _net(self, cable: str, ends) -> _Lie:
        (a, a_up), (b, b_up), sheathed = ends
        x = self.scene.at[a] + self.inside[a].pins[cable]
        y = self.scene.at[b] + self.inside[b].pins[cable]
        return x, a_up, y, b_up, min(x, y), max(x, y), sheathed


def _crossed(a: _Lie, b: _Lie) -> int:
    """The fewest crossings of two nets in either order: as `lanes.over`, for both orders at once."""
    ax, a_up, ay, a_too, a_low, a_high, a_wide = a
    bx, b_up, by, b_too, b_low, b_high, b_wide = b
    if a_high < b_low - NEAR or b_high < a_low - NEAR:
        return 0
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
