"""The register of a stock: one SQLite file, moved forward from any earlier version, written whole dwellings at once."""

from __future__ import annotations

from sheetgen.stock.register.keeping import KnownFile, Register
from sheetgen.stock.register.opening import NotARegister
from sheetgen.stock.register.reading import Reader

__all__ = ["KnownFile", "NotARegister", "Reader", "Register"]
