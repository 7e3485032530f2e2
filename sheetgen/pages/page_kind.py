"""How a file of this folder describes its page."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from sheetgen.model.page import Page
from sheetgen.pages.lookup import Lookup


@dataclass(frozen=True)
class PageKind:
    """One kind of page: `compose` gives its pages for a job, none where the job has nothing for it."""

    name: str
    says: str  # one line for `sheetgen list`
    compose: Callable[[Lookup], tuple[Page, ...]]
    asked: bool = False  # bound only where it is asked for by name
