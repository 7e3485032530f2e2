"""Things with a lamp in them: pendant lampholder, batten holder, a fitting with L, N and earth only."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from sheetgen.catalogue.accessories.entry import EARTH, LINE, NEUTRAL, BadOption, Entry, choice
from sheetgen.model.accessory import AccessoryKind, Level, LoadKind, Meant, TerminalKind

DEFAULT_WATTS = Fraction(8)  # an LED lamp in place of 60 W; printed on the sheet as assumed
NO_LAMP = "none"
CAPS = {
    "bayonet": False, "bc": False, "b22": False, "b15": False, "sbc": False, "gu10": False, "led": False,
    "screw": True, "es": True, "e27": True, "e14": True, "ses": True,
}
LOOP = TerminalKind("loop", Meant.LOOP, aliases=("permanent line", "loop in"))
SWITCHED = replace(LINE, meant=Meant.SWITCHED, aliases=(*LINE.aliases, "SL", "switched line", "SW", "switched live"))


def watts(options: Mapping[str, object]) -> Fraction:
    """The lamp's load in watts; the option has been read as a quantity before. 'none' is no load."""
    given = options.get("lamp", DEFAULT_WATTS)
    if not isinstance(given, Fraction):
        raise BadOption(f"A lamp is given by its load: lamp: 8 W, not '{given}'.")
    if given <= 0:
        raise BadOption("A lamp's load is more than 0 W.")
    return given


def lamp(options: Mapping[str, object]) -> LoadKind:
    """A lamp from L to N; with an Edison screw cap N is the outer contact."""
    return LoadKind(
        "L", "N", watts(options), screw=bool(choice(options, "cap", CAPS, "bayonet")), assumed="lamp" not in options)


def holder(kind: AccessoryKind, options: Mapping[str, object]) -> AccessoryKind:
    """The kind with its lamp in it, or with none where the description says `lamp: none`."""
    if options.get("lamp") == NO_LAMP:
        return replace(kind, flags=kind.flags | {"no lamp"})
    return replace(kind, loads=(lamp(options), *kind.loads))


def lampholder(options: Mapping[str, object]) -> AccessoryKind:
    """Two terminals, on a flex."""
    return holder(AccessoryKind(
        "pendant lampholder", Level.PENDANT,
        terminals=(replace(SWITCHED, ways=1), replace(NEUTRAL, ways=1)), face=(("L", "N"),),
        ports=(("switched line", "L"), ("neutral", "N")), letter="E", flags=frozenset({"class II"}),
    ), options)


def batten(options: Mapping[str, object]) -> AccessoryKind:
    """A lampholder on its own base, with an earth terminal, and a loop terminal where there is one."""
    loop = choice(options, "loop", {"yes": True, "true": True, "no": False, "false": False}, "no")
    terminals = (NEUTRAL, *((LOOP,) if loop else ()), EARTH, SWITCHED)
    return holder(AccessoryKind(
        "batten lampholder", Level.CEILING, terminals=terminals, face=tuple((t.name,) for t in terminals), letter="E",
        ports=(("neutral", "N"), ("switched line", "L"), ("earth", "E"), *((("line", "loop"),) if loop else ())),
        flags=frozenset({"class II"}),
    ), options)


def fitting(options: Mapping[str, object]) -> AccessoryKind:
    """L, N and earth only; `class: I` where it has exposed metal that needs the earth."""
    on_wall = choice(options, "on", {"ceiling": False, "wall": True}, "ceiling")
    one = choice(options, "class", {"i": True, "1": True, "ii": False, "2": False}, "i")
    terminals = (NEUTRAL, EARTH, SWITCHED)
    return holder(AccessoryKind(
        "light fitting" if one else "light fitting, class II", Level.WALL if on_wall else Level.CEILING,
        terminals=terminals, face=tuple((t.name,) for t in terminals), letter="E",
        ports=(("neutral", "N"), ("switched line", "L"), ("earth", "E")),
        flags=frozenset({"class I" if one else "class II"}),
    ), options)


LAMPHOLDER = Entry(
    "pendant lampholder", lampholder, ("lampholder", "lamp holder", "pendant", "lamp", "pendant lamp holder"),
    ("lamp", "cap", "hangs from"), "L and N, hung by a flex",
)
BATTEN = Entry(
    "batten lampholder", batten, ("batten holder", "batten", "batten lamp holder", "battenholder"),
    ("lamp", "cap", "loop"), "a lampholder on its own base; `loop: yes` has a loop terminal",
)
FITTING = Entry(
    "light fitting", fitting,
    ("fitting", "luminaire", "light", "wall light", "ceiling light", "downlight", "spotlight", "chandelier", "bulkhead",
     "strip light", "fluorescent light"),
    ("lamp", "cap", "on", "class"), "L, N and earth only",
)
