"""What a rule of the check looks at: the solved circuit and what has been read from it so far."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from sheetgen.circuit.circuit import Circuit
from sheetgen.judge import earth
from sheetgen.judge.figures import Reckoner
from sheetgen.judge.roles import Net
from sheetgen.model.accessory import Terminal
from sheetgen.model.reading import Role, Sleeve
from sheetgen.model.style import ColourSet


@dataclass(frozen=True)
class Case(Circuit):
    """A solved circuit, its nets, the roles and sleeves of its cores, and its figures."""

    by_net: Mapping[Terminal, Net]
    roles: Mapping[str, Role]  # Core.key -> role
    ways: Mapping[str, tuple[str, ...]]  # Core.key -> the ways whose rails reach it
    sleeves: tuple[Sleeve, ...]
    sets: Mapping[str, ColourSet]
    reckoning: Reckoner

    @cached_property
    def earthed(self) -> frozenset[str]:
        """The accessories that a cpc joins to the earth of the board."""
        return earth.earthed(self, self.roles)
