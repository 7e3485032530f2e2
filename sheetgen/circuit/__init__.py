"""The one view of a solved circuit: names as printed, conditions in a setting, walks, what cores carry, edits."""

from __future__ import annotations

from sheetgen.circuit.circuit import Circuit, circuit_of

__all__ = ["Circuit", "circuit_of"]
