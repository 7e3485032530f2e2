"""Pages -> PDF: vector, typeface embedded, bookmarked, sheets numbered, the same bytes for the same pages."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from io import BytesIO

from reportlab import rl_config
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import CondPageBreak, Flowable, NextPageTemplate, PageBreak

from sheetgen.model.drawing import Drawing
from sheetgen.model.geometry import PT
from sheetgen.model.job import Job
from sheetgen.model.page import Info, Page
from sheetgen.model.reading import Gravity
from sheetgen.model.style import Style
from sheetgen.model.words import DANGER_NOTICED, NOT_AS_FOUND, joined
from sheetgen.print.canvas import paint_drawing
from sheetgen.print.pdf.blocks import set_flow
from sheetgen.print.pdf.columns import stack_height
from sheetgen.print.pdf.edges import separated
from sheetgen.print.pdf.faces import any_lost
from sheetgen.print.pdf.look import Look, with_smaller_text
from sheetgen.print.pdf.place import FULL, Place, place_of
from sheetgen.print.pdf.sheets import FollowingTitle, Opens, SheetCanvas, SheetTemplate

rl_config.useA85 = 0  # streams as bytes: smaller, and quicker to write
WORTH_A_SHEET = 0.45  # where less of the last sheet is filled, smaller text is tried to do without it
SMALLER = (0.94, 0.88)  # shares of its size
TO_BEGIN = 58 * mm  # a page that follows another on its sheet needs so much room to begin, or what all of it takes
TELLING = {"card": "the card", "findings": "the findings"}  # kinds of page that tell of a danger
AROUND = 6 * mm  # white around a drawing that is a page of its own


def info_of(job: Job) -> Info:
    """What the edge of every sheet says of a job."""
    wiring = job.wiring
    danger = any(f.gravity is Gravity.DANGER for f in job.reading.findings)
    remark = NOT_AS_FOUND if wiring.recoloured else ""
    return Info(wiring.job, wiring.place, wiring.drawn_by, wiring.drawn_on, job.source, job.fingerprint, remark, danger)


def pages_to_pdf(pages: tuple[Page, ...], style: Style, info: Info) -> bytes:
    """The job sheet as a PDF file. Characters that the typeface lacks are printed as a hollow square, and noted."""
    info = _with_danger(info, pages)
    pdf, sheets, filled = bound(pages, style, info)
    if sheets > 1 and filled < WORTH_A_SHEET:
        for share in SMALLER:
            smaller, fewer, _ = bound(pages, with_smaller_text(style, share), info)
            if fewer < sheets:
                return smaller
    return pdf


def bound(pages: tuple[Page, ...], style: Style, info: Info) -> tuple[bytes, int, float]:
    """The file, how many sheets it has, and how much of the last is filled."""
    look, place = Look(style), place_of(style)
    story: list[Flowable] = []
    for before, page in zip((None, *pages), pages, strict=False):
        story += _opening(page, before, look, place)
    out = BytesIO()
    template = SheetTemplate(out, place, info, first=pages[0].frame if pages else FULL)
    lost = any_lost((pages, info))
    template.build(story, canvasmaker=partial(SheetCanvas, look=look, info=info, place=place, lost=lost))
    return out.getvalue(), template.page, template.filled


def _with_danger(info: Info, pages: tuple[Page, ...]) -> Info:
    """A danger goes into the remark, with the pages of this set that tell more of it; where none does, nothing."""
    kinds = {page.kind for page in pages}
    where = [words for kind, words in TELLING.items() if kind in kinds]
    if not (info.danger and where):
        return info
    return replace(info, remark=separated(info.remark, f"{DANGER_NOTICED}: see {joined(where)}"))


def _opening(page: Page, before: Page | None, look: Look, place: Place) -> list[Flowable]:
    """A page with what brings it on to its sheet: a new one, or below the page before where there is room to begin."""
    content = set_flow(page.blocks, look, place.room(page.frame))
    opens = Opens(page.title, page.kind)
    if before is None:
        return [opens, *content]
    if page.follows and before.frame == page.frame:
        title = FollowingTitle(page.title, look)
        needed = min(stack_height([title, *content], place.room(page.frame)), TO_BEGIN)
        return [CondPageBreak(needed), opens, title, *content]
    return [NextPageTemplate(page.frame), PageBreak(), opens, *content]


def drawings_to_pdf(drawings: tuple[Drawing, ...], style: Style, title: str = "") -> bytes:
    """Drawings alone, each on a page of its own size."""
    out = BytesIO()
    canvas = Canvas(out, invariant=1)
    canvas.setTitle(title)
    canvas.setCreator("sheetgen")
    for drawing in drawings:
        width, height = drawing.width / PT + 2 * AROUND, drawing.height / PT + 2 * AROUND
        canvas.setPageSize((width, height))
        paint_drawing(canvas, drawing, style, AROUND, height - AROUND)
        canvas.showPage()
    canvas.save()
    return out.getvalue()
