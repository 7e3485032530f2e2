"""The catalogue of protective devices: one line for each, one file for each family."""

from __future__ import annotations

import re

from sheetgen.catalogue.devices import circuit_breakers, fuses
from sheetgen.catalogue.devices.device_type import DeviceType

CATALOGUE: tuple[DeviceType, ...] = (
    circuit_breakers.TYPE_B,
    circuit_breakers.TYPE_C,
    circuit_breakers.TYPE_D,
    fuses.REWIREABLE,
    fuses.CARTRIDGE,
    fuses.CARTRIDGE_NOW,
    circuit_breakers.NOT_READ,
    fuses.NOT_SEEN,
)
"""In what is written the standards go first, the letters next, the words that name no type last."""


def device_type(name: str) -> DeviceType | None:
    """The type of that name, or None."""
    return next((entry for entry in CATALOGUE if entry.name == name), None)


def find(words: str) -> tuple[DeviceType, str] | None:
    """The type that words mean, and the words without it; None where they mean none. A longer name wins."""
    for longest_first in sorted(CATALOGUE, key=lambda entry: (entry in _NO_TYPE, -len(entry.name))):
        for pattern in longest_first.patterns:
            if re.search(pattern, words):
                rest = words
                for each in longest_first.patterns:
                    rest = re.sub(each, " ", rest)
                return longest_first, " ".join(rest.split())
    return None


_NO_TYPE = (circuit_breakers.NOT_READ, fuses.NOT_SEEN)

__all__ = ["CATALOGUE", "DeviceType", "device_type", "find"]
