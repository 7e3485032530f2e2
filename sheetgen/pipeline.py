"""The way through, one call for each stage. Pure: text in, values and bytes out; only commands open files and print."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from sheetgen.model.style import Style
from sheetgen.model.wiring import Wiring


@dataclass(frozen=True)
class Look:
    """How the sheet is asked for: colour set ("" as found), print style, paper."""

    colours: str = ""
    mono: bool = False
    paper: str = "a4"


@cache
def style_of(look: Look) -> Style:
    """The style for a look."""
    from sheetgen.style_from_yaml import load_style

    return load_style("mono" if look.mono else "colour", look.paper)


def wiring_of(text: bytes | str) -> Wiring:
    """Read and understand a description; Refused with every problem."""
    from sheetgen.description_to_wiring import description_to_wiring
    from sheetgen.text_to_description import text_to_description

    return description_to_wiring(text_to_description(text), style_of(Look()).sets)
