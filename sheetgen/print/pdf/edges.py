"""The edge of every sheet: whose record this is, which page of which description; the marks to cut a card along."""

from __future__ import annotations

from reportlab.pdfgen.canvas import Canvas

from sheetgen.model.page import Info
from sheetgen.model.words import BLANK, RECORD
from sheetgen.print.pdf.frames import A5, CARD_MARGIN, PaperSheet
from sheetgen.print.pdf.lettering import LOST
from sheetgen.print.pdf.typesetting import Typesetting, mm, use_rule

LAID = "laid by method"
SEPARATOR = "  \N{MIDDLE DOT}  "
BAND_GAP = 0.4 * mm  # between the head of a sheet and the band above it
EDGE, MARK = 5 * mm, 4 * mm  # nothing is printed nearer to the edge of the paper; length of a cut mark


def separated(*parts: str) -> str:
    """Those parts that say something, with a dot between."""
    return SEPARATOR.join(filter(None, parts))


def record_line(info: Info, lost: bool) -> str:
    """By whom and when, of which description; and what the hollow square is, where it had to be printed."""
    note = f"{LOST} stands for a character that cannot be printed" if lost else ""
    if info.record:
        return separated(note, info.record)
    return separated(note, LAID if info.laid else "", _drawn(info), info.source, info.fingerprint)


def _drawn(info: Info) -> str:
    """By whom and when; room to write it in where that is not given, and something is there to be drawn."""
    if info.laid:
        return ", ".join(filter(None, (f"drawn by {info.drawn_by}" if info.drawn_by else "", info.drawn_on)))
    return f"drawn by {info.drawn_by or BLANK}, {info.drawn_on or f'on {BLANK}'}"


def full_edge(canvas: Canvas, setting: Typesetting, paper: PaperSheet, info: Info, title: str, record: str,
              number: str) -> None:
    """Head and foot of a full sheet, and above the head its warning."""
    if info.warning:
        _band(canvas, setting, paper, info.warning)
    left, right, top, foot = paper.margin, paper.width - paper.margin, paper.height - paper.margin, paper.margin
    base = top - 4.6 * mm
    setting.draw(canvas, right, base, title, "sheet title", at_right=True)
    room = right - left - setting.width(title, "sheet title") - 8 * mm
    used = setting.draw_fitted(canvas, left, base, info.job, "sheet title", room * 0.72) + 3.5 * mm
    setting.draw_fitted(canvas, left + used, base, separated(info.place, info.remark), "sheet place", room - used)
    setting.draw_rule(canvas, left, right, top - 6.8 * mm, "strong rule")
    setting.draw_rule(canvas, left, right, foot + 4.2 * mm, "thin rule")
    base = foot + 0.8 * mm
    standing = info.standing or RECORD
    setting.draw(canvas, left, base, standing, "sheet edge")
    setting.draw(canvas, right, base, number, "sheet edge", at_right=True)
    middle = left + setting.width(standing, "sheet edge") + 6 * mm
    room = right - middle - setting.width(number, "sheet edge") - 6 * mm
    start = max(middle, middle + room - setting.width(record, "sheet edge"))
    setting.draw_fitted(canvas, start, base, record, "sheet edge", room)


def _band(canvas: Canvas, setting: Typesetting, paper: PaperSheet, words: str) -> None:
    """White words on black, from margin to margin: as loud on a black-and-white printer."""
    foot = paper.height - paper.margin + BAND_GAP
    setting.draw_band(canvas, paper.margin, foot, paper.width - 2 * paper.margin, paper.margin - BAND_GAP - EDGE, words)


def card_edge(canvas: Canvas, setting: Typesetting, paper: PaperSheet, info: Info, title: str, record: str, number: str,
              frames_used: set[int]) -> None:
    """Heads and feet of the halves of a card that hold something, and the marks to fold or cut along."""
    x, y = paper.card
    for half in (0, 1):
        if half in frames_used:
            _half_edge(canvas, setting, x + half * A5[0], y, info, title, record, number)
    _cut_marks(canvas, setting, paper)


def _half_edge(canvas: Canvas, setting: Typesetting, x: float, y: float, info: Info, title: str, record: str,
               number: str) -> None:
    left, right = x + CARD_MARGIN, x + A5[0] - CARD_MARGIN
    top, foot = y + A5[1] - CARD_MARGIN, y + CARD_MARGIN
    setting.draw_fitted(canvas, left, top - 4.4 * mm, info.job, "sheet title", right - left)
    setting.draw(canvas, right, top - 9 * mm, title, "sheet place", at_right=True)
    room = right - left - setting.width(title, "sheet place") - 5 * mm
    setting.draw_fitted(canvas, left, top - 9 * mm, separated(info.place, info.remark), "sheet place", room)
    setting.draw_rule(canvas, left, right, top - 11 * mm, "strong rule")
    setting.draw_rule(canvas, left, right, foot + 7.4 * mm, "thin rule")
    setting.draw(canvas, left, foot + 4 * mm, RECORD, "sheet edge")
    setting.draw(canvas, right, foot + 4 * mm, number, "sheet edge", at_right=True)
    setting.draw_fitted(canvas, left, foot + 0.6 * mm, record, "sheet edge", right - left)


def _cut_marks(canvas: Canvas, setting: Typesetting, paper: PaperSheet) -> None:
    """Marks where the edges of the halves lie on the paper; on A4 only the fold between them does."""
    x, y = paper.card
    use_rule(canvas, setting.rule("thin rule"))
    for at in (x, x + A5[0], x + 2 * A5[0]):
        if EDGE < at < paper.width - EDGE:
            low, high = max(y - mm, EDGE + MARK), min(y + A5[1] + mm, paper.height - EDGE - MARK)
            canvas.line(at, low - MARK, at, low)
            canvas.line(at, high, at, high + MARK)
    for at in (y, y + A5[1]):
        if EDGE < at < paper.height - EDGE:
            canvas.line(x - mm - MARK, at, x - mm, at)
            canvas.line(x + 2 * A5[0] + mm, at, x + 2 * A5[0] + mm + MARK, at)
    canvas.setDash([2, 3])
    canvas.line(x + A5[0], max(y, EDGE + MARK + 2 * mm), x + A5[0], min(y + A5[1], paper.height - EDGE - MARK - 2 * mm))
    canvas.setDash([])

