"""What else is met on a lighting circuit: the fused connection unit, and the socket outlet.

Terminals of a fused connection unit are marked Supply and Load; common practice.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from sheetgen.catalogue.accessories.entry import EARTH, LINE, NEUTRAL, BadOption, Entry, choice
from sheetgen.catalogue.accessories.fans import LINE_POLE, NEUTRAL_POLE, of_poles
from sheetgen.model.accessory import AccessoryKind, Level, Position, SwitchKind
from sheetgen.model.quantities import BadQuantity, read_quantity

FUSES = tuple(Fraction(n) for n in (1, 2, 3, 5, 7, 10, 13))  # BS 1362 cartridge fuses, ampere; from memory
USUAL_FUSE = Fraction(3)  # for a lighting spur; common practice
SWITCHED = {"yes": True, "true": True, "no": False, "false": False}


def fused_connection_unit(options: Mapping[str, object]) -> AccessoryKind:
    """Line and neutral through it, the line by its own fuse (`fuse: 3 A`); `switched: no` where it has no switch.

    Unswitched it has one switch all the same, its fuse carrier: in or out.
    """
    try:
        fuse = read_quantity(options["fuse"], "A", "3 A") if "fuse" in options else USUAL_FUSE
    except BadQuantity as bad:
        raise BadOption(f"'fuse': {bad}") from None
    if fuse not in FUSES:
        raise BadOption(f"No fuse of {float(fuse):g} A goes into it: {', '.join(f'{int(f)} A' for f in FUSES)}.")
    switched = choice(options, "switched", SWITCHED, "yes")
    kind = of_poles("fused connection unit", (LINE_POLE, NEUTRAL_POLE), "double-pole", frozenset({"fused"}))
    if not switched:
        rows = (("L in", "L out"),)
        through = (("N in", "N out"),)
        kind = replace(kind, switches=(SwitchKind(
            (Position("fuse out", through), Position("fuse in", (*rows, *through))), what="isolator"),))
    return replace(kind, fuse=fuse, fuse_assumed="fuse" not in options)


def socket(options: Mapping[str, object]) -> AccessoryKind:
    """A socket outlet, with nothing plugged in."""
    terminals = (replace(LINE, ways=4), replace(NEUTRAL, ways=4), EARTH)
    return AccessoryKind(
        "socket outlet", Level.WALL, terminals, tuple((t.name,) for t in terminals), letter="X",
        ports=(("line", "L"), ("neutral", "N"), ("earth", "E")), flags=frozenset({"socket"}),
    )


FUSED_UNIT = Entry(
    "fused connection unit", fused_connection_unit,
    ("fcu", "fused spur", "switched fused spur", "spur unit", "fused spur unit", "fused connection", "switched fcu",
     "fused connection unit switched"),
    ("fuse", "switched"), "parts L and N: L in, L out, N in, N out; `fuse: 3 A` is assumed",
)
SOCKET = Entry(
    "socket outlet", socket, ("socket", "double socket", "single socket", "plug socket", "shaver socket", "5 a socket",
                              "lighting socket"), (), "L, N and earth",
)
