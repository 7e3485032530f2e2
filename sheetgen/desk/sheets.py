"""What can be had of a description by one button."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from sheetgen.model.problems import Refused

NO_CABLES = "E302"


@dataclass(frozen=True)
class DeskSheet:
    """A sheet: what its button says, how its bytes are made from the text and the file's name, and how it is sent."""

    title: str
    make: Callable[[str, str], bytes]
    media: str
    ending: str
    shown: str = "inline"
    headers: Mapping[str, str] = field(default_factory=dict)


def _job(text: str, name: str) -> bytes:
    from sheetgen.pipeline import Look, job_sheet

    return job_sheet(text, Look(), name)


def _short(text: str, name: str) -> bytes:
    from sheetgen.pages import SHORT
    from sheetgen.pipeline import Look, job_sheet

    return job_sheet(text, Look(), name, SHORT)


def _screen(text: str, name: str) -> bytes:
    from sheetgen.pipeline.screen import screen_sheet

    return screen_sheet(text, name).encode()


def _survey(text: str, name: str) -> bytes:
    """Forms for what is not known yet; blank ones where all of it is, or where there is no cable yet."""
    from sheetgen.pipeline import Look
    from sheetgen.pipeline.survey import forms_for, pack

    try:
        return forms_for(text, Look("", True), name) or pack()
    except Refused as refused:
        if {problem.code for problem in refused.problems} != {NO_CABLES}:
            raise
        return pack()


def _text(text: str, name: str) -> bytes:
    return text.encode()


# The screen sheet is kept, not shown: its own script has no business at the address of the desk.
SHEETS: Mapping[str, DeskSheet] = {
    "job": DeskSheet("Job sheet", _job, "application/pdf", ".pdf"),
    "short": DeskSheet("Short sheet", _short, "application/pdf", "-short.pdf"),
    "survey": DeskSheet("Survey forms", _survey, "application/pdf", "-survey.pdf"),
    "screen": DeskSheet("Screen sheet", _screen, "text/html; charset=utf-8", ".html", "attachment"),
    "file": DeskSheet("Copy of the file", _text, "application/yaml", ".yaml", "attachment"),
}
