"""Which cables stay: each of the wanted ones is taken from what is there, so that the fewest core ends are moved."""

from __future__ import annotations

from collections.abc import Callable
from itertools import permutations
from typing import NamedTuple

from sheetgen.catalogue.cables import as_sold
from sheetgen.model.wiring import Cable, Core, Wiring

Landing = tuple[str | None, str | None]
Kept = dict[str, tuple[tuple[str, Landing], ...]]  # cable -> (Core.key, where its two ends are wanted)
MOST_TRIED = 5  # cables of one type between the same two accessories, for all pairings to be tried


Sort = tuple[str, frozenset[str], int, str, bool]
Spoils = Callable[[Core, Core], bool]


def kept_cables(before: Wiring, wanted: Wiring, renew: bool, spoils: Spoils) -> tuple[Kept, list[Cable]]:
    """The cables that stay, with the wanted terminals of every core; and the wanted cables that are to be added.

    Those are of sizes that are sold.

    `spoils(have, want)` says that a core should not do the work of a wanted one, though it could: a brown core that of
    a neutral. It is avoided where another core of the cable can do it, and a single is not kept for it.
    """
    kept: Kept = {}
    added: list[Cable] = []
    groups: dict[Sort, list[Cable]] = {}
    for cable in wanted.cables:
        groups.setdefault(_sort(cable, renew), []).append(cable)
    for sort, cables in groups.items():
        there = [c for c in before.cables if _sort(c, renew) == sort]
        for have, want in _paired(there, cables, spoils):
            if have is None:
                added.append(as_sold(want))
            else:
                kept[have.name] = best_use(have, want, spoils).landings
    order = {c.name: i for i, c in enumerate(wanted.cables)}
    return kept, sorted(added, key=lambda c: order[c.name])


def _sort(cable: Cable, renew: bool) -> Sort:
    """Cables of one sort can stand for one another: same type, between the same accessories."""
    return (cable.type, frozenset(cable.ends), len(cable.cores), cable.colours if renew else "",
            cable.cores[0].cpc if cable.single else False)


def _good_enough(have: Cable, want: Cable, spoils: Spoils) -> bool:
    """As thick as the wanted one; and a single in a colour that its work allows."""
    if have.single and spoils(have.cores[0], want.cores[0]):
        return False
    return not have.size or not want.size or have.size.area >= want.size.area


def _paired(there: list[Cable], wanted: list[Cable], spoils: Spoils) -> list[tuple[Cable | None, Cable]]:
    """Each wanted cable with one that is there, or None; as many kept as can be, and of those the fewest moves."""
    if len(there) > MOST_TRIED or len(wanted) > MOST_TRIED:
        return _greedy(there, wanted, spoils)
    slots: list[Cable | None] = [*there, *([None] * len(wanted))]

    def cost(pairing: tuple[Cable | None, ...]) -> tuple[int, ...]:
        used = [best_use(have, want, spoils) for have, want in zip(pairing, wanted, strict=True) if have]
        return (len(wanted) - len(used), sum(use.spoilt for use in used), sum(use.moves for use in used),
                sum(use.odd_colours for use in used))

    possible: list[tuple[Cable | None, ...]] = [
        pairing for pairing in dict.fromkeys(permutations(slots, len(wanted)))
        if all(have is None or _good_enough(have, want, spoils) for have, want in zip(pairing, wanted, strict=True))
    ]
    best = min(possible, key=cost)
    return list(zip(best, wanted, strict=True))


def _greedy(there: list[Cable], wanted: list[Cable], spoils: Spoils) -> list[tuple[Cable | None, Cable]]:
    left, pairs = list(there), []
    for want in wanted:
        fitting = [have for have in left if _good_enough(have, want, spoils)]
        best = min(fitting, key=lambda have: best_use(have, want, spoils)[:3], default=None)
        if best:
            left.remove(best)
        pairs.append((best, want))
    return pairs


class Use(NamedTuple):
    """How a cable that is there takes the place of a wanted one. Compared in this order, the least is the best."""

    spoilt: int  # cores doing what their colour should not
    moves: int  # core ends that must be moved
    odd_colours: int  # cores of another colour than the wanted one
    turn: int  # which of the ways tried, so that the first of equal ones is taken
    landings: tuple[tuple[str, Landing], ...]  # Core.key -> the terminals of its two ends


def best_use(have: Cable, want: Cable, spoils: Spoils) -> Use:
    """The use of a cable with no core spoilt where that can be, then with the fewest moves."""
    turns = (False, True) if have.link else (have.ends != want.ends,)
    tries = [(order, turned) for turned in turns for order in _orders(have, want)]
    return min((
        Use(sum(map(spoils, have.cores, order)), _moves(have.cores, order, turned),
            _colours_apart(have.cores, order), i, _landings(have.cores, order, turned))
        for i, (order, turned) in enumerate(tries)
    ), key=lambda use: use[:4])


def _orders(have: Cable, want: Cable) -> list[tuple[Core, ...]]:
    """Every way of giving the cores that are there the work of the wanted ones; a cpc stays a cpc."""
    live = [c for c in want.cores if not c.cpc]
    cpcs = [c for c in want.cores if c.cpc]
    orders = []
    for order in permutations(live):
        cores, protective = iter(order), iter(cpcs)
        orders.append(tuple(next(protective if core.cpc else cores, core) for core in have.cores))
    return orders


def _landing(core: Core, turned: bool) -> Landing:
    a, b = (end.terminal for end in core.ends)
    return (b, a) if turned else (a, b)


def _landings(cores: tuple[Core, ...], order: tuple[Core, ...], turned: bool) -> tuple[tuple[str, Landing], ...]:
    return tuple((core.key, _landing(want, turned)) for core, want in zip(cores, order, strict=True))


def _moves(cores: tuple[Core, ...], order: tuple[Core, ...], turned: bool) -> int:
    return sum(
        here.terminal != there
        for core, want in zip(cores, order, strict=True)
        for here, there in zip(core.ends, _landing(want, turned), strict=True)
    )


def _colours_apart(cores: tuple[Core, ...], order: tuple[Core, ...]) -> int:
    return sum(core.colour != want.colour for core, want in zip(cores, order, strict=True))
