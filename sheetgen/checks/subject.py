"""What a rule of the check looks at."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from sheetgen.model.reading import Role, Sleeve
from sheetgen.model.solution import Solution
from sheetgen.model.style import ColourSet
from sheetgen.model.wiring import Wiring


@dataclass(frozen=True)
class Subject:
    """A solved wiring and what has been read from it so far."""

    wiring: Wiring
    solution: Solution
    roles: Mapping[str, Role]  # Core.key -> role
    ways: Mapping[str, tuple[str, ...]]  # Core.key -> the ways whose rails reach it
    sleeves: tuple[Sleeve, ...]
    sets: Mapping[str, ColourSet]
