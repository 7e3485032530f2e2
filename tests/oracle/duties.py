"""What every core carries, over all settings: the law that a role is what a core carries, stated on its own.

The current decides first. A core that brings current from a line to a load is a line; one that takes it on from the
load to a neutral is a neutral; one that takes it to earth is a danger and never a cpc. Only where no load current
ever flows does a rail that is solidly joined decide. A potential that comes through a load decides nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from sheetgen.model.accessory import Terminal

from .bench import Bench, Solved

LINE_DUTIES = frozenset({"permanent line", "switched line", "strapper"})
NEUTRAL_DUTIES = frozenset({"neutral", "switched neutral"})


@dataclass
class Duty:
    """What one core does in the settings that serve."""

    carries: set[str] = field(default_factory=set)  # "line", "neutral", "earth", "neutral and earth", "between"
    solid: set[str] = field(default_factory=set)  # "line", "neutral", "earth", "neutral and earth", ""
    live: bool = False  # at some voltage in some setting, solid or through a load
    sides: set[str] = field(default_factory=set)  # contacts of loads it leads to, through switches too: "a", "b"
    changeovers: set[str] = field(default_factory=set)  # changeover switches on its conductors
    protective: bool = False  # a cpc by its make
    outlets: bool = False  # a load's contact is on its conductors

    @property
    def earthed(self) -> bool:
        """Load current in it reaches an earth."""
        return bool(self.carries & {"earth", "neutral and earth"})


def serving(bench: Bench, solved: Iterable[Solved]) -> list[Solved]:
    """The settings that say what a core is for: no short, and every isolator closed."""
    closed = bench.multipole()
    return [s for s in solved if not s.short and all(s.setting[n] == p for n, p in closed.items())]


def duties(bench: Bench, solved: Sequence[Solved]) -> dict[str, Duty]:
    """Core.key -> its duty, for every core that is on a terminal at one end at least."""
    found = {key: Duty() for key in bench.landed}
    for s in serving(bench, solved):
        for key, at in bench.landed.items():
            duty, kinds = found[key], s.kinds.get(s.knot[at], set())
            both = {"neutral", "earth"} <= kinds and "line" not in kinds
            duty.solid.add("neutral and earth" if both else s.solid(at))
            duty.live |= bool(s.volt(at))
        for edge in bench.cores:
            if s.flow[edge]:
                found[edge.name].carries.add(_side(s.kinds.get(s.knot[edge.a], set())))
    made = {core.key: core.cpc for core in bench.wiring.cores()}
    for key, at in bench.landed.items():
        found[key].protective = made[key]
        _surroundings(bench, at, found[key])
    for load in bench.loads:  # a lamp turned round: what is on one contact tells what the other is for
        for rail, given, other, side in (("neutral", load.a, load.b, "a"), ("line", load.b, load.a, "b")):
            if any(s.solid(given) == rail for s in solved):
                for key, at in bench.landed.items():
                    if bench.through_switches[at] == bench.through_switches[other]:
                        found[key].sides.add(side)
    return found


def _side(kinds: set[str]) -> str:
    if "line" in kinds:
        return "line"
    return " and ".join(k for k in ("neutral", "earth") if k in kinds) or "between"


def _surroundings(bench: Bench, at: Terminal, duty: Duty) -> None:
    knot = bench.by_conductors[at]
    for load in bench.loads:
        for side, contact in (("a", load.a), ("b", load.b)):
            if bench.through_switches[contact] == bench.through_switches[at]:
                duty.sides.add(side)
            duty.outlets |= bench.by_conductors[contact] == knot
    for name, positions in bench.switches.items():
        if sum(bool(joins) for joins in positions.values()) > 1 and any(
            bench.by_conductors[t] == knot for joins in positions.values() for pair in joins for t in pair
        ):
            duty.changeovers.add(name)


def allowed(duty: Duty) -> frozenset[str]:
    """The roles that can be said of a core with this duty; empty where the oracle has no word on it."""
    if duty.carries == {"line"}:
        if duty.solid == {"line"}:
            return frozenset({"permanent line"})
        if len(duty.changeovers) > 1 and not duty.outlets:
            return frozenset({"strapper", "switched line"})
        return frozenset({"switched line"})
    if duty.carries == {"neutral"} and "line" not in duty.solid:
        joined = duty.solid <= {"neutral", "neutral and earth"}
        return frozenset({"neutral"}) if joined else frozenset({"switched neutral"})
    if duty.carries:  # now one, now another: anything but what it would be dangerous to say
        either = LINE_DUTIES if "line" in duty.carries | duty.solid else NEUTRAL_DUTIES
        return either | {"switched neutral", "between lamps"}
    only = next(iter(duty.solid)) if len(duty.solid) == 1 else ""
    if only:
        return {"line": frozenset({"permanent line"}), "neutral": frozenset({"neutral"}),
                "earth": frozenset({"cpc"}), "neutral and earth": frozenset({"neutral", "cpc"})}[only]
    if "line" in duty.solid:
        return LINE_DUTIES | {"switched neutral"} if "neutral" in duty.solid else LINE_DUTIES - {"permanent line"}
    if duty.solid == {"neutral", ""}:
        return frozenset({"switched neutral"})
    idle = {"cut off", "signal"} if "" in duty.solid else set()  # no load uses it, and some setting leaves it alone
    return NEUTRAL_DUTIES | {"cpc"} | idle if duty.solid & {"neutral", "neutral and earth"} else frozenset()


def breaches(duty: Duty, role: str) -> str:
    """What is wrong with a role that was said, in words; "" where nothing is, or where every setting is a short."""
    if not duty.solid:
        return ""
    if duty.carries and role == "cpc":
        which = "bare or green-and-yellow core" if duty.protective else "coloured core"
        return f"{which} carries load current on the {_words(duty.carries)} side, said to be cpc"
    if duty.earthed:
        return "" if role in NEUTRAL_DUTIES | {"between lamps"} or "line" in duty.carries | duty.solid or (
            "return" in role) else (
            f"takes load current to earth, said to be {role}")
    if role in NEUTRAL_DUTIES and duty.solid <= {"", "line"} and not duty.carries and "b" not in duty.sides:
        return f"no neutral is joined to it and it leads to no neutral contact, said to be {role}"
    if role in LINE_DUTIES and duty.solid <= {"", "neutral", "neutral and earth"} and not duty.carries and (
            duty.sides == {"b"}):
        return f"no line is joined to it and it leads to a neutral contact only, said to be {role}"
    right = allowed(duty)
    if right and role not in right:
        what = f"carries on the {_words(duty.carries)} side" if duty.carries else "carries nothing"
        return f"{what}, solidly at {_words(duty.solid)}: {' or '.join(sorted(right))}, said to be {role}"
    return ""


def _words(kinds: Iterable[str]) -> str:
    return " and ".join(sorted(k or "nothing" for k in kinds))
