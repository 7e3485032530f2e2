"""Pages to sheets: every piece in its place, before anything is painted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from reportlab.pdfgen.canvas import Canvas

from sheetgen.model.page import Page, Spare
from sheetgen.print.pdf.blocks import set_blocks
from sheetgen.print.pdf.columns import FilledColumns
from sheetgen.print.pdf.frames import CARD, PaperFrame, PaperSheet
from sheetgen.print.pdf.pieces import Beside, Framed, HalfTurn, Paragraph, Piece, Space, fill, stack_height
from sheetgen.print.pdf.tables import PlacedForm
from sheetgen.print.pdf.typesetting import FOLLOWING_GAP, Typesetting, mm

CARD_TEXT = (1.2, 1.1, 1.0, 0.94, 0.88)  # shares of the size of text on other sheets, the largest first
OPENING = (Space, Paragraph, Framed, PlacedForm)  # words and blanks that lead to what they stand above
TO_BEGIN = 26 * mm  # a page that follows another on its sheet needs so much room to begin, or what all of it takes


@dataclass(frozen=True)
class Opening:
    """A page of the job sheet that begins on a sheet."""

    title: str
    kind: str
    at_top: bool
    follows: bool  # it might have stood below the page before
    bookmarks: tuple[tuple[int, str], ...]


def _opening(page: Page, at_top: bool, follows: bool) -> Opening:
    return Opening(page.title, page.kind, at_top, follows, page.bookmarks or ((0, page.title),))


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
        return 8 * mm

    def draw(self, canvas: Canvas, x: float, top: float) -> None:
        """As in the head of a sheet."""
        self.setting.draw(canvas, x, top - 4.4 * mm, self.title, "sheet title")
        self.setting.draw_rule(canvas, x, x + self.width, top - 6.4 * mm, "strong rule")


def _opens(piece: Piece) -> bool:
    """Whether it leads to what stands below it: words, a form, or such side by side or in columns."""
    if isinstance(piece, Beside):
        return all(_opens(part) for stack in piece.stacks for part in stack)
    if isinstance(piece, FilledColumns):  # a list is no mere opening
        return all(_opens(part) and not (isinstance(part, Paragraph) and part.mark)
                   for column in piece.columns for group in column for part in group.pieces)
    return isinstance(piece, OPENING)


def place_pages(pages: Sequence[Page], setting: Typesetting, paper: PaperSheet,
                usual: Typesetting | None = None) -> list[FilledSheet]:
    """Every sheet of the pages, in order. A page begins a sheet, or stands below the page before where it may.

    A card is set in the largest text in which it takes one sheet; what may stand on it as well does where it fits. So
    does what may come early, before a page that begins a new sheet. `usual`: what the text of a card is reckoned from,
    where that of other pages is smaller.
    """
    placer = _Placer(setting, paper)
    left = list(pages)
    while left:
        page = left.pop(0)
        if page.frame == CARD:
            also = sorted((more for more in left if more.on_card), key=lambda more: more.card_only)
            placer.add(page, _set_to_fit(page, also, setting, paper, usual or setting))
            placed = placer.add_those_that_fit(also, setting)
        else:
            placed = [] if page.card_only else placer.add(page, setting, [more for more in left if more.early])
        left = [more for more in left if more not in placed]
    return placer.sheets


def _set_to_fit(page: Page, also: Sequence[Page], setting: Typesetting, paper: PaperSheet,
                usual: Typesetting) -> Typesetting:
    """The largest text in which a card takes one sheet, each half in its own frame if any text does that, and the most
    of what may stand on it as well has room.

    It is no larger than usual at the cost of what is printed only where there is room, and smaller only where that
    alone gives one sheet. Where the card takes more than a sheet in any, it is set in the text of the other pages.
    """
    whole = tuple(b for block in page.blocks for b in (block.blocks if isinstance(block, Spare) else (block,)))
    one_sheet: list[Typesetting] = []
    in_frames: list[tuple[int, Typesetting]] = []
    for share in CARD_TEXT:
        tried = usual.at(share)
        placer = _Placer(tried, paper)
        placer.add(replace(page, blocks=whole) if share >= 1 else page, tried)
        if len(placer.sheets) == 1:
            one_sheet.append(tried)
            if not placer.ran_over:
                others = [more for more in also if not more.card_only]
                in_frames.append((len(placer.add_those_that_fit(others, setting)), tried))
        if in_frames and share <= 1:
            break
    return max(in_frames, key=lambda found: found[0], default=(0, next(iter(one_sheet), setting)))[1]


class _Placer:
    def __init__(self, setting: Typesetting, paper: PaperSheet):
        self.setting, self.paper = setting, paper
        self.sheets: list[FilledSheet] = []
        self.frames: tuple[PaperFrame, ...] = ()
        self.number = 0  # of the frame being filled
        self.used = 0.0
        self.ran_over = False  # whether anything went on in another frame

    def add_those_that_fit(self, pages: Sequence[Page], setting: Typesetting) -> list[Page]:
        """Place those of some pages that have room, each whole, below what the last frame holds."""
        placed: list[Page] = []
        for page in pages:
            if not (page.card_only and any(other.card_only for other in placed)) and self._adds_whole(page, setting):
                placed.append(page)
        return placed

    def _adds_whole(self, page: Page, setting: Typesetting) -> bool:
        kind = self.sheets[-1].kind
        width = self.paper.room(kind)
        pieces = [FollowingTitle(page.title, setting, width), *set_blocks(page.blocks, setting, width)]
        left = self.frames[self.number].height - self.used - pieces[0].above
        if self.number + 1 < len(self.frames) or stack_height(pieces) > left:
            return False
        self.sheets[-1].openings.append(_opening(page, False, True))
        self._place(pieces, kind)
        return True

    def add(self, page: Page, setting: Typesetting, early: Sequence[Page] = ()) -> list[Page]:
        """Set a page and place it; where it begins a sheet, those of the `early` ones before it that have room."""
        width = self.paper.room(page.frame)
        content = set_blocks(page.blocks, setting, width)
        title = FollowingTitle(page.title, setting, width)
        alike = bool(self.sheets) and self.sheets[-1].kind == page.frame
        if page.follows and self.used > 0 and alike and self._has_room(title, content, page.whole):
            self.sheets[-1].openings.append(_opening(page, False, True))
            self._place([title, *content], page.frame)
            return []
        before = self.add_those_that_fit(early, setting) if alike else []
        self._turn_sheet(page.frame)
        self.sheets[-1].openings.append(_opening(page, True, page.follows))
        self._place(content, page.frame)
        return before

    def _has_room(self, title: Piece, content: Sequence[Piece], whole: bool) -> bool:
        """Whether a following page fits whole, or may have and has room to begin."""
        height = self.frames[self.number].height
        left = height - self.used - title.above
        if stack_height([title, *content]) <= left:
            return True
        if whole:
            return False
        begun, _ = fill([title, *content], height, forced=False, used=self.used)
        leads = any(not _opens(piece) for piece in content)  # whether the words of the page lead to something
        return left >= TO_BEGIN and any(
            not piece.heading and piece is not title and not (leads and _opens(piece)) for _, piece in begun)

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
            while any(type(piece) is not Space for piece in queue):
                frame = self.frames[self.number]
                placed, queue = fill(queue, frame.height, forced=self.used == 0, used=self.used)
                self._keep(placed, frame)
                if any(type(piece) is not Space for piece in queue):
                    self.ran_over = True
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
