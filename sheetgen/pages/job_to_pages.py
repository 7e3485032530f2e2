"""Job -> Pages: asks each kind of page in its order; decides nothing about paper."""

from __future__ import annotations

from sheetgen.model.job import Job
from sheetgen.model.page import Page
from sheetgen.pages import PAGES
from sheetgen.pages.lookup import Lookup


def job_to_pages(job: Job, kinds: tuple[str, ...] | None = None) -> tuple[Page, ...]:
    """The pages of those kinds in the order of the catalogue; None: of all but those that are only made when asked."""
    wanted = [kind for kind in PAGES if (not kind.asked if kinds is None else kind.name in kinds)]
    lookup = Lookup(job, tuple(kind.name for kind in wanted))
    return tuple(page for kind in wanted for page in kind.compose(lookup))
