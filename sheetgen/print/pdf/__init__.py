"""Pages -> PDF: vector, typeface embedded, bookmarked, sheets numbered, the same bytes for the same pages."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from io import BytesIO

from reportlab.pdfgen.canvas import Canvas

from sheetgen.model.drawing import Drawing
from sheetgen.model.geometry import PT
from sheetgen.model.job import Job
from sheetgen.model.page import Info, Page
from sheetgen.model.reading import Gravity
from sheetgen.model.style import Style
from sheetgen.model.wiring import Status, Wiring
from sheetgen.model.words import BAD_PRACTICE, DANGER_NOTICED, NO_RECORD, NOT_AS_FOUND, RECORD, joined
from sheetgen.print.canvas import new_canvas, paint_drawing
from sheetgen.print.pdf.edges import SEPARATOR, card_edge, full_edge, record_line, separated
from sheetgen.print.pdf.fewest import fewest_sheets
from sheetgen.print.pdf.frames import CARD, PaperSheet, paper_of
from sheetgen.print.pdf.lettering import any_lost
from sheetgen.print.pdf.placing import FilledSheet
from sheetgen.print.pdf.typesetting import Typesetting, mm

TELLING = {"card": "the card", "findings": "the findings"}  # kinds of page that tell of a danger
MOST_TITLE = 0.5  # of the width of a sheet: what its title may take
MORE = "\N{HORIZONTAL ELLIPSIS}"
CORES_NOT_TRACED = ": CORES LAID BY METHOD, NOT TRACED"
AROUND = 6 * mm  # white around a drawing that is a page of its own


def info_of(job: Job) -> Info:
    """What the edge of every sheet says of a job."""
    danger = any(f.gravity is Gravity.DANGER for f in job.reading.findings)
    return replace(info_of_wiring(job.wiring, job.source, job.fingerprint), danger=danger)


def info_of_wiring(wiring: Wiring, source: str, fingerprint: str) -> Info:
    """What the edge of every sheet says of a wiring that nobody has judged: forms, and plans of tests."""
    status = wiring.status.value.upper() if wiring.status and not wiring.laid else ""
    status += CORES_NOT_TRACED if wiring.status is Status.AS_FOUND and wiring.not_traced else ""
    remark = separated(status, NOT_AS_FOUND if wiring.recoloured else "")
    warned = (BAD_PRACTICE, NO_RECORD) if wiring.bad_practice else ("", "")
    return Info(wiring.job, wiring.place, wiring.drawn_by, wiring.drawn_on, source, fingerprint, remark,
                laid=wiring.laid, warning=warned[0], standing=warned[1])


def pages_to_pdf(pages: tuple[Page, ...], style: Style, info: Info) -> bytes:
    """The job sheet as a PDF file. Characters that the typeface lacks are printed as a hollow square, and noted."""
    info = _with_danger(info, pages)
    paper = paper_of(style)
    sheets, setting = fewest_sheets(pages, style, paper)
    return _painted(sheets, setting, paper, info, any_lost((pages, info)))


def _painted(sheets: list[FilledSheet], setting: Typesetting, paper: PaperSheet, info: Info, lost: bool) -> bytes:
    """The file: each sheet with its edge, its pieces, and a bookmark for every page that opens on it."""
    out = BytesIO()
    canvas = new_canvas(out, (paper.width, paper.height), info.drawn_on)
    _describe(canvas, info)
    record, title = record_line(info, lost), ""
    for number, sheet in enumerate(sheets, 1):
        head = _head(sheet, title, setting, paper)
        count = f"page {number} of {len(sheets)}"
        for x, top, piece in sheet.placed:
            piece.draw(canvas, x, top)
        if sheet.kind == CARD:
            card_edge(canvas, setting, paper, info, head, record, count, sheet.frames_used)
        else:
            full_edge(canvas, setting, paper, info, head, record, count)
        for opening in sheet.openings:
            title = opening.title
            for i, (level, words) in enumerate(opening.bookmarks):
                key = f"{opening.kind} {number}" + (f" {i}" if i else "")
                canvas.bookmarkPage(key)
                canvas.addOutlineEntry(words, key, level)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def _head(sheet: FilledSheet, before: str, setting: Typesetting, paper: PaperSheet) -> str:
    """The title of a sheet: of the page that goes on from the one before, and of those that open on it, if they fit."""
    begins = bool(sheet.openings) and sheet.openings[0].at_top
    titles = [*([] if begins else [f"{before}, continued"]), *(opening.title for opening in sheet.openings)]
    if sheet.kind == CARD:
        return titles[0]
    room = (paper.width - 2 * paper.margin) * MOST_TITLE
    shown = len(titles)
    while shown > 1 and setting.width(_titled(titles, shown), "sheet title") > room:
        shown -= 1
    return _titled(titles, shown)


def _titled(titles: Sequence[str], shown: int) -> str:
    """The first of the titles, and a sign where there are more."""
    return SEPARATOR.join([*titles[:shown], *([MORE] if shown < len(titles) else [])])


def _describe(canvas: Canvas, info: Info) -> None:
    """Title, author and the like of the job."""
    canvas.setTitle(separated(info.job, info.place))
    canvas.setAuthor(info.drawn_by)
    canvas.setSubject(info.standing or RECORD)
    canvas.setKeywords(separated(info.source, info.fingerprint))
    canvas.setCreator("sheetgen")
    canvas.setViewerPreference("DisplayDocTitle", "true")


def _with_danger(info: Info, pages: tuple[Page, ...]) -> Info:
    """A danger goes into the remark, with the pages of this set that tell more of it; where none does, nothing."""
    kinds = {page.kind for page in pages}
    where = [words for kind, words in TELLING.items() if kind in kinds]
    if not (info.danger and where):
        return info
    return replace(info, remark=separated(info.remark, f"{DANGER_NOTICED}: see {joined(where)}"))


def drawings_to_pdf(drawings: tuple[Drawing, ...], style: Style, title: str = "") -> bytes:
    """Drawings alone, each on a page of its own size."""
    out = BytesIO()
    canvas = new_canvas(out)
    canvas.setTitle(title)
    canvas.setCreator("sheetgen")
    for drawing in drawings:
        width, height = drawing.width / PT + 2 * AROUND, drawing.height / PT + 2 * AROUND
        canvas.setPageSize((width, height))
        paint_drawing(canvas, drawing, style, AROUND, height - AROUND)
        canvas.showPage()
    canvas.save()
    return out.getvalue()
