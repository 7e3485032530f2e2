"""Numbers with units as people write them: '7 m', '8W', '0.32 ohm', '30 mA'. Exact."""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction

UNITS: Mapping[str, Mapping[str, int | Fraction]] = {
    "m": {"m": 1, "metre": 1, "metres": 1, "meter": 1, "meters": 1, "cm": Fraction(1, 100), "mm": Fraction(1, 1000)},
    "W": {"w": 1, "watt": 1, "watts": 1, "kw": 1000},
    "ohm": {"ohm": 1, "ohms": 1, "Ω": 1, "ω": 1, "mohm": Fraction(1, 1000)},
    "V": {"v": 1, "volt": 1, "volts": 1},
    "A": {"a": 1, "amp": 1, "amps": 1, "ampere": 1, "amperes": 1},
    "mA": {"ma": 1, "a": 1000},
    "mm2": {"mm2": 1, "mm²": 1, "sqmm": 1},
}
MOST_LETTERS = 24  # of a number with its unit
LEAST = Fraction(1, 1000)  # of any quantity: nothing that is measured here is less
NUMBER = re.compile(r"([+-]?\d+(?:\.\d+)?)\s*([^\d\s].*)?")


class BadQuantity(ValueError):
    """A quantity that cannot be read; the message is for the reader."""


def read_quantity(value: object, unit: str, example: str) -> Fraction:
    """The value in `unit`, exact; more than zero. BadQuantity says what was expected."""
    text = str(value).strip() if value is not None else ""
    if len(text) > MOST_LETTERS:
        raise BadQuantity(f"'{text[:12]}...' is longer than a number with its unit; write it as in {example}.")
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
    if number * scale < LEAST:
        raise BadQuantity(f"'{text}' is less than can be true; write it as in {example}.")
    return number * scale


def written(value: Fraction) -> str:
    """The number in decimals, exact for whatever `read_quantity` has read: '0.00125', '7'."""
    return format((Decimal(value.numerator) / Decimal(value.denominator)).normalize(), "f")
