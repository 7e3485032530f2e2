"""What every terminal and lamp does in every setting of the switches, exact."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from functools import cache, cached_property
from typing import overload

from sheetgen.model.accessory import Terminal


class Potential(StrEnum):
    """What a terminal is at.

    In a setting that shorts a line, everything joined to the short is at LINE: so it is until the device opens. Where
    a neutral and an earth are joined the terminal is at NEUTRAL.
    """

    LINE = "line"
    NEUTRAL = "neutral"
    EARTH = "earth"
    THROUGH_LOAD = "through a load"  # full line voltage on a meter, carries nothing
    BETWEEN = "between"  # a fraction of the voltage: lamps in series
    FLOATING = "floating"  # joined to nothing; a sensitive meter may show tens of volts
    NOT_KNOWN = "not known"  # a conductor whose end nobody knows may reach it: to be treated as live


@dataclass(frozen=True)
class Condition:
    """A terminal in one setting: its potential, its share of the line voltage, the ways that put it there."""

    potential: Potential
    fraction: Fraction | None  # of U0; None where floating
    ways: tuple[str, ...] = ()  # accessories of the ways whose rails reach it: several where circuits are joined
    solid: bool = True  # False: only through a load, as a switched line that is off is at neutral through its lamp

    def __hash__(self) -> int:
        """With the numerator for the fraction, whose own hash takes longer than comparing the few that agree in it."""
        return self._hash

    @cached_property
    def _hash(self) -> int:
        numerator = None if self.fraction is None else self.fraction.numerator
        return hash((self.potential, self.ways, self.solid, numerator))

    @property
    def live(self) -> bool:
        """A meter to neutral shows a voltage, or may: what is not known counts as live."""
        return bool(self.fraction) or self.potential is Potential.NOT_KNOWN


class LampState(StrEnum):
    """What a load does."""

    ON = "on"
    DIM = "dim"
    TRACE = "all but off"  # a little current through something else: dark, though electronics may glow
    OFF = "off"
    OFF_BUT_LIVE = "off but live"  # no voltage across it, but its contacts are live
    NOT_KNOWN = "not known"  # a conductor whose end nobody knows may reach it
    SHORT = "short"  # its part of the circuit is shorted in this setting; the device opens


LIT = (LampState.ON, LampState.DIM)
"""Enough current flows through the load: a lamp gives light, a fan runs."""
LEAST_LIGHT = Fraction(1, 10)
"""Of the nominal voltage; with less a filament stays dark and a motor stands (common practice)."""
FULL_LIGHT = Fraction(94, 100)
"""Of the nominal voltage; a supply may itself stand so low: 230 V +10 % -6 %, ESQCR 2002 regulation 27 (from
memory)."""


@dataclass(frozen=True)
class Lamp:
    """A load in one setting: state, the fraction of the nominal voltage across it, the ways whose line reaches it."""

    state: LampState
    fraction: Fraction
    ways: tuple[str, ...] = ()


@dataclass(frozen=True)
class Short:
    """A line joined to a neutral or an earth with no load between, and the terminals of the shortest path, both rails
    included."""

    rails: tuple[Terminal, Terminal]  # board terminals: the line, then the neutral or the earth
    through: tuple[Terminal, ...]


@dataclass(frozen=True)
class Meeting:
    """Rails joined with no load between where no fault current flows, yet nothing should join them.

    Lines of two ways, neutrals of two ways, or a neutral and an earth. The terminals of the shortest path as for a
    short. (All ways are taken to be of one phase.)
    """

    rails: tuple[Terminal, Terminal]
    kinds: tuple[str, str]  # of the rails: line, neutral, earth, in this order
    through: tuple[Terminal, ...]


@dataclass(frozen=True)
class Row:
    """One setting of one group. The tuples run parallel to the group's."""

    setting: tuple[str, ...]  # position of each switch
    lamps: tuple[Lamp, ...]
    conditions: tuple[Condition, ...]
    shorts: tuple[Short, ...] = ()
    meetings: tuple[Meeting, ...] = ()

    @property
    def known(self) -> bool:
        """No conductor whose end nobody knows may reach anything here; False: what happens cannot be told."""
        return (all(lamp.state is not LampState.NOT_KNOWN for lamp in self.lamps)
                and all(c.potential is not Potential.NOT_KNOWN for c in self.conditions))

    @property
    def links(self) -> tuple[tuple[str, str], ...]:
        """Pairs of ways whose lines the setting joins."""
        return tuple((a.accessory, b.accessory) for x in self.meetings if x.kinds == ("line", "line")
                     for a, b in (x.rails,))


class Rows(Sequence[Row]):
    """The rows of a group, each solved when it is first asked for."""

    def __init__(self, settings: Sequence[tuple[str, ...]], solve: Callable[[int], Row]):
        self.settings = tuple(settings)
        self._solve = cache(solve)

    def __len__(self) -> int:
        return len(self.settings)

    @overload
    def __getitem__(self, i: int) -> Row: ...

    @overload
    def __getitem__(self, i: slice) -> tuple[Row, ...]: ...

    def __getitem__(self, i: int | slice) -> Row | tuple[Row, ...]:
        if isinstance(i, slice):
            return tuple(map(self._solve, range(len(self))[i]))
        return self._solve(range(len(self))[i])


@dataclass(frozen=True)
class Group:
    """Switches, lamps and terminals that depend on one another, and every setting of the switches.

    Rows are in an order in which one switch is operated at a time (reflected Gray code); the first row has every
    switch in its first position. `complete` is False where a group has too many switches for every setting: then
    rows hold the setting with every switch in its first position and that with every one in its last, each switch
    operated from there, and each pair operated from the first where there are not too many.
    """

    switches: tuple[str, ...]
    positions: tuple[tuple[str, ...], ...]  # of each switch
    lamps: tuple[str, ...]
    terminals: tuple[Terminal, ...]  # those whose condition may depend on the switches
    rows: Sequence[Row]
    complete: bool = True

    @cached_property
    def known(self) -> bool:
        """Every setting is known."""
        return all(row.known for row in self.rows)

    def row(self, setting: Mapping[str, str]) -> Row:
        """The row for a setting (switch name -> position); KeyError if there is none."""
        return self.rows[self._turn[tuple(setting[s] for s in self.switches)]]

    @cached_property
    def settings(self) -> tuple[tuple[str, ...], ...]:
        """The setting of each row."""
        return self.rows.settings if isinstance(self.rows, Rows) else tuple(row.setting for row in self.rows)

    @cached_property
    def _turn(self) -> Mapping[tuple[str, ...], int]:
        return {setting: i for i, setting in enumerate(self.settings)}

    @cached_property
    def _by_setting(self) -> Mapping[tuple[str, ...], Row]:
        return {row.setting: row for row in self.rows}

    @property
    def pairs_operated(self) -> bool:
        """Whether each pair of switches is operated from the first setting, of a group that is not complete."""
        return len(self.rows) > 2 * (1 + sum(len(positions) - 1 for positions in self.positions))

    @cached_property
    def seen(self) -> tuple[tuple[Condition, ...], ...]:
        """Of each terminal every condition that it has in some setting, once."""
        columns = zip(*(row.conditions for row in self.rows), strict=True)
        return tuple(column[:1] if column.count(column[0]) == len(column) else tuple(dict.fromkeys(column))
                     for column in columns)

    @cached_property
    def changing(self) -> tuple[int, ...]:
        """The places of the terminals whose condition is not the same in every setting."""
        return tuple(i for i, seen in enumerate(self.seen) if len(seen) > 1)

    @cached_property
    def operations(self) -> tuple[tuple[Row, tuple[tuple[int, Row], ...]], ...]:
        """Every row with the rows that one operation of one switch leads to, and the place of that switch."""
        first, rows = self.rows[0].setting, self._by_setting
        found: dict[tuple[str, ...], list[tuple[int, Row]]] = {setting: [] for setting in rows}
        for setting, row in rows.items():
            for place in (i for i, (a, b) in enumerate(zip(setting, first, strict=True)) if a != b):
                for position in self.positions[place]:  # what leads to the first position leads back from it
                    other = rows.get((*setting[:place], position, *setting[place + 1:]))
                    if other is not None and position != setting[place]:
                        found[setting].append((place, other))
                        if position == first[place]:
                            found[other.setting].append((place, row))
        return tuple((rows[setting], tuple(sorted(reached, key=lambda to: (to[0], self.positions[to[0]].index(
            to[1].setting[to[0]]))))) for setting, reached in found.items())


@dataclass(frozen=True)
class Solution:
    """All groups, and the terminals whose condition no switch changes.

    A group without switches (a lamp wired straight to line and neutral) has one row with an empty setting.
    """

    groups: tuple[Group, ...]
    constant: Mapping[Terminal, Condition]
    nets: Mapping[Terminal, Terminal]  # each terminal -> a representative of what conductors alone join it to
    shorts: tuple[Short, ...] = ()  # shorts that no switch makes
    meetings: tuple[Meeting, ...] = ()  # rails that conductors alone join

    @cached_property
    def meeting(self) -> tuple[Group, ...]:
        """The groups of which some setting shorts a line, or joins the lines of two ways."""
        return tuple(group for group in self.groups if any(row.shorts or row.links for row in group.rows))

    @property
    def every_short(self) -> tuple[Short, ...]:
        """Those that no switch makes, and those of every setting."""
        return (*self.shorts, *(short for group in self.groups for row in group.rows for short in row.shorts))

    def group_of_switch(self, switch: str) -> Group:
        """The group in which a switch is operated."""
        return next(g for g in self.groups if switch in g.switches)

    def group_of_lamp(self, lamp: str) -> Group:
        """The group in which a lamp lights."""
        return next(g for g in self.groups if lamp in g.lamps)

    def lamp(self, name: str, setting: Mapping[str, str]) -> Lamp:
        """A load in a setting of all the switches (name -> position): out where a switch anywhere shorts its way.

        KeyError where its group has no row for the setting.
        """
        group = self.group_of_lamp(name)
        lamp = group.row(setting).lamps[group.lamps.index(name)]
        return Lamp(LampState.SHORT, Fraction(0), lamp.ways) if self.shorted_in(setting) & {*lamp.ways} else lamp

    def shorted_in(self, setting: Mapping[str, str]) -> frozenset[str]:
        """The ways whose line is shorted in a setting of all the switches, also through the line of another way."""
        found = {short.rails[0].accessory for short in self.shorts}
        links: list[tuple[str, str]] = []
        for group in self.meeting:
            row = group.row(setting)
            found.update(short.rails[0].accessory for short in row.shorts)
            links += row.links
        return reached_by(found, links)

    def conditions(self, terminal: Terminal) -> tuple[Condition, ...]:
        """Every condition the terminal has over all settings, without repeats."""
        if terminal in self.constant:
            return (self.constant[terminal],)
        for group in self.groups:
            if terminal in group.terminals:
                return group.seen[group.terminals.index(terminal)]
        raise KeyError(terminal)


def reached_by(shorted: Iterable[str], links: Iterable[tuple[str, str]]) -> frozenset[str]:
    """The ways shorted, and those whose lines are joined to theirs, one by one or through others."""
    found, links = set(shorted), list(links)
    while more := {way for link in links if found & {*link} for way in link} - found:
        found |= more
    return frozenset(found)
