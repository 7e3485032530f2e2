"""One part in one setting: what every net is at, and what every load does."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from sheetgen.model.solution import FULL_LIGHT, LEAST_LIGHT, Condition, Lamp, LampState, Potential
from sheetgen.solve.joined import Joined
from sheetgen.solve.network import Rail
from sheetgen.solve.nodal import islands
from sheetgen.solve.parts import Part

ZERO, ONE = Fraction(0), Fraction(1)
FLOATING = Condition(Potential.FLOATING, None, (), solid=False)
NOT_KNOWN = Condition(Potential.NOT_KNOWN, None, (), solid=False)


@dataclass(frozen=True)
class State:
    """A part in one setting. `together` holds the rails of every knot that has more than one."""

    conditions: tuple[Condition, ...]  # of each net
    lamps: tuple[Lamp, ...]  # of each load
    together: tuple[tuple[Rail, ...], ...]


def state_of(part: Part, pairs: Iterable[tuple[int, int]], once: dict[Condition, Condition] | None = None) -> State:
    """Close the contacts between `pairs` of nets and solve.

    With the same `once` for every setting, equal conditions are one object, which is told from others in no time.
    """
    joined = Joined(len(part.nets))
    for a, b in pairs:
        joined.join(a, b)
    knot = joined.all()
    rails: dict[int, tuple[Rail, ...]] = {}
    for net, own in enumerate(part.rails):
        if own:
            rails[knot[net]] = rails.get(knot[net], ()) + own
    at = {k: rail_condition(own) for k, own in rails.items()}
    fixed = {k: condition.fraction for k, condition in at.items() if condition.fraction is not None}
    for island in islands(fixed, ((knot[x.a], knot[x.b], x.watts) for x in part.loads)):
        around = tuple(rail for k in island.shore for rail in rails[k])
        through = {potential: _through_load(potential, around) for potential in set(island.potentials)}
        for k, potential in zip(island.knots, island.potentials, strict=True):
            at[k] = through[potential]
    if once is not None:
        at = {k: once.setdefault(condition, condition) for k, condition in at.items()}
    shorted = any(is_short(own) for own in rails.values())
    lamps = _lamps([(at[knot[x.a]], at[knot[x.b]]) for x in part.loads], shorted)
    conditions = tuple(at.get(k, FLOATING) for k in knot)
    if not part.known:
        conditions = tuple(c if c.solid else NOT_KNOWN for c in conditions)
        lamps = tuple(x if x.state is LampState.SHORT else Lamp(LampState.NOT_KNOWN, ZERO, x.ways) for x in lamps)
    return State(conditions, lamps, tuple(own for own in rails.values() if len(own) > 1))


def is_short(rails: tuple[Rail, ...]) -> bool:
    """These rails, joined, are a line and something that a line must not meet."""
    kinds = {rail.kind for rail in rails}
    return "line" in kinds and len(kinds) > 1


def rail_condition(rails: tuple[Rail, ...]) -> Condition:
    """What a knot with these rails is at: a line before a neutral before an earth."""
    for kind, potential, fraction in (
        ("line", Potential.LINE, ONE), ("neutral", Potential.NEUTRAL, ZERO), ("earth", Potential.EARTH, ZERO)
    ):
        if ways := _ways(rails, kind):
            return Condition(potential, fraction, ways)
    raise AssertionError(f"rails of no known kind: {rails}")


def _ways(rails: tuple[Rail, ...], *kinds: str) -> tuple[str, ...]:
    return tuple(sorted({rail.terminal.accessory for rail in rails if rail.kind in kinds}))


def _through_load(potential: Fraction | None, around: tuple[Rail, ...]) -> Condition:
    if potential is None:
        return FLOATING
    if potential == ONE:
        return Condition(Potential.THROUGH_LOAD, ONE, _ways(around, "line"), solid=False)
    if potential == ZERO:
        neutral = _ways(around, "neutral")
        what = Potential.NEUTRAL if neutral else Potential.EARTH
        return Condition(what, ZERO, neutral or _ways(around, "earth"), solid=False)
    return Condition(Potential.BETWEEN, potential, _ways(around, "line", "neutral", "earth"), solid=False)


def _lamps(ends: Sequence[tuple[Condition, Condition]], shorted: bool) -> tuple[Lamp, ...]:
    """What loads between these do; of many between the same two it is found once."""
    known: dict[tuple[int, int], Lamp] = {}
    for a, b in ends:
        if (id(a), id(b)) not in known:
            known[id(a), id(b)] = _lamp(a, b, shorted)
    return tuple(known[id(a), id(b)] for a, b in ends)


def _lamp(a: Condition, b: Condition, shorted: bool) -> Lamp:
    ways = tuple(sorted({way for c in (a, b) if c.fraction for way in c.ways}))
    if shorted:
        return Lamp(LampState.SHORT, ZERO, ways)
    if a.fraction is None or b.fraction is None:
        return Lamp(LampState.OFF, ZERO, ways)
    across = abs(a.fraction - b.fraction)
    if across:
        return Lamp(_lit(across), across, ways)
    return Lamp(LampState.OFF_BUT_LIVE if a.fraction else LampState.OFF, ZERO, ways)


def _lit(across: Fraction) -> LampState:
    """What a load does on a share of the voltage."""
    if across < LEAST_LIGHT:
        return LampState.TRACE
    return LampState.DIM if across < FULL_LIGHT else LampState.ON
