"""The flow of a job sheet, what opens on a sheet, and the canvas that finishes every sheet when all are known."""

from __future__ import annotations

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable

from sheetgen.model.page import Info
from sheetgen.model.words import RECORD
from sheetgen.print.pdf.edges import card_edge, full_edge, record_line, separated
from sheetgen.print.pdf.look import FOLLOWING_GAP, Look, colour
from sheetgen.print.pdf.place import CARD, FULL, Place


class Opens(Flowable):
    """Takes no room; tells the sheet which page of the job sheet opens on it."""

    def __init__(self, title: str, kind: str):
        super().__init__()
        self.title, self.kind = title, kind

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Nothing."""
        return 0, 0

    def draw(self) -> None:
        """Tell the sheet."""
        at_top = getattr(getattr(self, "_frame", None), "_atTop", True)
        self.canv.opened.append((self.title, self.kind, bool(at_top)))


class FollowingTitle(Flowable):
    """The title of a page that begins below another; nothing at the top of a sheet, whose head says it."""

    def __init__(self, title: str, look: Look):
        super().__init__()
        self.title, self.look = title, look

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """A line, and the rule below it."""
        at_top = getattr(getattr(self, "_frame", None), "_atTop", False)
        self.width, self.height = width, 0 if at_top else 9 * mm + FOLLOWING_GAP
        return self.width, self.height

    def draw(self) -> None:
        """As in the head of a sheet."""
        if self.height:
            self.look.draw(self.canv, 0, 4.2 * mm, self.title, "sheet title")
            self.look.draw_rule(self.canv, 0, self.width, 2 * mm, "strong rule")


class SheetCanvas(Canvas):
    """Keeps finished sheets back until all are known, then draws their edges and bookmarks."""

    def __init__(self, *args, look: Look, info: Info, place: Place, lost: bool, **keywords):
        super().__init__(*args, **keywords)
        self._look, self._info, self._place, self._lost = look, info, place, lost
        self._sheets: list[dict] = []
        self.opened: list[tuple[str, str, bool]] = []  # title, kind, whether it begins at the top of the sheet
        self.frame_name = FULL
        self.frames_used: set[str] = set()

    def setFillColor(self, aColor, alpha=None) -> None:
        """Takes a style's '#rrggbb' too, without reading it again each time."""
        super().setFillColor(colour(aColor) if isinstance(aColor, str) else aColor, alpha)

    def setStrokeColor(self, aColor, alpha=None) -> None:
        """Takes a style's '#rrggbb' too, without reading it again each time."""
        super().setStrokeColor(colour(aColor) if isinstance(aColor, str) else aColor, alpha)

    def showPage(self) -> None:
        """Keep the sheet back."""
        self._sheets.append(dict(self.__dict__))
        self.opened, self.frames_used = [], set()
        self._startPage()

    def save(self) -> None:
        """Finish every sheet, then write the file."""
        title, total = "", len(self._sheets)
        for number, sheet in enumerate(self._sheets, 1):
            self.__dict__.update(sheet)
            begins = self.opened and self.opened[0][2]
            self._finish(self.opened[0][0] if begins else f"{title}, continued", f"page {number} of {total}")
            for title, kind, _ in self.opened:
                key = f"{kind} {number}"
                self.bookmarkPage(key)
                self.addOutlineEntry(title, key, 0)
            Canvas.showPage(self)
        Canvas.save(self)

    def _finish(self, title: str, number: str) -> None:
        edge = card_edge if self.frame_name == CARD else full_edge
        edge(self, self._look, self._place, self._info, title, record_line(self._info, self._lost), number)


class SheetTemplate(BaseDocTemplate):
    """The flow of one job sheet; `first` names the frame of its first sheet; `filled`, how much of the last is."""

    filled = 1.0

    def __init__(self, out, place: Place, info: Info, first: str):
        templates = sorted(place.frames(), key=lambda template: template.id != first)
        super().__init__(out, pagesize=(place.width, place.height), pageTemplates=templates, invariant=1, lang="en-GB",
                         title=separated(info.job, info.place), author=info.drawn_by, subject=RECORD,
                         keywords=separated(info.source, info.fingerprint), creator="sheetgen", displayDocTitle=1)

    def afterFlowable(self, flowable: Flowable) -> None:
        """Tell the sheet which of its frames hold something."""
        if self.frame is not None:  # None between two sheets
            self.canv.frames_used.add(self.frame.id)
            self.filled = 1 - (self.frame._y - self.frame._y1p) / self.frame._height

    def beforePage(self) -> None:
        """Tell the sheet which frames it has."""
        self.canv.frame_name = self.pageTemplate.id
