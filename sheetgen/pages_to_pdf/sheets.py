"""The sheets of paper: frames for the flow, and the edge of every sheet, drawn when the number of sheets is known."""

from __future__ import annotations

from dataclasses import dataclass

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate

from sheetgen.model.page import Info
from sheetgen.model.style import Style
from sheetgen.pages_to_pdf import look
from sheetgen.pages_to_pdf.blocks import FIRST_HALF
from sheetgen.pages_to_pdf.faces import BOLD, LOST, REGULAR, fitted, settable, width
from sheetgen.words import RECORD

HEAD_DEPTH, FOOT_DEPTH = 9.5 * mm, 6.5 * mm
A5 = 148.5 * mm, 210 * mm
CARD_MARGIN = 8.5 * mm
CARD_HEAD, CARD_FOOT = 13 * mm, 11 * mm
SMALLEST = 7.2  # points
SEPARATOR = " \N{MIDDLE DOT} "


@dataclass(frozen=True)
class Place:
    """Where things go on the paper, in points from the bottom left corner."""

    width: float
    height: float
    margin: float

    @property
    def card(self) -> tuple[float, float]:
        """The bottom left corner of the two halves of a card, in the middle of the paper."""
        return (self.width - 2 * A5[0]) / 2, (self.height - A5[1]) / 2

    def room(self, frame: str) -> float:
        """The width of what stands in a frame."""
        return A5[0] - 2 * CARD_MARGIN if frame == "card" else self.width - 2 * self.margin


def place_of(style: Style) -> Place:
    """The paper of a style in points."""
    return Place(style.paper.width * mm, style.paper.height * mm, style.paper.margin * mm)


def frames(place: Place) -> list[PageTemplate]:
    """The two ways to fill a sheet: one frame, or the two halves of a card."""
    none = {"leftPadding": 0, "rightPadding": 0, "topPadding": 0, "bottomPadding": 0}
    m = place.margin
    full = Frame(m, m + FOOT_DEPTH, place.width - 2 * m, place.height - 2 * m - HEAD_DEPTH - FOOT_DEPTH, id="all",
                 **none)
    x, y = place.card
    halves = [
        Frame(x + i * A5[0] + CARD_MARGIN, y + CARD_FOOT + CARD_MARGIN, A5[0] - 2 * CARD_MARGIN,
              A5[1] - 2 * CARD_MARGIN - CARD_HEAD - CARD_FOOT, id=name, **none)
        for i, name in enumerate((FIRST_HALF, "second half"))
    ]
    return [PageTemplate("full", [full]), PageTemplate("card", halves)]


class Opens(Flowable):
    """Takes no room; tells the sheet which page of the job sheet opens on it."""

    def __init__(self, title: str, kind: str):
        super().__init__()
        self.title, self.kind = title, kind

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        return 0, 0

    def draw(self) -> None:
        self.canv.opened.append((self.title, self.kind))


class FollowingTitle(Flowable):
    """The title of a page that begins below another; nothing at the top of a sheet, whose head says it."""

    def __init__(self, title: str):
        super().__init__()
        self.title = title

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        at_top = getattr(getattr(self, "_frame", None), "_atTop", False)
        self.width, self.height = width, 0 if at_top else 9 * mm
        return self.width, self.height

    def draw(self) -> None:
        if not self.height:
            return
        canvas = self.canv
        canvas.setFont(BOLD, 13)
        canvas.setFillColor(look.INK)
        canvas.drawString(0, 3.6 * mm, settable(self.title, BOLD))
        canvas.setStrokeColor(look.STRONG_RULE)
        canvas.setLineWidth(0.9)
        canvas.line(0, 1.6 * mm, self.width, 1.6 * mm)


class SheetCanvas(Canvas):
    """Keeps finished sheets back until all are known, then draws their edges and bookmarks."""

    def __init__(self, *args, info: Info, place: Place, lost: bool, **keywords):
        super().__init__(*args, **keywords)
        self._info, self._place, self._lost = info, place, lost
        self._sheets: list[dict] = []
        self.opened: list[tuple[str, str]] = []
        self.frame_name = "full"

    def showPage(self) -> None:
        """Keep the sheet back."""
        self._sheets.append(dict(self.__dict__))
        self.opened = []
        self._startPage()

    def save(self) -> None:
        """Finish every sheet, then write the file."""
        title = ""
        total = len(self._sheets)
        for number, sheet in enumerate(self._sheets, 1):
            self.__dict__.update(sheet)
            titles = [t for t, _ in self.opened]
            shown = titles[0] if titles else f"{title}, continued"
            if titles:
                self._bookmark(number)
            edge = card_edge if self.frame_name == "card" else full_edge
            edge(self, self._place, self._info, shown, f"page {number} of {total}")
            if self._lost:
                _note_lost(self, self._place)
            title = titles[-1] if titles else title
            Canvas.showPage(self)
        Canvas.save(self)

    def _bookmark(self, number: int) -> None:
        for title, kind in self.opened:
            key = f"{kind}-{number}"
            self.bookmarkPage(key)
            self.addOutlineEntry(title, key, 0)


def _note_lost(canvas: Canvas, place: Place) -> None:
    text = f"{LOST} stands for a character that this typeface does not have."
    canvas.setFont(REGULAR, 7)
    canvas.drawCentredString(place.width / 2, place.margin + 0.2 * mm, text)


def record_line(info: Info) -> str:
    """By whom and when, of which description."""
    by = f"drawn by {info.drawn_by}" if info.drawn_by else "drawn by: not given"
    on = info.drawn_on or "date not given"
    source = SEPARATOR.join(filter(None, (info.source, info.fingerprint)))
    return SEPARATOR.join(filter(None, (f"{by}, {on}", source)))


def full_edge(canvas: Canvas, place: Place, info: Info, title: str, number: str) -> None:
    """Head and foot of a full sheet."""
    left, right, top, foot = place.margin, place.width - place.margin, place.height - place.margin, place.margin
    base = top - 4.6 * mm
    canvas.setFillColor(look.INK)
    kind = settable(title, BOLD)
    canvas.setFont(BOLD, 13)
    canvas.drawRightString(right, base, kind)
    room = right - left - width(kind, BOLD, 13) - 8 * mm
    job, size = fitted(info.job, BOLD, (13, 11, 9), room * 0.72)
    canvas.setFont(BOLD, size)
    canvas.drawString(left, base, job)
    used = width(job, BOLD, size) + 3.5 * mm
    beside, size = fitted(SEPARATOR.join(filter(None, (info.place, info.remark))), REGULAR, (9, 8), room - used)
    canvas.setFont(REGULAR, size)
    canvas.drawString(left + used, base, beside)
    _rule(canvas, left, right, top - 6.8 * mm, 0.9)
    _rule(canvas, left, right, foot + 4.4 * mm, 0.4)
    canvas.setFont(REGULAR, SMALLEST)
    canvas.drawString(left, foot + 1 * mm, RECORD)
    room = right - left - width(RECORD, REGULAR, SMALLEST) - 6 * mm - width(number, REGULAR, SMALLEST)
    line, _ = fitted(record_line(info), REGULAR, (SMALLEST,), room)
    canvas.drawRightString(right, foot + 1 * mm, SEPARATOR.join((line, number)))


def _rule(canvas: Canvas, left: float, right: float, y: float, weight: float) -> None:
    canvas.setStrokeColor(look.STRONG_RULE)
    canvas.setLineWidth(weight)
    canvas.line(left, y, right, y)


def card_edge(canvas: Canvas, place: Place, info: Info, title: str, number: str) -> None:
    """Heads and feet of the two halves of a card, and the marks to fold or cut along."""
    x, y = place.card
    for half in (0, 1):
        _half_edge(canvas, x + half * A5[0], y, info, title, number)
    _cut_marks(canvas, place)


def _half_edge(canvas: Canvas, x: float, y: float, info: Info, title: str, number: str) -> None:
    left, right = x + CARD_MARGIN, x + A5[0] - CARD_MARGIN
    top, foot = y + A5[1] - CARD_MARGIN, y + CARD_MARGIN
    canvas.setFillColor(look.INK)
    job, size = fitted(info.job, BOLD, (12.5, 10.5, 8.5), right - left)
    canvas.setFont(BOLD, size)
    canvas.drawString(left, top - 4.4 * mm, job)
    kind = settable(title)
    canvas.setFont(REGULAR, look.BODY)
    canvas.drawRightString(right, top - 9 * mm, kind)
    beside = SEPARATOR.join(filter(None, (info.place, info.remark)))
    line, size = fitted(beside, REGULAR, (look.BODY, 7.5), right - left - width(kind, REGULAR, look.BODY) - 5 * mm)
    canvas.setFont(REGULAR, size)
    canvas.drawString(left, top - 9 * mm, line)
    _rule(canvas, left, right, top - 11 * mm, 0.9)
    _rule(canvas, left, right, foot + 7.6 * mm, 0.4)
    canvas.setFont(REGULAR, SMALLEST)
    canvas.drawString(left, foot + 4.4 * mm, RECORD)
    canvas.drawRightString(right, foot + 4.4 * mm, number)
    canvas.drawString(left, foot + 1 * mm, fitted(record_line(info), REGULAR, (SMALLEST,), right - left)[0])


def _cut_marks(canvas: Canvas, place: Place) -> None:
    """Marks at the corners of both halves where they lie on the paper, never nearer than 5 mm to its edge."""
    x, y = place.card
    edge, long = 5 * mm, 4 * mm
    canvas.setLineWidth(0.4)
    canvas.setStrokeColor(look.STRONG_RULE)
    for at in (x, x + A5[0], x + 2 * A5[0]):
        if not edge < at < place.width - edge:
            continue
        for end, way in ((y, -1), (y + A5[1], 1)):
            inside = not edge + long < end < place.height - edge - long
            start = end - way * edge if inside else end + way * 1 * mm
            canvas.line(at, start, at, start - way * long if inside else start + way * long)
    for at in (y, y + A5[1]):
        if edge < at < place.height - edge:
            canvas.line(x - long - mm, at, x - mm, at)
            canvas.line(x + 2 * A5[0] + mm, at, x + 2 * A5[0] + mm + long, at)


class SheetTemplate(BaseDocTemplate):
    """The flow of one job sheet; `first` names the frame of its first sheet."""

    def __init__(self, out, place: Place, info: Info, first: str):
        templates = sorted(frames(place), key=lambda template: template.id != first)
        super().__init__(out, pagesize=(place.width, place.height), pageTemplates=templates, invariant=1, lang="en-GB",
                         title=SEPARATOR.join(filter(None, (info.job, info.place))), author=info.drawn_by,
                         subject=RECORD, keywords=SEPARATOR.join(filter(None, (info.source, info.fingerprint))),
                         creator="sheetgen", displayDocTitle=1)

    def beforePage(self) -> None:
        """Tell the sheet which frames it has."""
        self.canv.frame_name = self.pageTemplate.id
