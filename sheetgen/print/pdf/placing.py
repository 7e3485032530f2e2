"""Pages to sheets: every piece in its place, before anything is painted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import field

from reportlab.pdfgen.canvas import Canvas

from sheetgen.model.dataclass import dataclass
from sheetgen.model.page import Page
from sheetgen.print.pdf.blocks import set_blocks
from sheetgen.print.pdf.frames import PaperFrame, PaperSheet
from sheetgen.print.pdf.pieces import HalfTurn, Piece, fill, stack_height
from sheetgen.print.pdf.typesetting import FOLLOWING_GAP, Typesetting, mm

TO_BEGIN = 58 * mm  # a page that follows another on its sheet needs so much room to begin, or what all of it takes


@dataclass(frozen=True)
class Opening:
    """A page of the job sheet that begins on a sheet."""

    title: str
    kind: str
    at_top: bool
    follows: bool  # it might have stood below the page before


@dataclass
class FilledSheet:
    """A sheet of paper: what stands where on it, as (x, top, piece), which pages open, and which frames hold something.

    `filled` is the share of its frame that is taken.
    """

    kind: str
    openings: list[Opening] = field(default_factory=list)
    placed: list[tuple[float, float, Piece]] = field(default_factory=list)
    frames_used: set[int] = field(default_factory=set)
    filled: float = 0.0


class FollowingTitle(Piece):
    """The title of a page that begins below another, and the rule below it."""

    above = FOLLOWING_GAP

    def __init__(self, title: str, setting: Typesetting, width: float):
        self.title, self.setting, self.width = title, setting, width

    @property
    def height(self) -> float:
        """A line and the rule."""
        return 9 * mm

    def draw(self, canvas: Canvas, x: float, top: float) -> None:
        """As in the head of a sheet."""
        self.setting.draw(canvas, x, top - 4.8 * mm, self.title, "sheet title")
        self.setting.draw_rule(canvas, x, x + self.width, top - 7 * mm, "strong rule")


def place_pages(pages: Sequence[Page], setting: Typesetting, paper: PaperSheet) -> list[FilledSheet]:
    """Every sheet of the pages, in order. A page begins a sheet, or stands below the page before where it may."""
    placer = _Placer(setting, paper)
    for page in pages:
        placer.add(page)
    return placer.sheets


class _Placer:
    def __init__(self, setting: Typesetting, paper: PaperSheet):
        self.setting, self.paper = setting, paper
        self.sheets: list[FilledSheet] = []
        self.frames: tuple[PaperFrame, ...] = ()
        self.number = 0  # of the frame being filled
        self.used = 0.0

    def add(self, page: Page) -> None:
        """Set a page and place it."""
        width = self.paper.room(page.frame)
        content = set_blocks(page.blocks, self.setting, width)
        title = FollowingTitle(page.title, self.setting, width)
        below = page.follows and self.used > 0 and self.sheets[-1].kind == page.frame
        if below and self._has_room(title, content):
            self.sheets[-1].openings.append(Opening(page.title, page.kind, False, True))
            self._place([title, *content], page.frame)
            return
        self._turn_sheet(page.frame)
        self.sheets[-1].openings.append(Opening(page.title, page.kind, True, page.follows))
        self._place(content, page.frame)

    def _has_room(self, title: Piece, content: Sequence[Piece]) -> bool:
        """Whether a following page fits whole, or has room to begin."""
        height = self.frames[self.number].height
        left = height - self.used - title.above
        if stack_height([title, *content]) <= left:
            return True
        begun, _ = fill([title, *content], height, forced=False, used=self.used)
        return left >= TO_BEGIN and any(not piece.heading and piece is not title for _, piece in begun)

    def _turn_sheet(self, kind: str) -> None:
        self.sheets.append(FilledSheet(kind))
        self.frames, self.number, self.used = self.paper.frames(kind), 0, 0.0

    def _turn(self, kind: str) -> None:
        """On to the next frame, on this sheet or another."""
        if self.number + 1 < len(self.frames):
            self.number, self.used = self.number + 1, 0.0
        else:
            self._turn_sheet(kind)

    def _place(self, pieces: Sequence[Piece], kind: str) -> None:
        """Fill frame after frame. A half turn goes on at the other half, unless what came before has run into it."""
        turns = [i for i, piece in enumerate(pieces) if isinstance(piece, HalfTurn)]
        start = 0
        for end in (*turns, len(pieces)):
            queue = list(pieces[start:end])
            while queue:
                frame = self.frames[self.number]
                placed, queue = fill(queue, frame.height, forced=self.used == 0, used=self.used)
                self._keep(placed, frame)
                if queue:
                    self._turn(kind)
            if end < len(pieces) and self.number + 1 < len(self.frames):
                self._turn(kind)
            start = end + 1

    def _keep(self, placed: Sequence[tuple[float, Piece]], frame: PaperFrame) -> None:
        sheet = self.sheets[-1]
        for down, piece in placed:
            sheet.placed.append((frame.x, frame.top - down, piece))
            self.used = down + piece.height
        if placed:
            sheet.frames_used.add(self.number)
        sheet.filled = self.used / frame.height
