"""How a file of the check describes its rule."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from sheetgen.judge.case import Case
from sheetgen.model.reading import Finding


@dataclass(frozen=True)
class Rule:
    """One rule. `looks_for` says in the trade's words what it would notice: printed where it noticed nothing."""

    name: str  # that of its file
    looks_for: str
    check: Callable[[Case], Iterator[Finding]]
