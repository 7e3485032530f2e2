"""The fewest settings in which an insulation test, lamps out, covers every core; and which ways to test between."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations

from sheetgen.model.accessory import Level, Terminal
from sheetgen.model.reckoning import InsulationPlan, Setting, Shared
from sheetgen.model.solution import Group, Potential, Row, Solution
from sheetgen.model.wiring import Core, Wiring

TESTED = (Potential.LINE, Potential.NEUTRAL)


def insulation_plan(wiring: Wiring, solution: Solution, ways: Mapping[str, tuple[str, ...]]) -> InsulationPlan:
    """Solved for each group exactly; the groups are then tested side by side. `ways`: Core.key -> those reaching it.

    A setting that shorts a line is none to test in, where another is to be had: it would read the short alone.
    """
    on_net: dict[Terminal, list[str]] = {}
    for core in wiring.cores():
        node = core.ends[0].node or core.ends[1].node
        if node is not None and not core.cpc:
            on_net.setdefault(solution.nets[node], []).append(core.key)
    plans: list[list[Setting]] = []
    of_way: dict[str, list[list[Setting]]] = {way.accessory: [] for way in wiring.board.ways}
    fixed = _not_set_dead(wiring)
    covered = {n for n, c in solution.constant.items() if c.solid and c.potential in (*TESTED, Potential.EARTH)}
    for group in solution.groups:
        nets = [t for t in group.terminals if t in on_net]
        rows = [i for i, row in enumerate(group.rows) if _can_be_set(group, row, fixed)]
        apart = [i for i in rows if not group.rows[i].shorts]
        rows = apart or rows
        masks = [_mask(group, i, nets) for i in rows]
        reached = 0
        for mask in masks:
            reached |= mask
        covered |= {net for bit, net in enumerate(nets) if reached >> bit & 1}
        if group.switches:
            kept_apart = [0] if apart and any(row.shorts for row in group.rows) else []
            chosen = fewest(masks) or kept_apart
            plans.append([tuple(zip(group.switches, group.rows[rows[k]].setting, strict=True)) for k in chosen])
            for way in _reaching(group) & of_way.keys():
                of_way[way].append(plans[-1])
    uncovered = (*(key for net, keys in on_net.items() if net not in covered for key in keys),
                 *(core.key for core in wiring.cores() if not core.cpc and not any(end.node for end in core.ends)))
    return InsulationPlan(_side_by_side(plans), uncovered, all(g.complete for g in solution.groups),
                          {way: _side_by_side(own) for way, own in of_way.items()},
                          tuple(_between(wiring, solution, ways)))


def _reaching(group: Group) -> set[str]:
    """The ways that reach a group, or that it shorts."""
    shorted = {t.accessory for row in group.rows for short in row.shorts for t in short.rails}
    return shorted.union(w for row in group.rows for c in row.conditions if c.solid for w in c.ways)


def _between(wiring: Wiring, solution: Solution, ways: Mapping[str, tuple[str, ...]]) -> Iterator[Shared]:
    """Every two ways of which live conductors lie together anywhere but in the board (practice, from memory).

    What hangs from an accessory is tested with it.
    """
    left_out = {a.name for a in wiring.accessories if a.kind.rails or a.kind.level is Level.PENDANT}
    found: dict[str, set[str]] = {}
    for cable in wiring.cables:
        live = {way for core in cable.cores if _live(core, solution) for way in ways[core.key]}
        for place in (*(end for end in cable.ends if end not in left_out), *filter(None, (cable.run_in,))):
            found.setdefault(place, set()).update(live)
    order = {name: i for i, name in enumerate(a.name for a in wiring.accessories)}
    for one, other in combinations((way.accessory for way in wiring.board.ways), 2):
        at = sorted((p for p, live in found.items() if {one, other} <= live), key=lambda p: order.get(p, len(order)))
        if at:
            yield Shared((one, other), tuple(at))


def _live(core: Core, solution: Solution) -> bool:
    """Neither a cpc nor another core that is joined to earth alone."""
    node = core.ends[0].node or core.ends[1].node
    earthed = solution.constant.get(solution.nets[node]) if node else None
    return not core.cpc and (earthed is None or earthed.potential is not Potential.EARTH)


def _side_by_side(plans: Sequence[Sequence[Setting]]) -> tuple[Setting, ...]:
    """Settings of all groups at once, as many as the group has that needs most."""
    count = max((len(plan) for plan in plans), default=0)
    return tuple(tuple(pair for plan in plans if plan for pair in plan[min(k, len(plan) - 1)]) for k in range(count))


def _not_set_dead(wiring: Wiring) -> dict[str, str]:
    """Switches within electronics that no hand can reach or link while the way is off -> how they stand then."""
    return {
        name: switch.positions[0].name for name, accessory, switch in wiring.switches()
        if not switch.by_hand
        and any(accessory.kind.terminal(t).inner for p in switch.positions for pair in p.joins for t in pair)
    }


def _can_be_set(group: Group, row: Row, fixed: Mapping[str, str]) -> bool:
    stands = zip(group.switches, row.setting, strict=True)
    return all(fixed.get(name, position) == position for name, position in stands)


def _mask(group: Group, row: int, nets: Sequence[Terminal]) -> int:
    at = dict(zip(group.terminals, group.rows[row].conditions, strict=True))
    return sum(1 << bit for bit, net in enumerate(nets) if at[net].solid and at[net].potential in TESTED)


def fewest(masks: Sequence[int]) -> list[int]:
    """The smallest choice of masks that together have every bit that any has; of those the one that comes first."""
    wanted = 0
    for mask in masks:
        wanted |= mask
    distinct = {mask: i for i, mask in reversed(list(enumerate(masks)))}
    largest: list[int] = []  # what lies within another mask lies within one of these
    for mask in sorted(distinct, key=int.bit_count, reverse=True):
        if not any(mask | other == other for other in largest):
            largest.append(mask)
    kept = sorted(distinct[mask] for mask in largest)
    for size in range(len(kept) + 1):
        found = _cover(masks, kept, wanted, size)
        if found is not None:
            return found
    raise AssertionError("all masks together have every bit")


def _cover(masks: Sequence[int], kept: Sequence[int], wanted: int, size: int) -> list[int] | None:
    """A choice of `size` masks for the wanted bits: branch on the bit that fewest masks have."""
    if not wanted:
        return []
    most = max((masks[i] & wanted).bit_count() for i in kept)
    if wanted.bit_count() > size * most:
        return None  # not even masks that never overlap would do
    bits = [1 << b for b in range(wanted.bit_length()) if wanted >> b & 1]
    rarest = min(bits, key=lambda bit: sum(1 for i in kept if masks[i] & bit))
    for i in kept:
        if masks[i] & rarest:
            rest = _cover(masks, kept, wanted & ~masks[i], size - 1)
            if rest is not None:
                return sorted([i, *rest])
    return None
