"""Types of cable: how many cores, what cpc, what sheath; and the sizes, metric and old imperial."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction

from sheetgen.model.wiring import Cable, Size


@dataclass(frozen=True)
class CableType:
    """One type of cable. `cpc`: "" none, "bare", or "insulated"."""

    name: str
    live: int  # cores besides the cpc
    cpc: str = ""
    sheath: str = "sheathed"  # "sheathed", "unsheathed", "flex"
    also: tuple[str, ...] = ()
    earthed: str = ""  # the type it is when a cpc is listed among the cores of a type without one


# The codes such as 6242Y are those printed on British cable; common practice, from memory.
TYPES: tuple[CableType, ...] = (
    CableType("single", 1, also=("sheathed single", "single core", "one-core", "6181y")),
    CableType("unsheathed single", 1, sheath="unsheathed",
              also=("conduit single", "single in conduit", "conduit wire", "single, unsheathed", "rubber single",
                    "6491x")),
    CableType("bare single", 0, "bare", "unsheathed", ("bare cpc", "bare earth", "bare wire")),
    CableType("twin", 2, also=(
        "flat twin", "two-core", "2-core", "2 core", "two core", "lead-sheathed twin", "lead twin", "rubber twin",
        "tough rubber twin"), earthed="twin and earth"),
    CableType("twin and earth", 2, "bare", also=(
        "twin & earth", "twin+earth", "t&e", "t+e", "flat twin and earth", "twin with cpc", "two-core and earth",
        "2-core and earth", "2 core and earth", "twin and cpc", "6242y", "6242b")),
    CableType("twin of one colour", 2, also=(
        "twin red", "twin brown", "two reds", "two browns", "double red", "double brown", "twin same colour"),
        earthed="twin of one colour and earth"),
    CableType("twin of one colour and earth", 2, "bare", also=(
        "twin red and earth", "twin brown and earth", "twin same colour and earth", "double red and earth",
        "double brown and earth")),
    CableType("three-core", 3, also=("3-core", "3 core", "three core", "triple", "flat three-core"),
              earthed="three-core and earth"),
    CableType("three-core and earth", 3, "bare", also=(
        "3-core and earth", "3 core and earth", "three core and earth", "three-core & earth", "3c&e", "3c+e",
        "triple and earth", "flat three-core and earth", "6243y", "6243b")),
    CableType("four-core", 4, also=("4-core", "4 core", "four core"), earthed="four-core and earth"),
    CableType("four-core and earth", 4, "insulated", also=(
        "4-core and earth", "4 core and earth", "four core and earth")),
    CableType("two-core flex", 2, sheath="flex", also=(
        "2-core flex", "2 core flex", "two core flex", "twin flex", "flex")),
    CableType("three-core flex", 2, "insulated", "flex", ("3-core flex", "3 core flex", "three core flex")),
    CableType("four-core flex", 3, "insulated", "flex", ("4-core flex", "4 core flex", "four core flex")),
)
BY_NAME = {t.name: t for t in TYPES}

METRIC = ("0.5", "0.75", "1.0", "1.5", "2.5", "4.0", "6.0")
# Old imperial sizes: strands / diameter in inches -> mm2 (area of the strands; a secondary source).
IMPERIAL = {
    "1/.036": Fraction("0.657"), "1/.044": Fraction("0.981"), "3/.029": Fraction("1.278"),
    "3/.036": Fraction("1.970"), "7/.029": Fraction("2.983"),
}
# The cpc of flat cable by its live size: BS 6004 flat cable (three-core sizes from memory); PVC imperial cable of
# the same period (a secondary source). A flex has a cpc of the size of its other cores.
FLAT_CPC = {
    "1.0": "1.0", "1.5": "1.0", "2.5": "1.5", "4.0": "1.5", "6.0": "2.5",
    "1/.044": "1/.044", "3/.029": "1/.044", "3/.036": "1/.044", "7/.029": "3/.036",
}
AS_GOOD = Fraction(97, 100)  # of the area of an imperial size: 1/.044 in is 0.98 mm2 and gives way to 1.0 mm2
_SIZE_AT_END = re.compile(r"(.*?)[\s,]*(\d+/0?\.\d+|\d+(?:\.\d+)?)\s*(?:mm2|mm²|mm|sq\s?mm)?", re.IGNORECASE)


def read_size(text: str) -> Size | None:
    """A size as printed on cable, or None: '1', '1.0', '2.5 mm2', '3/.029', '3/0.029'."""
    match = _SIZE_AT_END.fullmatch(text.strip())
    if not match or match[1]:
        return None
    word = match[2].replace("/0.", "/.")
    if word in IMPERIAL:
        return Size(word, IMPERIAL[word])
    for known in METRIC:
        if "/" not in word and Fraction(known) == Fraction(word):
            return Size(known, Fraction(known))
    return None


def split_type(text: str) -> tuple[str, str]:
    """'twin and earth 1.5 mm2' -> ('twin and earth', '1.5'); the size is '' where none is written."""
    match = _SIZE_AT_END.fullmatch(text.strip())
    return (match[1].strip(), match[2]) if match and match[1].strip() else (text.strip(), "")


def find_type(words: str) -> CableType | None:
    """The type of cable an everyday spelling means, or None."""
    folded = " ".join(words.casefold().replace("cable", "").split())
    for cable_type in TYPES:
        if folded == cable_type.name or folded in cable_type.also:
            return cable_type
    return None


def cpc_size(cable_type: CableType, size: Size | None) -> Size | None:
    """The size of the cpc that comes with a cable of that type and size; None where there is none or it is unknown."""
    if not cable_type.cpc or size is None:
        return None
    if cable_type.sheath == "flex" or cable_type.cpc == "insulated" or not cable_type.live:
        return size
    return read_size(FLAT_CPC.get(size.text, ""))


def as_sold(cable: Cable) -> Cable:
    """The cable in the metric size that is bought in place of an imperial one, with the cpc that this has."""
    if cable.size is None or not cable.size.imperial:
        return cable
    least = cable.size.area * AS_GOOD
    size = next((read_size(text) for text in METRIC if Fraction(text) >= least), cable.size)
    cable_type = BY_NAME.get(cable.type)
    return replace(cable, size=size, cpc_size=cpc_size(cable_type, size) if cable_type else cable.cpc_size)


def type_names() -> tuple[str, ...]:
    """Every name and spelling known, names first."""
    return tuple(t.name for t in TYPES) + tuple(w for t in TYPES for w in t.also)
