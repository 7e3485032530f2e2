"""Wording that several sheets share: cautions and notices, the steps of safe isolation, states and lists in words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction

from sheetgen.model.solution import Condition, Lamp, LampState, Potential
from sheetgen.model.style import ColourSet
from sheetgen.model.wiring import Cable, Size, Wiring

RECORD = "This is a wiring record, not an inspection report or certificate."
CAUTION = (
    "Isolate, lock off and prove dead at every accessory by the recognised sequence, with every switch in each of its "
    "positions, before touching a conductor. More than one circuit may be present. Confirm by test before relying on "
    "this record. Work to the wiring regulations in force, by or under a licensed or competent person."
)
CAUTION_SHORT = (
    "Isolate, lock off and prove dead at every accessory, with every switch in each position. Another circuit may be "
    "present. Confirm by test. For a licensed or competent person."
)
# BS 7671 514.14.1, as read from an installed notice; whether the current amendment asks for it is not confirmed, so it
# is printed as good practice.
MIXED_COLOURS = (
    "This installation has wiring colours to two versions of BS 7671. Great care should be taken before undertaking "
    "extension, alteration or repair that all conductors are correctly identified."
)
MIXED_COLOURS_SHORT = "Wiring colours of two versions of BS 7671: identify every conductor by test."
NOT_AS_FOUND_SHORT = "Identify every conductor by test."
DANGER_NOTICED = "DANGER NOTICED"
NOT_AS_FOUND = "COLOURS NOT AS FOUND"
BAD_PRACTICE = "BAD PRACTICE, DRAWN ONLY TO BE TAUGHT: NEVER WIRE IT SO. THIS IS NO JOB SHEET."
NO_RECORD = "This is no record of any wiring: nothing is wired so."
NOT_GIVEN = "not given"
FEW_ALIKE = 3  # below this they are named rather than counted
BLANK = "." * 12  # on paper, room to write in
FLOATING = "floating: joined to nothing; a sensitive meter may show tens of volts"
INSIDE = "For work inside the board itself switch off the main switch. Its incoming terminals stay live."
INSIDE_MAIN_OFF = "Inside the board itself the incoming terminals of the main switch stay live."
VIA = {  # what LED lamps and electronics leave on a line that is off: from memory, common experience
    "lamp": "via lamp: nothing with the lamp out; LED lamps can shift it by tens of volts",
    "fan": "via fan: nothing with the fan disconnected",
    "electronics": "via electronics: nothing with them disconnected; can differ by tens of volts",
    "load": "via load: several, lamps, fans or electronics",
}
ZE = (  # how Ze is measured: BS 7671 643.7 and Guidance Note 3, from memory
    "Ze at the origin: with the main switch locked off and the earthing conductor parted from the main earthing "
    "terminal, from the incoming line to that conductor alone. Put it back and see that it is tight before the main "
    "switch goes on: without it the installation has no earth.")
TRACE = "all but off: a filament lamp stays dark, an electronic one may glow"


def isolation(feeds: str, parting: Iterable[str], locking: str, main_off: bool) -> tuple[str, ...]:
    """The recognised sequence of safe isolation (HSG85, GS38); testing in every position of the switches is derived.

    `feeds`: what feeds the circuit; `parting`: how each of that is parted, in sentences; `locking`: how it is kept
    parted; `main_off`: the main switch is off by then.
    """
    return (
        f"Find everything that feeds it: {feeds}. Look for a second circuit in the same box.",
        *parting,
        locking,
        "Prove a two-pole voltage indicator (BS EN 61243-3) on a proving unit or a known live source.",
        "At the place of work test line to neutral, line to earth and neutral to earth, and each of them to a known "
        "earth, every terminal, with every switch of the circuit in each of its positions.",
        "Prove the indicator again.",
        "Only now start work. A neutral that proved dead can go live when it is parted, while another circuit is on.",
        INSIDE_MAIN_OFF if main_off else INSIDE,
    )


def recoloured_words(wiring: Wiring, sets: Mapping[str, ColourSet]) -> str:
    """What to say where the colours are not as found; "" where they are."""
    name = wiring.recoloured
    if not name:
        return ""
    title = sets[name].title if name in sets else name
    return f"This sheet shows the circuit in {title} colours. Identify every conductor by test, not by this sheet."


def joined(words: Iterable[str], last: str = "and") -> str:
    """'a', 'a and b', 'a, b and c'."""
    parts = list(words)
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} {last} {parts[-1]}"


def most_alike(are: Sequence[tuple[str, str]], what: str) -> str:
    """Names and how each is, where they are many: those that are as most are, counted; any other by its name.

    'Hall on, the other 20 switches off', 'all 21 switches off'.
    """
    named: dict[str, list[str]] = {}
    for name, how in are:
        named.setdefault(how, []).append(name)
    most = max(named, key=lambda how: len(named[how]))
    if len(named[most]) < FEW_ALIKE:
        return ", ".join(f"{name} {how}" for name, how in are)
    if len(named) == 1:
        return f"all {len(are)} {what} {most}"
    rest = f"the other {len(named[most])} {what} {most}"
    return ", ".join([*(f"{joined(names)} {how}" for how, names in named.items() if how != most), rest])


def count(number: int, one: str, many: str = "") -> str:
    """'1 sleeve', '3 sleeves'."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def capital(text: str) -> str:
    """The text with its first letter in upper case."""
    return text[:1].upper() + text[1:]


def plain(number: Fraction | float, places: int = 2) -> str:
    """A number without trailing noughts: '8', '0.32'."""
    text = f"{float(number):.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def percent(share: Fraction) -> str:
    """'40 %'; never 0 of something, nor all of what is less."""
    if 0 < share < Fraction(1, 100):
        return "under 1 %"
    if Fraction(99, 100) < share < 1:
        return "over 99 %"
    return f"{plain(share * 100, 0)} %"


def metres(length: Fraction | None) -> str:
    """'4 m', or that it is not given."""
    return f"{plain(length)} m" if length is not None else NOT_GIVEN


def amps(current: Fraction | float) -> str:
    """'6 A', '0.03 A'."""
    return f"{plain(current)} A"


def ohms(resistance: Fraction | float | None) -> str:
    """'0.75 Ω' to two places, as instruments show it; "" where something for it is not given."""
    return f"{float(resistance):.2f} \N{OHM SIGN}" if resistance is not None else ""


def volts(potential: Fraction | float | None) -> str:
    """'0.04 V' to two places; "" where something for it is not given."""
    return f"{float(potential):.2f} V" if potential is not None else ""


def size_words(size: Size) -> str:
    """'1.0 mm²', '1/.044 in (0.98 mm²)'."""
    return f"{size.text} in ({plain(size.area)} mm²)" if size.imperial else f"{size.text} mm²"


def cable_words(cable: Cable) -> str:
    """'twin and earth 1.0 mm², cpc 1.0 mm²'."""
    size = size_words(cable.size) if cable.size else ""
    return f"{cable.type} {size}".strip() + (f", cpc {size_words(cable.cpc_size)}" if cable.cpc_size else "")


def lamp(state: Lamp) -> str:
    """A lamp's state with its mark, readable without colour: '● on', '◐ dim, 50 %', '○ off'."""
    match state.state:
        case LampState.ON:
            return "\N{BLACK CIRCLE} on"
        case LampState.DIM:
            return f"\N{CIRCLE WITH LEFT HALF BLACK} dim, {percent(state.fraction)} of the voltage"
        case LampState.TRACE:
            return f"\N{WHITE CIRCLE} all but off, {percent(state.fraction)} of the voltage"
        case LampState.OFF:
            return "\N{WHITE CIRCLE} off"
        case LampState.OFF_BUT_LIVE:
            return "\N{WHITE CIRCLE} off but live"
        case LampState.SHORT:
            return "\N{WARNING SIGN} short"
        case LampState.NOT_KNOWN:
            return "? not known"


def state_of(given: Lamp) -> str:
    """A lamp's state without its mark: 'on', 'off but live'."""
    return lamp(given).split(" ", 1)[1]


def condition(given: Condition, via: str = "lamp") -> str:
    """What a terminal is at, in a table: 'line', 'neutral via lamp', '50 % of line', 'floating'.

    `via`: the kind of load that it is joined to where it is not solid, a key of VIA.
    """
    match given.potential:
        case Potential.THROUGH_LOAD:
            return f"line via {via}"
        case Potential.BETWEEN if given.fraction is not None:
            return f"{percent(given.fraction)} of line"
        case Potential.FLOATING:
            return "floating"
        case Potential.NOT_KNOWN:
            return "not known: treat as live"
        case _:
            return given.potential.value if given.solid else f"{given.potential} via {via}"
