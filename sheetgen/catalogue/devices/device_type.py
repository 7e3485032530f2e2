"""How a file of the catalogue describes a type of protective device."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction


@dataclass(frozen=True)
class DeviceType:
    """One type of protective device: the ratings made, what opens it in time, the words people use for it."""

    name: str  # as printed on the sheets: "B", "BS 3036"
    ratings: tuple[int, ...]  # ampere, met in lighting circuits and beside them
    patterns: tuple[str, ...]  # regular expressions of the words that mean it
    says: str = ""  # one line for `sheetgen list`
    times: int | None = None  # what opens it within 0.4 s, in multiples of its rating; None where `amps` tells it
    amps: Mapping[int, int] = field(default_factory=dict)  # rating -> ampere that open it within 0.4 s
    zs_table: str = ""  # table of BS 7671 that prints its Zs limits
    fuse: bool = False  # withdrawn to isolate, not switched off
    derates: Fraction | None = None  # a cable's rating times this is what it protects; None: all of the rating

    def trip_amps(self, rating: Fraction) -> Fraction | None:
        """The current that opens it within 0.4 s; None where no figure is at hand."""
        if self.times is not None:
            return rating * self.times
        known = self.amps.get(int(rating))
        return None if known is None else Fraction(known)
