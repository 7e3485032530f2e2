"""Wording that several sheets share: cautions and notices, the steps of safe isolation, lists and settings in words."""

from __future__ import annotations

from collections.abc import Iterable

RECORD = "This is a wiring record, not an inspection report or certificate."
CAUTION = (
    "Isolate, lock off and prove dead at every accessory by the recognised sequence, with every switch in each of its "
    "positions, before touching a conductor. More than one circuit may be present. Confirm by test before relying on "
    "this drawing. Work to the local code, by or under a licensed or competent person."
)
# BS 7671 514.14.1, from an installed notice; whether the current amendment still asks for it is not confirmed, so it
# is printed as good practice.
MIXED_COLOURS = (
    "This installation has wiring colours to two versions of BS 7671. Great care should be taken before undertaking "
    "extension, alteration or repair that all conductors are correctly identified."
)
NOT_GIVEN = "not given"


def joined(words: Iterable[str], last: str = "and") -> str:
    """'a', 'a and b', 'a, b and c'."""
    parts = list(words)
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} {last} {parts[-1]}"


def count(number: int, one: str, many: str = "") -> str:
    """'1 sleeve', '3 sleeves'."""
    return f"{number} {one if number == 1 else many or one + 's'}"
