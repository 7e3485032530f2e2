"""Solved circuit to Reading: everything that any page says of a circuit is decided here."""

from __future__ import annotations

from sheetgen.judge.judging import judge

__all__ = ["judge"]
