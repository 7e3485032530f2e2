"""Fans and what isolates them: fan, timer fan, three-pole isolator.

Terminals of a timer fan and of a three-pole isolator: a secondary source; the loads are assumed, from memory.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from sheetgen.catalogue.accessories.entry import EARTH, LINE, NEUTRAL, BadOption, Entry, choice
from sheetgen.catalogue.accessories.lamps import SWITCHED
from sheetgen.model.accessory import AccessoryKind, Level, LoadKind, Meant, Position, SwitchKind, TerminalKind
from sheetgen.model.quantities import BadQuantity, read_quantity

DEFAULT_WATTS = Fraction(20)
TIMER_WATTS = Fraction(1)
SL = replace(SWITCHED, name="SL", aliases=("switched line", "switched live", "SW", "S/L", "T", "trigger"))
MOTOR = TerminalKind("motor", ways=0, to_be_empty=True, inner=True)  # a point within the fan: what its timer switches
PLACES = {"ceiling": Level.CEILING, "wall": Level.WALL}


def load_of(options: Mapping[str, object], default: Fraction) -> Fraction:
    """The option `load` in watts."""
    try:
        return read_quantity(options["load"], "W", "20 W") if "load" in options else default
    except BadQuantity as bad:
        raise BadOption(f"'load': {bad}") from None


def fan(options: Mapping[str, object]) -> AccessoryKind:
    """Runs while its switched line is live. The earth terminal holds the cpc, which a class II fan does not need."""
    terminals = (replace(SWITCHED), NEUTRAL, EARTH)
    return AccessoryKind(
        "fan", choice(options, "on", PLACES, "ceiling"), terminals, tuple((t.name,) for t in terminals),
        loads=(LoadKind("L", "N", load_of(options, DEFAULT_WATTS), what="fan", assumed="load" not in options),),
        letter="E",
        ports=(("switched line", "L"), ("neutral", "N"), ("earth", "E")), flags=frozenset({"fan", "class II"}),
    )


def timer_fan(options: Mapping[str, object]) -> AccessoryKind:
    """Permanent line, switched line as trigger, neutral.

    The fan runs while SL is live, and for the run-on time after (`triggered`) from the permanent line. Within the fan
    SL only tells the electronics to run it; joined to the motor it gives the same states wherever both lines are there.
    """
    terminals = (SL, LINE, MOTOR, NEUTRAL, EARTH)
    return AccessoryKind(
        "timer fan", choice(options, "on", PLACES, "ceiling"), terminals, tuple((t.name,) for t in terminals),
        switches=(SwitchKind(
            (Position("idle", (("SL", "motor"),)), Position("triggered", (("L", "motor"),))),
            name="timer", what="timer", by_hand=False),),
        loads=(
            LoadKind("motor", "N", load_of(options, DEFAULT_WATTS), name="motor", what="fan",
                     assumed="load" not in options),
            LoadKind("L", "N", TIMER_WATTS, name="electronics", what="electronics", assumed=True),
        ),
        ports=(("line", "L"), ("switched line", "SL"), ("neutral", "N"), ("earth", "E")), letter="E",
        flags=frozenset({"fan", "class II", "electronics"}),
    )


def _pole(name: str, number: str, meant: Meant, words: tuple[str, ...]) -> tuple[TerminalKind, TerminalKind]:
    supply = TerminalKind(f"{name} in", meant, aliases=(
        f"{number} in", f"{number} supply", *(f"{w} in" for w in words), f"{name} supply", f"supply {name}"))
    load = TerminalKind(f"{name} out", meant, aliases=(
        f"{number} out", f"{number} load", *(f"{w} out" for w in words), f"{name} load", f"load {name}"))
    return supply, load


LINE_POLE = _pole("L", "1", Meant.LINE, ("line", "live"))
SWITCHED_POLE = _pole("SL", "2", Meant.SWITCHED, ("switched line", "switched live"))
NEUTRAL_POLE = _pole("N", "3", Meant.NEUTRAL, ("neutral",))


Pole = tuple[TerminalKind, TerminalKind]  # supply side, load side


def of_poles(name: str, poles: tuple[Pole, ...], what: str, flags: frozenset[str],
             level: Level = Level.WALL) -> AccessoryKind:
    """A switch that parts every pole at once."""
    rows = tuple((a.name, b.name) for a, b in poles)
    return AccessoryKind(
        name, level, (*(t for pole in poles for t in pole), EARTH), (*rows, ("E",)),
        switches=(SwitchKind((Position("off"), Position("on", rows)), what=what),),
        ports=(*((p, t) for row, port in zip(rows, _ports(poles), strict=True)
                 for p, t in ((port, row[0]), (f"{port} out", row[1]))), ("earth", "E")),
        letter="Q", flags=flags,
    )


def _ports(poles: tuple[Pole, ...]) -> tuple[str, ...]:
    names = {Meant.LINE: "line", Meant.SWITCHED: "switched line", Meant.NEUTRAL: "neutral"}
    return tuple(names[a.meant] for a, _ in poles)


def isolator(options: Mapping[str, object]) -> AccessoryKind:
    """Line, switched line and neutral parted together."""
    level = choice(options, "on", PLACES, "wall")
    return of_poles("three-pole fan isolator", (LINE_POLE, SWITCHED_POLE, NEUTRAL_POLE), "isolator",
                    frozenset({"three-pole isolator"}), level)


def double_pole(options: Mapping[str, object]) -> AccessoryKind:
    """Line and neutral parted together; four terminals, not to be mistaken for an intermediate."""
    return of_poles("double-pole switch", (LINE_POLE, NEUTRAL_POLE), "double-pole", frozenset())


FAN = Entry("fan", fan, ("extractor fan", "extract fan", "bathroom fan"), ("load", "on"),
            "L, N and earth; runs while L is live; `load: 20 W` is assumed")
TIMER_FAN = Entry(
    "timer fan", timer_fan, ("fan with timer", "run-on fan", "fan with run-on", "fan with run on timer"),
    ("load", "on"),
    "L, SL, N and earth; runs on after SL has gone off",
)
ISOLATOR = Entry(
    "three-pole fan isolator", isolator, ("fan isolator", "three-pole isolator", "3-pole isolator", "isolator"),
    ("on",),
    "parts L, SL and N together: L in, L out, SL in, SL out, N in, N out",
)
DOUBLE_POLE = Entry(
    "double-pole switch", double_pole, ("double pole", "dp switch", "dp", "2-pole switch"), (),
    "parts L and N together: L in, L out, N in, N out",
)
