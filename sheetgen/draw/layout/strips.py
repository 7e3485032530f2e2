"""Where in its strip a terminal stands that has no place on the face: the earth terminal, and connectors.

The screws of a switch and the blocks of a rose are drawn in the order of the real thing. The earth terminal sits apart
from them, and a connector lies loose in the box; so each is drawn where the fewest conductors cross.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache

from sheetgen.draw.layout.scene import TOP, Enclosure, Scene, TerminalRows
from sheetgen.model.accessory import AccessoryKind, Meant

MANY = 8  # entries of an enclosure that keeps the strip of its face
NEVER = 10**6
Strip = tuple[TerminalRows, ...]
EntryRows = tuple[bool, bool, tuple[int, ...]]  # from above; a pendant's flex; the places of its cores' terminals


def strips_of(scene: Scene) -> dict[str, Strip]:
    """Enclosure -> its strip.

    Requires: the enclosures of a whole wiring.
    Ensures: all accessories of one kind have their earth terminal at one place, the face's where no other makes fewer
    crossings in all of them together; nothing is put between the terminals of a switch, of a load or of a link.
    """
    kinds: dict[str, list[Enclosure]] = {}
    for enclosure in scene.enclosures.values():
        if enclosure.accessory and enclosure.groups and not enclosure.split and len(enclosure.entries) <= MANY:
            kinds.setdefault(enclosure.accessory.kind.name, []).append(enclosure)
    found: dict[str, Strip] = {}
    for alike in kinds.values():
        found |= _strips_of_kind(alike)
    return found


def in_strips(scene: Scene, strips: Mapping[str, Strip]) -> Scene:
    """The scene with these strips in place of the face's."""
    return replace(scene, enclosures={
        key: replace(e, groups=strips.get(key, e.groups)) for key, e in scene.enclosures.items()})


def _strips_of_kind(alike: Sequence[Enclosure]) -> dict[str, Strip]:
    strips = {e.key: _with_connectors_placed(e, e.groups) for e in alike}
    least = _crossings(alike, strips)
    for place in _places(alike[0]) if least else ():
        moved = {e.key: _with_earth_at(place, e) for e in alike}
        found = {e.key: _with_connectors_placed(e, strip) for e in alike if (strip := moved[e.key])}
        if len(found) == len(alike) and (crossings := _crossings(alike, found)) < least:
            strips, least = found, crossings
    return strips


def _places(enclosure: Enclosure) -> list[int]:
    """Places for the earth terminal, counted without connectors: the nearest to the face's first."""
    fixed = [g for g in enclosure.groups if not g.connector]
    own = [i for i, g in enumerate(fixed) if _is_earth(g, enclosure)]
    return sorted(range(len(fixed)), key=lambda place: abs(place - own[0])) if own else []


def _is_earth(group: TerminalRows, enclosure: Enclosure) -> bool:
    return group.left is not None and _kind_of(enclosure).terminal(group.left).meant == Meant.EARTH


def _crossings(alike: Sequence[Enclosure], strips: Mapping[str, Strip]) -> int:
    return sum(fewest_crossings(e, strips[e.key]) for e in alike)


def _with_earth_at(place: int, enclosure: Enclosure) -> Strip | None:
    """The strip with the earth terminal at a place counted without connectors; None where it cannot stand there."""
    connectors = [g for g in enclosure.groups if g.connector]
    earth = [g for g in enclosure.groups if g not in connectors and _is_earth(g, enclosure)]
    if len(earth) != 1:
        return None
    *others, loose = (g for g in enclosure.groups if g not in connectors and g not in earth)
    if place > len(others):
        return None
    strip = (*others[:place], earth[0], *others[place:], *connectors, loose)
    return strip if _breaks_nothing(earth[0], strip, enclosure) else None


def _kind_of(enclosure: Enclosure) -> AccessoryKind:
    assert enclosure.accessory is not None  # a strip is no continuation mark's
    return enclosure.accessory.kind


def _with_connectors_placed(enclosure: Enclosure, strip: Strip) -> Strip:
    """Each connector in turn where it makes the fewest crossings."""
    for connector in [g for g in strip if g.connector]:
        rest = [g for g in strip if g != connector]
        tries = [(*rest[:i], connector, *rest[i:]) for i in range(len(rest))]
        allowed = [new for new in tries if _breaks_nothing(connector, new, enclosure)]
        strip = min([strip, *allowed], key=lambda new: fewest_crossings(enclosure, new))
    return strip


def _breaks_nothing(loose: TerminalRows, strip: Strip, enclosure: Enclosure) -> bool:
    """Whether it does not stand between the terminals of a switch, of a load or of a link."""
    names = [g.left for g in strip]
    at = names.index(loose.left)
    spans = [[names.index(t) for t in terminals if t in names] for terminals in _held_together(enclosure)]
    return not any(span and min(span) < at < max(span) for span in spans)


def _held_together(enclosure: Enclosure) -> Iterator[tuple[str | None, ...]]:
    kind = _kind_of(enclosure)
    yield from (tuple(t for p in s.positions for pair in p.joins for t in pair) for s in kind.switches)
    yield from ((load.a, load.b) for load in kind.loads)
    yield from ((a.terminal, b.terminal) for a, b in enclosure.links)


def fewest_crossings(enclosure: Enclosure, strip: Strip) -> int:
    """The fewest crossings of the entries' cores with one another, before any core is parted from its cable."""
    places = {g.left: i for i, g in enumerate(strip)}
    return _fewest(tuple(
        (e.edge == TOP, e.hangs, tuple(sorted([places[s.terminal] for s in e.terminations]))) for e in enclosure.entries
    ))


@lru_cache(maxsize=4096)
def _fewest(entries: tuple[EntryRows, ...]) -> int:
    """Over all ways of parting the entries into two halves, in each of which they stand in the best order."""
    everything = (1 << len(entries)) - 1
    halves = _halves(entries)
    return min(halves[some] + halves[everything - some] for some in range((everything + 1) // 2 or 1))


def _halves(entries: Sequence[EntryRows]) -> list[int]:
    """Of every set of entries the fewest crossings where they come in on one half: by which one is outermost.

    A core from above that ends lower meets the outer one that ends higher, and one from below that ends higher.
    """
    above = [[sum([x > y for x in a for y in b]) for _, _, b in entries] for _, _, a in entries]
    found = [0]
    for some in range(1, 1 << len(entries)):
        here = [i for i in range(len(entries)) if some >> i & 1]
        tops, lows = [i for i in here if entries[i][0]], [i for i in here if not entries[i][0]]
        if not tops and len(lows) > 1 and any(entries[i][1] for i in lows):
            found.append(NEVER)
            continue
        beside, below = (tops, lows) if tops else (lows, [])
        found.append(min(
            found[some - (1 << last)] + sum([above[i][last] for i in beside if i != last]) + sum(
                [above[last][i] for i in below])
            for last in beside))
    return found
