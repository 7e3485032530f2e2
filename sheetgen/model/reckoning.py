"""Figures worked out from lengths, sizes and devices. A figure for which something is not given is None.

`missing` names what has to be given for the figure, in words: "length of W3", "device of way 4".
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Protocol

from sheetgen.model.accessory import Terminal

Setting = tuple[tuple[str, str], ...]  # switch name, position; only the switches that matter


class Figures(Protocol):
    """Any figures, and what they lack."""

    @property
    def missing(self) -> tuple[str, ...]:
        """What has to be given for them, in words."""


@dataclass(frozen=True)
class CableFigures:
    """What a cable carries and may carry. `rating` is for its installation method, with the factor of a fuse in it."""

    cable: str
    amps: float  # greatest current in any of its cores with every lamp on that can be
    rating: Fraction | None
    source: str  # table the rating comes from; "" where there is none
    missing: tuple[str, ...] = ()
    unbalanced: float = 0.0
    """Ampere that go along this route and come back by another: the greatest sum of the currents of all cores, those of
    other cables between the same two accessories included. 0 where line and neutral run together."""
    at_best: Fraction | None = None
    """The rating by the most favourable method, C, where its own is not given: it can't carry more than that."""


@dataclass(frozen=True)
class Limit:
    """The greatest Zs of a device, and 80 per cent of it for a measurement on cold conductors. Ohms, two places."""

    table: Fraction
    measured: Fraction
    source: str


@dataclass(frozen=True)
class WayFigures:
    """One way: the load on it, its device, its limit."""

    way: str
    watts: Fraction  # of everything that can be on at once
    amps: Fraction
    assumed_amps: Fraction  # with 100 W for each lampholder whose lamp is smaller, whether it can be on or not
    limit: Limit | None
    missing: tuple[str, ...] = ()
    dark: tuple[str, ...] = ()  # lamps of the way that are not on with the others, as it is: by a fault, or by turns
    sharing: tuple[str, ...] = ()  # other ways whose line is joined to its own where it feeds something


@dataclass(frozen=True)
class PointFigures:
    """Continuity and earth fault loop of one way at one accessory. Ohms.

    `line` and `neutral` are the terminals of the accessory that lie furthest along the circuit; `setting` is where
    every switch must be on which r1_r2 depends. r1_r2 and rn_r2 are at 20 degC, `zs_hot` has the conductors at
    70 degC.
    """

    accessory: str
    way: str
    line: Terminal | None
    neutral: Terminal | None
    setting: Setting = ()
    r1_r2: float | None = None
    rn_r2: float | None = None
    zs: float | None = None
    zs_hot: float | None = None
    missing: tuple[str, ...] = ()


@dataclass(frozen=True)
class DropFigures:
    """Volt drop at one lamp in the worst setting, every other lamp on that can be. Volts.

    `at` is the accessory up to which it is reckoned: where a flex of unknown length hangs from, else the lamp's own.
    """

    lamp: str
    at: str
    way: str
    volts: float | None
    limit: Fraction
    amps: float = 0.0  # of the lamp itself
    setting: Setting = ()
    missing: tuple[str, ...] = ()


@dataclass(frozen=True)
class Shared:
    """Two ways whose live conductors lie in one accessory or conduit: tested against one another there."""

    ways: tuple[str, str]
    at: tuple[str, ...]  # accessories; conduits as the user names them


@dataclass(frozen=True)
class InsulationPlan:
    """The fewest settings in which an insulation test covers every core.

    A core is covered in a setting when conductors and closed contacts alone, the lamps out, join it to a line or a
    neutral of the board: there the tester is connected. `settings` hold the position of every switch that matters;
    none shorts a line, where the circuit has one that does not.
    """

    settings: tuple[Setting, ...]
    uncovered: tuple[str, ...] = ()  # Core.key of cores on terminals that no setting joins to a line or a neutral
    proven: bool = True  # False where a group has more settings than were solved: perhaps there are fewer
    of_way: Mapping[str, tuple[Setting, ...]] = field(default_factory=dict)  # way -> those of the groups it reaches
    between: tuple[Shared, ...] = ()  # in the order of the board


@dataclass(frozen=True)
class Total:
    """How much there is of one type and size of cable."""

    type: str
    size: str  # "" where not given
    cables: int
    metres: Fraction  # of those whose length is given
    missing: tuple[str, ...] = ()


@dataclass(frozen=True)
class Reckoning:
    """Every figure of a job."""

    cables: tuple[CableFigures, ...] = ()
    ways: tuple[WayFigures, ...] = ()
    points: tuple[PointFigures, ...] = ()
    drops: tuple[DropFigures, ...] = ()
    insulation: InsulationPlan = InsulationPlan(())
    totals: tuple[Total, ...] = ()
