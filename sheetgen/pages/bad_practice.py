"""The warning on every page of what was laid to be taught, though the trade refuses it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from sheetgen.model.page import Page, Words
from sheetgen.model.wiring import Wiring

LEAD = "Bad practice: never wire it so."


def with_warning(pages: Iterable[Page], wiring: Wiring) -> tuple[Page, ...]:
    """The pages, each that begins a sheet with the reason at its head."""
    warning = Words(" ".join(wiring.bad_practice), "danger", LEAD)
    return tuple(replace(page, blocks=(warning, *page.blocks)) if wiring.bad_practice and not page.follows else page
                 for page in pages)
