"""Accessories with electronics in them: dimmer, sensor, relay module, emergency luminaire.

Terminals: a secondary source, in part from memory. The load of the electronics is assumed.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from sheetgen.catalogue.accessories.entry import EARTH, LINE, NEUTRAL, Entry, choice
from sheetgen.catalogue.accessories.fans import SL
from sheetgen.catalogue.accessories.lamps import NO_LAMP, lamp
from sheetgen.catalogue.accessories.switches import COM, L1, L2, PARTS, SPELLINGS
from sheetgen.model.accessory import AccessoryKind, Level, LoadKind, Meant, Position, SwitchKind, TerminalKind

STANDBY_WATTS = Fraction(1)
DIMMED = TerminalKind("load", Meant.CONTACT, aliases=("SL", "L1", "out", "lamp", "~"))
FEED = TerminalKind("L", Meant.CONTACT, aliases=("line", "live", "COM", "in"))
OUT = replace(SL, aliases=(*SL.aliases, "L1", "out", "lamp"))
INPUT = TerminalKind("S", Meant.SIGNAL, aliases=("switch", "input"))
INPUTS = tuple(TerminalKind(name, Meant.SIGNAL, aliases=words) for name, words in (
    ("S1", ("switch 1", "input 1", "I1")), ("S2", ("switch 2", "input 2", "I2"))))
WORDS = {word: what for what in ("one-way", "two-way") for word in (what, *SPELLINGS[what])}
INNER = TerminalKind("lamp", ways=0, to_be_empty=True, inner=True)  # a point within it: what its sensor switches
PLACES = {"ceiling": Level.CEILING, "wall": Level.WALL}


def dimmer(options: Mapping[str, object]) -> AccessoryKind:
    """One-way with L and load, or two-way with COM, L1 and L2; what it gives the lamp is not told apart from full."""
    what = str(choice(options, "switching", WORDS, "one-way"))
    terminals: tuple[TerminalKind, ...]
    if what == "two-way":
        terminals, positions, ports = (COM, L1, L2), PARTS[what][1], PARTS[what][3]
    else:
        terminals = (FEED, DIMMED)
        positions = (Position("off"), Position("on", (("L", "load"),)))
        ports = (("common", "L"), ("out", "load"))
    return AccessoryKind(
        f"{what} dimmer", Level.WALL, (*terminals, EARTH), (*((t.name,) for t in terminals), ("E",)),
        switches=(SwitchKind(positions, what="dimmer"),), ports=(*ports, ("earth", "E")), letter="Q",
        flags=frozenset({"dimmer"}),
    )


def _with_output(name: str, what: str, level: Level, extra: tuple[TerminalKind, ...], flag: str) -> AccessoryKind:
    """Electronics on L and N that join L to SL while triggered."""
    terminals = (LINE, NEUTRAL, OUT, *extra, EARTH)
    return AccessoryKind(
        name, level, terminals, tuple((t.name,) for t in terminals),
        switches=(SwitchKind(
            (Position("idle"), Position("triggered", (("L", "SL"),))), what=what, by_hand=False),),
        loads=(LoadKind("L", "N", STANDBY_WATTS, name="electronics", what="electronics", assumed=True),),
        ports=(("line", "L"), ("neutral", "N"), ("out", "SL"), ("earth", "E")), letter="B" if what == "sensor" else "K",
        flags=frozenset({flag, "electronics", "class II"}),
    )


def sensor(options: Mapping[str, object]) -> AccessoryKind:
    """Movement or light sensor: line, neutral, switched line out."""
    return _with_output("sensor", "sensor", choice(options, "on", PLACES, "wall"), (), "sensor")


def relay(options: Mapping[str, object]) -> AccessoryKind:
    """A module that switches by radio or by a switch on its input S, which carries no lamp current.

    `inputs: 2` has S1 and S2, between which the switch lies.
    """
    inputs = choice(options, "inputs", {"1": (INPUT,), "2": INPUTS}, "1")
    return _with_output("relay module", "relay", choice(options, "on", PLACES, "wall"), inputs, "electronics")


def floodlight(options: Mapping[str, object]) -> AccessoryKind:
    """A lamp with its own sensor: on a permanent line it lights while triggered."""
    terminals = (LINE, INNER, NEUTRAL, EARTH)
    out = options.get("lamp") == NO_LAMP
    electronics = LoadKind("L", "N", STANDBY_WATTS, name="electronics", what="electronics", assumed=True)
    return AccessoryKind(
        "sensor floodlight", choice(options, "on", PLACES, "wall"), terminals, tuple((t.name,) for t in terminals),
        switches=(SwitchKind(
            (Position("idle"), Position("triggered", (("L", "lamp"),))), what="sensor", by_hand=False),),
        loads=(electronics,) if out else (replace(lamp(options), a="lamp", name="lamp"), electronics),
        ports=(("line", "L"), ("switched line", "L"), ("neutral", "N"), ("earth", "E")), letter="E",
        flags=frozenset({"sensor", "electronics", "class I", *(("no lamp",) if out else ())}),
    )


def emergency(options: Mapping[str, object]) -> AccessoryKind:
    """Charged from the permanent line, lit by the switched line; what it does when the line fails is in no state."""
    terminals = (LINE, SL, NEUTRAL, EARTH)
    charger = LoadKind("L", "N", STANDBY_WATTS, name="charger", what="electronics", assumed=True)
    out = options.get("lamp") == NO_LAMP
    return AccessoryKind(
        "emergency luminaire", choice(options, "on", PLACES, "ceiling"), terminals, tuple((t.name,) for t in terminals),
        loads=(charger,) if out else (replace(lamp(options), a="SL", name="lamp"), charger),
        ports=(("line", "L"), ("switched line", "SL"), ("neutral", "N"), ("earth", "E")), letter="E",
        flags=frozenset({"emergency", "electronics", "class II", *(("no lamp",) if out else ())}),
    )


DIMMER = Entry(
    "dimmer", dimmer, ("dimmer switch", "dimming switch"), ("switching",),
    "L and load; `switching: two-way` has COM, L1, L2",
)
SENSOR = Entry(
    "sensor", sensor,
    ("pir", "pir sensor", "movement sensor", "motion sensor", "photocell", "daylight sensor", "occupancy sensor"),
    ("on",), "L, N and SL out; idle or triggered",
)
RELAY = Entry(
    "relay module", relay, ("smart relay", "smart module", "relay", "smart switch module"),
    ("on", "inputs"), "L, N, SL out and a switch input S; idle or triggered; `inputs: 2` has S1 and S2",
)
EMERGENCY = Entry(
    "emergency luminaire", emergency, ("emergency light", "emergency lamp", "maintained luminaire"),
    ("lamp", "cap", "on"), "permanent line L, switched line SL, N and earth",
)
FLOODLIGHT = Entry(
    "sensor floodlight", floodlight,
    ("floodlight", "pir floodlight", "security light", "flood light", "floodlight with sensor"), ("lamp", "cap", "on"),
    "L, N and earth; its own sensor lights it",
)
