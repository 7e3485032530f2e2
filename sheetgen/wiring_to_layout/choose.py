"""Which way into each accessory: weighed over the whole sheet, for few crossings and short detours."""

from __future__ import annotations

from dataclasses import replace

from sheetgen.wiring_to_layout.lanes import nets_of, over
from sheetgen.wiring_to_layout.place import place, row_widths
from sheetgen.wiring_to_layout.scene import Inside, Net, Scene

SHEATHS_CROSS, SINGLES_CROSS = 3.0, 1.2
PER_MM = 0.02  # of length between the pins
BEND = 0.25
TOO_WIDE = 0.5  # for every mm that a row is wider than the paper
SWEEPS = 4
PAIRED = 5  # ways of each of two joined accessories that are tried together


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
        self.channels = nets_of(scene)
        self.ends = {cable: ends for nets in self.channels.values() for cable, ends in nets.items()}

    def improve(self, keys: tuple[str, ...]) -> None:
        """Take the best of the ways into these accessories together, the others staying as they are."""
        choices = self.scene.choices
        depth = len(choices[keys[0]]) if len(keys) == 1 else PAIRED
        options = [choices[k][:depth] for k in keys]
        combined = [(a,) for a in options[0]] if len(keys) == 1 else [(a, b) for a in options[0] for b in options[1]]
        current = tuple(self.inside[k] for k in keys)
        best, least = current, self.cost(keys, current)
        for ways in combined:
            cost = self.cost(keys, ways)
            if cost < least - 1e-9:
                best, least = ways, cost
        self.cost(keys, best)

    def cost(self, keys: tuple[str, ...], ways: tuple[Inside, ...]) -> float:
        """What these ways cost, with all nets that touch them; leaves the table so."""
        for key, way in zip(keys, ways, strict=True):
            self.inside[key] = way
        total = sum(way.cost for way in ways)
        touched = {c for key in keys for e in self.scene.posts[key].entries for c in e.cables}
        for nets in self.channels.values():
            total += self._channel_cost(nets, touched)
        widths = row_widths(replace(self.scene, inside=self.inside))
        for width in widths.values():
            total += TOO_WIDE * max(0, width - self.scene.width) / 100
        return total

    def _channel_cost(self, nets, touched: set[str]) -> float:
        placed = {cable: self._net(cable, ends) for cable, ends in nets.items()}
        total = 0.0
        for cable, net in placed.items():
            if cable not in touched:
                continue
            low, high = net.span
            total += PER_MM * (high - low) / 100 + BEND * (low != high)
            for other, its in placed.items():
                if other == cable or (other in touched and other < cable):
                    continue
                weight = SHEATHS_CROSS if net.sheathed and its.sheathed else SINGLES_CROSS
                total += weight * min(over(net, its), over(its, net))
        return total

    def _net(self, cable: str, ends) -> Net:
        (a, a_up), (b, b_up), sheathed = ends
        at, inside = self.scene.at, self.inside
        return Net(cable, ((at[a] + inside[a].pins[cable], a_up), (at[b] + inside[b].pins[cable], b_up)), sheathed)
