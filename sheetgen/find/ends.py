"""The ends of cables that were seen at one accessory each, and which of them may be the two ends of one cable."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import permutations, product

from sheetgen.model.wiring import Cable, Core, Wiring
from sheetgen.model.words import joined

Pair = tuple[int, int]
FEW = 2  # pairs each said in a sentence of its own


@dataclass(frozen=True)
class Pairing:
    """For every end the number of its partner, -1 where it goes to an accessory that nobody has opened.

    `turned` has, for pairs of which cores of one colour may be exchanged, the order of the second end's cores.
    """

    partner: tuple[int, ...]
    turned: tuple[tuple[Pair, tuple[int, ...]], ...] = ()

    @property
    def pairs(self) -> tuple[Pair, ...]:
        """The ends that are one cable, each pair once."""
        return tuple((i, j) for i, j in enumerate(self.partner) if i < j)


def open_ends(wiring: Wiring) -> tuple[Cable, ...]:
    """The cables seen at one accessory only."""
    return tuple(c for c in wiring.cables if c.at_one_end)


def may_be_one(a: Cable, b: Cable) -> bool:
    """Type, size and colours agree, and they were seen at different accessories."""
    same_size = a.size is None or b.size is None or a.size.area == b.size.area
    return (a.type == b.type and same_size and a.ends[0] != b.ends[0] and sorted(map(_colour, a.cores))
            == sorted(map(_colour, b.cores)))


def _colour(core: Core) -> tuple[str, bool]:
    return core.colour, core.cpc


def orders(a: Cable, b: Cable) -> list[tuple[int, ...]]:
    """Which core of `b` may be which of `a`: by colour; cores of one colour in every order, whatever their marks."""
    by_colour: dict[tuple[str, bool], list[int]] = {}
    for i, core in enumerate(b.cores):
        by_colour.setdefault(_colour(core), []).append(i)
    colours = list(by_colour)
    found = []
    for chosen in product(*(permutations(by_colour[c]) for c in colours)):
        left = {colour: list(places) for colour, places in zip(colours, chosen, strict=True)}
        found.append(tuple(left[_colour(core)].pop(0) for core in a.cores))
    return found


def as_one(a: Cable, b: Cable, order: Sequence[int] | None = None) -> Cable:
    """The cable of which two ends were seen, under the name of the first."""
    order = order if order is not None else orders(a, b)[0]
    cores = tuple(replace(core, ends=(core.ends[0], b.cores[j].ends[0]))
                  for core, j in zip(a.cores, order, strict=True))
    return replace(a, cores=cores, ends=(a.ends[0], b.ends[0]), size=a.size or b.size, length=a.length or b.length,
                   note=" ".join(filter(None, (a.note, b.note))), at_one_end=False)


def paired(wiring: Wiring, ends: Sequence[Cable], pairing: Pairing) -> Wiring:
    """The wiring in which the ends are joined as a pairing says."""
    turned = dict(pairing.turned)
    made = {ends[i].name: as_one(ends[i], ends[j], turned.get((i, j))) for i, j in pairing.pairs}
    gone = {ends[j].name for _, j in pairing.pairs}
    unseen = {ends[k].ends[1] for pair in pairing.pairs for k in pair}
    return replace(
        wiring,
        cables=tuple(made.get(c.name, c) for c in wiring.cables if c.name not in gone),
        accessories=tuple(a for a in wiring.accessories if a.name not in unseen),
    )


def in_words(ends: Sequence[Cable], pairing: Pairing) -> str:
    """'a and c are one cable, b and d are one cable'; of more in fewer words, 'one cable each: a and d, b and e, c and
    f', for it stands in the cells of a plan."""
    pairs = [f"{ends[i].name} and {ends[j].name}" for i, j in pairing.pairs]
    says = [f"{pair} are one cable" for pair in pairs] if len(pairs) <= FEW else [f"one cable each: {', '.join(pairs)}"]
    away = [ends[i].name for i, j in enumerate(pairing.partner) if j < 0]
    if away:
        go = "goes" if len(away) == 1 else "go"
        says.append(f"{'and ' if says else ''}{joined(away)} {go} to a place not opened")
    return ", ".join(says)


def with_orders(ends: Sequence[Cable], pairing: Pairing) -> Iterable[Pairing]:
    """A pairing with every order of cores of one colour."""
    several = [(pair, found) for pair in pairing.pairs if len(found := orders(ends[pair[0]], ends[pair[1]])) > 1]
    for chosen in product(*(found for _, found in several)):
        yield Pairing(pairing.partner, tuple(
            (pair, order) for (pair, _), order in zip(several, chosen, strict=True)))
