"""Numbers with units as people write them: '7 m', '8W', '0.32 ohm', '30 mA'. Exact."""

from __future__ import annotations

import re
from fractions import Fraction

UNITS = {
    "m": {"m": 1, "metre": 1, "metres": 1, "meter": 1, "meters": 1, "cm": Fraction(1, 100), "mm": Fraction(1, 1000)},
    "W": {"w": 1, "watt": 1, "watts": 1, "kw": 1000},
    "ohm": {"ohm": 1, "ohms": 1, "Ω": 1, "ω": 1, "mohm": Fraction(1, 1000)},
    "V": {"v": 1, "volt": 1, "volts": 1},
    "A": {"a": 1, "amp": 1, "amps": 1, "ampere": 1, "amperes": 1},
    "mA": {"ma": 1, "a": 1000},
    "mm2": {"mm2": 1, "mm²": 1, "sqmm": 1},
}
NUMBER = re.compile(r"([+-]?\d+(?:\.\d+)?)\s*([^\d\s].*)?")


class BadQuantity(ValueError):
    """A quantity that cannot be read; the message is for the reader."""


def read_quantity(value: object, unit: str, example: str) -> Fraction:
    """The value in `unit`, exact; more than zero. BadQuantity says what was expected."""
    text = str(value).strip() if value is not None else ""
    if re.match(r"[+-]?\d+,\d", text):
        raise BadQuantity(f"'{text}' has a decimal comma; write a point, as in {example}.")
    match = NUMBER.fullmatch(text)
    if not match:
        raise BadQuantity(f"'{text}' is not a number with its unit; write it as in {example}.")
    number, word = Fraction(match[1]), (match[2] or unit).strip()
    scale = UNITS[unit].get(word.casefold())
    if scale is None:
        raise BadQuantity(f"'{text}' is in '{word}', expected {unit}, as in {example}.")
    if number <= 0:
        raise BadQuantity(f"'{text}' cannot be: it must be more than 0, as in {example}.")
    if number * scale > 100_000:
        raise BadQuantity(f"'{text}' is more than can be true; write it as in {example}.")
    return number * scale
