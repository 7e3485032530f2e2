"""Which way into each accessory: weighed over the whole sheet, for few crossings and short detours."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import product

from sheetgen.draw.layout.place import place
from sheetgen.draw.layout.scene import Arrangement, Scene
from sheetgen.draw.layout.weighing import SAME, Choice

MARK_MOVED = 0.8  # what must be gained where a continuation mark does not stand where the order of the rows has it
SWEEPS = 4
TURNED, TURNS = 6, 240  # ways of each accessory that are tried by turning it, and how often at most


def choose(scene: Scene) -> Scene:
    """Take one way into every accessory.

    Requires: choices, order.
    Ensures: `inside` and `at` for every enclosure. The cost of the whole never rises from step to step.
    """
    inside = {key: ways[0] for key, ways in scene.choices.items()}
    scene = place(replace(scene, inside=inside))
    for _ in range(SWEEPS):
        found = _sweep(scene)
        if found == scene.inside:
            break
        scene = place(replace(scene, inside=found))
    return _with_marks_moved(_turned(scene))


def _with_marks_moved(scene: Scene) -> Scene:
    """Stand continuation marks whose routes cross others elsewhere in their row, if that is clearly better."""
    standing = Choice(scene)
    marks = [key for key in standing.crossed() if scene.enclosures[key].mark]
    least = standing.whole() if marks else 0.0
    for mark in marks:
        row = standing.row_of[mark]
        others = [key for key in scene.order[row] if key != mark]
        for i in range(len(others) + 1):
            keys = (*others[:i], mark, *others[i:])
            if keys != scene.order[row]:
                moved = place(replace(scene, order={**scene.order, row: keys}))
                moved = place(replace(moved, inside=_sweep(moved)))
                cost = Choice(moved).whole()
                if cost < least - MARK_MOVED:
                    scene, least = moved, cost
    return scene


def _turned(scene: Scene) -> Scene:
    """Turn one accessory, or two that share a cable, where routes cross, if that is better once the rows are set out.

    No sweep finds this, for it leaves the others where they stand.
    """
    standing = Choice(scene)
    least, tried = standing.whole(), 0
    for keys in _turns(scene, standing.crossed()):
        ways = [scene.choices[key][:TURNED] for key in keys]
        for chosen in product(*ways):
            if tried >= TURNS:
                return scene
            new = dict(zip(keys, chosen, strict=True))
            if any(way is scene.inside[key] for key, way in new.items()):
                continue
            tried += 1
            inside = {**scene.inside, **new}
            if standing.before_routes(inside) >= least:
                continue  # wherever the rows then stand
            turned = Choice(place(replace(scene, inside=inside)), standing)
            cost = turned.whole(least)
            if cost < least - SAME:
                scene, standing, least = turned.scene, turned, cost
    return scene


def _turns(scene: Scene, crossed: list[str]) -> list[tuple[str, ...]]:
    """These accessories, each by itself, and every two that share a cable of which one is among them."""
    alone: list[tuple[str, ...]] = [(key,) for key in crossed]
    return alone + [pair for pair in joined(scene, [k for row in scene.order.values() for k in row])
                    if pair[0] in crossed or pair[1] in crossed]


def _sweep(scene: Scene) -> dict[str, Arrangement]:
    """Each accessory alone, then each two that share a cable."""
    table = Choice(scene)
    keys = [key for row in scene.order.values() for key in row]
    for key in keys:
        table.improve(key)
    for a, b in joined(scene, keys):
        table.improve_both(a, b)
    return table.inside


def joined(scene: Scene, keys: Sequence[str]) -> list[tuple[str, str]]:
    """Every two of these accessories that share a cable, in the order of the keys."""
    index = {key: i for i, key in enumerate(keys)}
    pairs = {
        (key, e.partner) if index[key] < index[e.partner] else (e.partner, key)
        for key in keys for e in scene.enclosures[key].entries if e.partner in index
    }
    return sorted(pairs, key=lambda p: (index[p[0]], index[p[1]]))
