"""Turns accessories that a run leaves backwards: weighed once the drops are straight, for that moves ends too."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import product

from sheetgen.draw.layout.choose import joined
from sheetgen.draw.layout.place import place
from sheetgen.draw.layout.scene import Arrangement, Scene
from sheetgen.draw.layout.straighten import jogs, straighten
from sheetgen.draw.layout.weighing import Choice, Drawbacks

FACED = 20, 8  # ways of an accessory that are tried where a run leaves backwards: alone, and with another
MANY = 6  # enclosures of a band in which only that is tried which helps before the drops are straight
LITTLE_MORE = 1.1  # what one end less may cost, in length and within enclosures


def face_forwards(scene: Scene) -> Scene:
    """Straighten drops, and turn one accessory, or two that share a cable, as long as fewer ends leave backwards.

    Requires: choices, order, inside, at.
    Ensures: what `straighten` ensures. Nothing crosses more than before, no row is wider than it was or than the paper,
    and cables are hardly longer.
    """
    standing = Choice(straighten(scene))
    while standing.backwards():
        turned = _turned(scene, standing)
        if turned is None:
            break
        scene, standing = turned
    return standing.scene


def _turned(scene: Scene, standing: Choice) -> tuple[Scene, Choice] | None:
    """The turn after which the fewest ends leave backwards, before and after the drops are straight; or None."""
    now, jogged, few = standing.drawbacks(), jogs(standing.scene), len(scene.standing) <= MANY
    most = standing.length() * LITTLE_MORE

    def crosses_no_more(turned: Choice, inside: int) -> bool:
        outside = turned.outside()
        return outside <= now.outside and outside + inside <= now.crossings and turned.width() <= now.width

    best: tuple[int, Drawbacks] = (now.backwards, now)
    found: tuple[Scene, Choice] | None = None
    for pair, ways in _ways(scene, standing.before_routes(scene.inside) + (LITTLE_MORE - 1) * now.cost, standing):
        if pair and found:
            break
        inside = sum(way.crossings for way in ways.values())
        if inside > now.crossings:
            continue
        placed = place(replace(scene, inside=ways))
        turned = Choice(placed, standing)
        if (few or turned.backwards() < now.backwards) and crosses_no_more(turned, inside):
            turned = Choice(straighten(placed), standing)
            back = turned.backwards()
            if (back < now.backwards and back <= best[0] and turned.length() <= most and crosses_no_more(turned, inside)
                    and jogs(turned.scene) <= jogged and (found is None or (back, turned.drawbacks()) < best)):
                best, found = (back, turned.drawbacks()), (placed, turned)
    return found


def _ways(scene: Scene, dearest: float, standing: Choice) -> Iterator[tuple[bool, dict[str, Arrangement]]]:
    """Whether two are turned, and ways into all accessories with one or two turned, that cost no more than that before
    a run is laid; one comes before two."""
    concerned = {key for ends in standing.leaving_backwards() for key in ends}
    turns: list[tuple[str, ...]] = [(key,) for key in scene.standing]
    for keys in [*turns, *joined(scene, scene.standing)]:
        if concerned.isdisjoint(keys):
            continue
        for chosen in product(*(scene.choices[key][:FACED[len(keys) - 1]] for key in keys)):
            ways = {**scene.inside, **dict(zip(keys, chosen, strict=True))}
            if standing.before_routes(ways) <= dearest:
                yield len(keys) > 1, ways
