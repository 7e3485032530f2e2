"""Findings of an earlier description beside those of a later one: what stands, is changed, is new, is cured."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Generic, Protocol, TypeVar

Identity = tuple[str, ...]
DISCONNECTION = {"no_rcd", "zs_limit"}  # of what opens at a fault to earth; where one of them speaks, the other may not


class Found(Protocol):
    """A finding: its rule, gravity, accessory, terminal and core."""

    @property
    def identity(self) -> Identity:
        """The five in this order."""


F = TypeVar("F", bound=Found)


@dataclass(frozen=True)
class Compared(Generic[F]):
    """What does not stand as it stood; `changed` are pairs of the same matter, as it was and as it is."""

    new: tuple[F, ...]
    cured: tuple[F, ...]
    changed: tuple[tuple[F, F], ...]


def compared(were: Sequence[F], are: Sequence[F]) -> Compared[F]:
    """Two of one identity are two. What is there in another gravity, or told by another rule, was not cured."""
    gone, came = _beyond(were, are), _beyond(are, were)
    changed: list[tuple[F, F]] = []
    for alike in (_same_thing, _same_matter):
        for now in list(came):
            was = next((old for old in gone if alike(old.identity, now.identity)), None)
            if was is not None:
                changed.append((was, now))
                gone = [old for old in gone if old is not was]
                came = [new for new in came if new is not now]
    return Compared(tuple(came), tuple(gone), tuple(changed))


def _same_thing(was: Identity, now: Identity) -> bool:
    """The same rule about the same place."""
    return was[0] == now[0] and was[2:] == now[2:]


def _same_matter(was: Identity, now: Identity) -> bool:
    """One rule speaks of all ways without an RCD together, the other of each by itself, wherever Zs is greatest."""
    return "no_rcd" in (was[0], now[0]) and {was[0], now[0]} <= DISCONNECTION


def _beyond(these: Sequence[F], those: Sequence[F]) -> list[F]:
    """What is among these and not among those."""
    left = Counter(found.identity for found in those)
    more = []
    for found in these:
        left[found.identity] -= 1
        if left[found.identity] < 0:
            more.append(found)
    return more
