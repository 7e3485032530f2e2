"""What a wiring method is made of: how the switches are joined, and where line and neutral loop.

Everything here speaks in ports ("common", "strap 1", "switched line"), never in terminal names.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import TYPE_CHECKING, NamedTuple

from sheetgen.model.quantities import written

if TYPE_CHECKING:
    from sheetgen.catalogue.methods.plan import Plan

LINE, NEUTRAL, SWITCHED, COMMON, STRAP_1, STRAP_2, CPC = (
    "line", "neutral", "switched line", "common", "strapper 1", "strapper 2", "cpc")
"""What a wire does. All but the neutral and the cpc can be at line potential."""


class End(NamedTuple):
    """A port of an accessory."""

    accessory: str
    port: str


class Wire(NamedTuple):
    """One conductor of a run: what it does, and its port at either end."""

    does: str
    a: str
    b: str


@dataclass(frozen=True)
class SwitchPlace:
    """A place for a switch: an accessory of one gang, or one gang of a plate."""

    accessory: str
    what: str  # "one-way", "two-way", "intermediate"
    room: str = ""
    gang: str = ""

    def port(self, name: str) -> str:
        """The accessory's port for a port of this gang."""
        return f"{self.gang}.{name}" if self.gang else name

    def straps(self, leaving: bool) -> tuple[str, str]:
        """The ports of the two strappers that leave for the next switch, or come from the one before."""
        stem = ("straps out" if leaving else "straps in") if self.what == "intermediate" else "strap"
        return self.port(f"{stem} 1"), self.port(f"{stem} 2")

    def joint(self, name: str) -> str:
        """A lone connector lying behind this switch."""
        return f"{self.gang} {name}" if self.gang else name


@dataclass(frozen=True)
class Light:
    """A place for a light."""

    accessory: str
    room: str = ""
    lamp: Fraction | None = None  # watts; None: the usual lamp


@dataclass(frozen=True)
class JoinLaid:
    """Switches joined in a row: where line comes in, where the switched line goes out, the wires of every hop."""

    line: tuple[int, str]  # which seat, and its port
    switched: tuple[int, str]
    hops: tuple[tuple[Wire, ...], ...] = ()
    joints: tuple[tuple[int, str], ...] = ()  # lone connectors needed: which seat, its name


@dataclass(frozen=True)
class Feed:
    """Where line and neutral can be taken on to the next circuit."""

    line: End
    neutral: End
    earth: str  # the accessory whose earth goes on


@dataclass(frozen=True)
class Run:
    """A cable, or singles side by side in conduit, from one accessory to another."""

    start: str
    end: str
    wires: tuple[Wire, ...]
    stretch: str  # which length it has: "feed", "drop", "switches", "lights", "on"
    says: str  # what it is, for the reader of the description
    cpc: bool = True


@dataclass(frozen=True)
class Item:
    """An accessory to be laid: the words for it in a description."""

    kind: str
    room: str = ""
    options: Mapping[str, object] = field(default_factory=dict)
    lamp: Fraction | None = None  # watts of the lamp that hangs from it
    gangs: Mapping[str, str] = field(default_factory=dict)  # of a plate: gang -> kind of switch

    @property
    def words(self) -> dict[str, object]:
        """Its options as a description has them."""
        lamp = {"lamp": f"{written(self.lamp)} W"} if self.lamp else {}
        return {**self.options, **lamp, **({"gangs": dict(self.gangs)} if self.gangs else {})}


@dataclass(frozen=True)
class Sign:
    """One thing by which a join is known, and what is said where it does not hold."""

    amiss: str
    holds: Callable[[Chain], bool]


@dataclass(frozen=True)
class Chain:
    """What recognition has found of one set of switches, first to last, as the signs of a join need it.

    A net is everything joined by conductors alone; `None` stands for a port that nothing is connected to.
    """

    commons: tuple[object, ...]  # net of the common of each switch; None for an intermediate
    straps_in: tuple[frozenset[object], ...]  # nets of the pair that faces the switch before
    straps_out: tuple[frozenset[object], ...]  # nets of the pair that faces the next switch
    outs: tuple[object, ...]  # of a one-way switch: the net of its other contact
    line: frozenset[object]  # nets that are permanent line
    switched: frozenset[object]  # nets of the live side of the lamps
    line_at: int | None  # the switch whose enclosure the line reaches first
    switched_at: int | None  # the switch whose enclosure the switched line leaves from

    @property
    def last(self) -> int:
        """The index of the last switch."""
        return len(self.commons) - 1


@dataclass(frozen=True)
class Join:
    """How switches are joined."""

    name: str
    says: str  # in a record: "three wires between the switches, ..."
    lay: Callable[[tuple[SwitchPlace, ...]], JoinLaid]
    signs: tuple[Sign, ...]
    refuses: Callable[[int, bool], str]  # number of switches, in conduit -> the reason, or ""
    two_ends: bool  # line comes in at one switch and the switched line goes out at another
    briefly: str  # after "two-way": " by conversion"
    also: tuple[str, ...] = ()
    taught: str = ""  # what a class is told of it, in sentences


@dataclass(frozen=True)
class Parting:
    """Where line and neutral of a circuit part, as recognition has found it: what the sign of a loop needs."""

    at_switch: bool  # in the enclosure of one of its switches
    at_joint_box: bool  # in a joint box on its switched line
    at_light: bool  # in a light, or an accessory on its switched line
    line_to_switches: bool  # from there the line goes to the switches and past no light, the neutral past no switch


@dataclass(frozen=True)
class Wanted:
    """One circuit to be laid."""

    join: Join
    seats: tuple[SwitchPlace, ...]
    lights: tuple[Light, ...]
    conduit: bool = False
    goes_on: bool = False  # another circuit of the same way is fed from this one
    way: str = "way 1"  # the accessory that stands for the way


@dataclass(frozen=True)
class Loop:
    """Where line and neutral loop."""

    name: str
    says: str  # in a record: "line and neutral looped at the rose"
    lay: Callable[[Wanted, Feed, Plan], Feed]  # the third is what it writes into
    refuses: Callable[[Join, bool], str]  # join, in conduit -> the reason, or ""
    holds: Callable[[Parting], bool]  # the sign by which it is known again
    also: tuple[str, ...] = ()
    warns: Callable[[Join, bool], str] = lambda join, conduit: ""  # why it is bad practice, though it would work
    taught: str = ""  # what a class is told of it, in sentences
    without_rose: str = ""  # what a record says where it is no ceiling rose at which they loop; "" where it is the same


def in_a_row(seats: tuple[SwitchPlace, ...], past: str = "", past_does: str = COMMON,
             ends: tuple[str, str] = ("", "")) -> tuple[tuple[Wire, ...], ...]:
    """The wires of every hop: both strappers, and where `past` is given a third wire that runs past intermediates.

    `ends` are the ports of the third wire at the first and the last switch; `past` names the connector between.
    """
    hops = []
    for i, (here, there) in enumerate(itertools.pairwise(seats)):
        third: tuple[Wire, ...] = ()
        if past:
            a = ends[0] if i == 0 else here.joint(past)
            b = ends[1] if i == len(seats) - 2 else there.joint(past)
            third = (Wire(past_does, a, b),)
        (a1, a2), (b1, b2) = here.straps(leaving=True), there.straps(leaving=False)
        hops.append((*third, Wire(STRAP_1, a1, b1), Wire(STRAP_2, a2, b2)))
    return tuple(hops)


def between(seats: tuple[SwitchPlace, ...], name: str) -> tuple[tuple[int, str], ...]:
    """A connector of that name behind every switch but the first and the last."""
    return tuple((i, seats[i].joint(name)) for i in range(1, len(seats) - 1))


def straps_run_through(chain: Chain) -> bool:
    """Two strappers leave each switch and arrive at the next."""
    return all(
        len(leave) == 2 and leave == arrive
        for leave, arrive in zip(chain.straps_out[:-1], chain.straps_in[1:], strict=True)
    )
