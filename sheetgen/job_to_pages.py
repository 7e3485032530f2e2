"""Job -> Pages: asks each kind of page in its order; decides nothing about paper."""

from __future__ import annotations

from sheetgen.model.job import Job
from sheetgen.model.page import Info, Page
from sheetgen.pages import PAGES
from sheetgen.pages.lookup import Lookup

NOT_AS_FOUND = "COLOURS NOT AS FOUND"


def job_to_pages(job: Job, kinds: tuple[str, ...] | None = None) -> tuple[Page, ...]:
    """The pages of those kinds, or of all, in the order of the catalogue."""
    look = Lookup(job)
    return tuple(page for kind in PAGES if kinds is None or kind.name in kinds for page in kind.compose(look))


def info_of(job: Job) -> Info:
    """What the edge of every sheet says."""
    wiring = job.wiring
    return Info(wiring.job, wiring.place, wiring.drawn_by, wiring.drawn_on, job.source, job.fingerprint,
                NOT_AS_FOUND if wiring.recoloured else "")
