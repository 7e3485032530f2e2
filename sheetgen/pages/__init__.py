"""The pages of a job sheet in their order: one line and one file for each. See DEVELOPERS.md, "a new page"."""

from __future__ import annotations

from sheetgen.pages import cables, card, connections, findings, method, operation, seen, symptoms, tags, tests, wiring
from sheetgen.pages.page_kind import PageKind

PAGES: tuple[PageKind, ...] = (
    card.ENTRY,
    findings.ENTRY,
    seen.ENTRY,
    wiring.ENTRY,
    operation.ENTRY,
    method.ENTRY,
    connections.ENTRY,
    cables.ENTRY,
    tests.ENTRY,
    symptoms.ENTRY,
    tags.ENTRY,
)
SHORT = ("card", "findings", "seen", "wiring")  # what an electrician leaves behind

__all__ = ["PAGES", "SHORT", "PageKind"]
