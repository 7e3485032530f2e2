"""The warning on every page of what a class draws though nobody should wire it so: laid to be taught, or found."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from sheetgen.model.page import Page, Picture, Words
from sheetgen.model.reading import Gravity, Reading
from sheetgen.model.wiring import Wiring

LEAD = "Bad practice: never wire it so."
NOT_TO_COPY = "Not all of this circuit is safe. It is here to be understood, not to be copied."


def with_warning(pages: Iterable[Page], wiring: Wiring) -> tuple[Page, ...]:
    """The pages, each that begins a sheet with the reason at its head."""
    return _headed(pages, Words(" ".join(wiring.bad_practice), "danger", LEAD) if wiring.bad_practice else None)


def with_dangers(asked: Iterable[Page], answered: Iterable[Page],
                 reading: Reading) -> tuple[tuple[Page, ...], tuple[Page, ...]]:
    """What is handed out, warned without a word of where the danger is; and the answers, with every danger where they
    are in words: the drawings beside them have its mark."""
    dangers = [found.says for found in reading.findings if found.gravity is Gravity.DANGER]
    if not dangers:
        return tuple(asked), tuple(answered)
    told = Words(" ".join(dangers), "danger", "Dangers:" if len(dangers) > 1 else "Danger:")
    return (_headed(asked, Words(NOT_TO_COPY, "caution", "Caution.")),
            tuple(page if _drawn(page) else _headed((page,), told)[0] for page in answered))


def _drawn(page: Page) -> bool:
    return any(isinstance(block, Picture) for block in page.blocks)


def _headed(pages: Iterable[Page], warning: Words | None) -> tuple[Page, ...]:
    return tuple(replace(page, blocks=(warning, *page.blocks)) if warning and not page.follows else page
                 for page in pages)
