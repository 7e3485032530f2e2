"""Circuit breakers and RCBOs of BS EN 60898 and 61009: types B, C and D, and one whose type nobody has read.

What opens them in 0.4 s, in multiples of the rating: BS 7671 Table 41.3 (a secondary source; D from memory).
"""

from __future__ import annotations

from sheetgen.catalogue.devices.device_type import DeviceType

RATINGS = (3, 6, 10, 16, 20, 32)


def _of_type(letter: str, times: int) -> DeviceType:
    letters = letter.casefold()
    return DeviceType(
        letter, RATINGS, (rf"\b{letters}\s*(?=\d|$)", rf"(?<=\d){letters}\b", rf"\b{letters}\b"),
        f"circuit breaker or RCBO of type {letter}: type {letter} 6 A", times, zs_table="41.3")


TYPE_B = _of_type("B", 5)
TYPE_C = _of_type("C", 10)
TYPE_D = _of_type("D", 20)
NOT_READ = DeviceType(
    "MCB", (3, 5, *RATINGS[1:], 15, 30), (r"\b(?:mcb|rcbo|circuit breaker|breaker)\b",),
    "a circuit breaker whose type nobody has read; its limits are not known: 6 A MCB")
