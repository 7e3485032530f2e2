"""What is different between two descriptions of one dwelling, in the order of a sheet."""

from __future__ import annotations

from sheetgen.stock.changes.differences import Difference, differences_between

__all__ = ["Difference", "differences_between"]
