"""The way through to the forms of a survey."""

from __future__ import annotations

from collections.abc import Mapping

from sheetgen.catalogue.accessories import find
from sheetgen.model.accessory import AccessoryKind
from sheetgen.model.page import Info
from sheetgen.pages.survey import SurveyForm, compose, unknown_places
from sheetgen.pipeline import Look, fingerprint, style_of, wiring_of
from sheetgen.print.pdf import info_of_wiring, pages_to_pdf

# The pack for a usual house: kind in the words of the file, and its options.
PACK: tuple[tuple[str, Mapping[str, object]], ...] = (
    ("ceiling rose", {}),
    ("ceiling rose", {"blocks": "two"}),
    ("one-way switch", {}),
    ("two-way switch", {}),
    ("intermediate switch", {}),
    ("plate", {"gangs": ["two-way", "two-way"]}),
    ("plate", {"gangs": ["two-way", "two-way", "two-way"]}),
    ("joint box", {"terminals": "4"}),
    ("light fitting", {}),
    ("fan isolator", {}),
    ("timer fan", {}),  # its face has the switched line too, which a fan without timer leaves empty
)


def pack(paper: str = "a4") -> bytes:
    """Blank forms for a usual house, as PDF."""
    sheets = [SurveyForm(_kind(word, options)) for word, options in PACK]
    return pages_to_pdf(compose(sheets), style_of(Look("", True, paper)), Info("Survey"))


def forms_for(text: bytes | str, look: Look, source: str = "") -> bytes | None:
    """Forms for what a description does not know, with what it knows filled in; None where it knows all."""
    wiring = wiring_of(text)
    sheets = unknown_places(wiring)
    if not sheets and not any(c.at_one_end for c in wiring.cables):
        return None
    pages = compose(sheets, wiring)
    return pages_to_pdf(pages, style_of(look), info_of_wiring(wiring, source, fingerprint(text)))


def _kind(word: str, options: Mapping[str, object]) -> AccessoryKind:
    entry = find(word)
    assert entry is not None, word
    return entry.build(options)
