"""Tables: column widths from what the cells need, open rules, heads that repeat, blank boxes to write in."""

from __future__ import annotations

from reportlab.platypus import Flowable, Paragraph, TableStyle
from reportlab.platypus import Table as Grid

from sheetgen.model.page import Cell, Form, Swatch, Table, Words
from sheetgen.model.style import Style
from sheetgen.pages_to_pdf import look
from sheetgen.pages_to_pdf.faces import BOLD, REGULAR, markup, settable, width
from sheetgen.pages_to_pdf.ink import Piece

STRETCH = 1.3  # how much wider than its contents a table may be drawn to meet the right edge
BOX_NATURAL = 62.0  # a column of blank boxes asks for this much, in points


def _words(cell: Cell) -> tuple[str, str]:
    """Text and tone of a cell of text."""
    if isinstance(cell, Words):
        return (f"{cell.lead} {cell.text}" if cell.lead else cell.text), cell.tone
    return str(cell), ""


def _font(tone: str) -> str:
    return BOLD if tone in ("strong", "danger") else REGULAR


def _needs(cell: Cell, tone: str, style: Style) -> tuple[float, float]:
    """Width of a cell on one line, and of its longest word."""
    if isinstance(cell, Swatch):
        natural = Piece(cell, style).natural
        return natural, natural
    text, own = _words(cell)
    font = _font(own or tone)
    words = settable(text, font).split()
    return width(" ".join(words), font, look.CELL), max((width(w, font, look.CELL) for w in words), default=0.0)


def column_widths(table: Table, tones: tuple[str, ...], style: Style, room: float) -> list[float]:
    """Widths in points: by shares where given, else what the contents need, the widest columns giving way first."""
    if table.shares:
        return [room * share / sum(table.shares) for share in table.shares]
    natural, least = [], []
    for i, head in enumerate(table.head):
        needs = [_needs(row[i], tone, style) for row, tone in zip(table.rows, tones, strict=True)]
        words = settable(head, BOLD).split()
        needs.append((width(" ".join(words), BOLD, look.HEAD),
                      max((width(w, BOLD, look.HEAD) for w in words), default=0)))
        box = BOX_NATURAL if i in table.boxes else 0.0
        natural.append(max(box, *(n for n, _ in needs)) + 2 * look.CELL_X + 0.5)
        least.append(max(box / 2, *(m for _, m in needs)) + 2 * look.CELL_X + 0.5)
    return _share_out(natural, least, room)


def _share_out(natural: list[float], least: list[float], room: float) -> list[float]:
    total = sum(natural)
    if total <= room:
        spare = min(room, total * STRETCH) - total
        return [n + spare * n / total for n in natural]
    if sum(least) >= room:
        return [room * m / sum(least) for m in least]
    slack = [n - m for n, m in zip(natural, least, strict=True)]
    give = (total - room) / sum(slack)
    return [n - s * give for n, s in zip(natural, slack, strict=True)]


def _set(cell: Cell, tone: str, room: float, style: Style) -> str | Flowable:
    """A cell as ReportLab takes it: plain text where it fits on one line, which is faster to set."""
    if isinstance(cell, Swatch):
        return Piece(cell, style)
    text, own = _words(cell)
    font = _font(own or tone)
    text = settable(text, font)
    plain = not (isinstance(cell, Words) and (cell.lead or own))
    if plain and width(text, font, look.CELL) <= room:
        return text
    lead = f"<b>{markup(cell.lead, BOLD)}</b> " if isinstance(cell, Words) and cell.lead else ""
    body = markup(cell.text if isinstance(cell, Words) else text, font)
    kind = f"cell {own or tone}".strip()
    return Paragraph(lead + body, look.paragraphs().get(kind, look.paragraphs()["cell"]))


def _head(text: str, room: float) -> str | Flowable:
    text = settable(text, BOLD)
    return text if width(text, BOLD, look.HEAD) <= room else Paragraph(markup(text, BOLD), look.paragraphs()["head"])


def _continues(table: Table, row: tuple[Cell, ...]) -> bool:
    """Whether a row goes on with what the row above names in the joined columns."""
    return table.joined > 0 and not any(row[: table.joined])


def _rules(table: Table, tones: tuple[str, ...]) -> list[tuple]:
    last = len(table.rows)
    commands: list[tuple] = [
        ("FONT", (0, 0), (-1, -1), REGULAR, look.CELL, 10.4),
        ("FONT", (0, 0), (-1, 0), BOLD, look.HEAD, 9.4),
        ("VALIGN", (0, 0), (-1, -1), "TOP"), ("VALIGN", (0, 0), (-1, 0), "BOTTOM"),
        ("LEFTPADDING", (0, 0), (-1, -1), look.CELL_X), ("RIGHTPADDING", (0, 0), (-1, -1), look.CELL_X),
        ("TOPPADDING", (0, 0), (-1, -1), look.CELL_Y), ("BOTTOMPADDING", (0, 0), (-1, -1), look.CELL_Y),
        ("LINEBELOW", (0, 0), (-1, 0), 0.9, look.STRONG_RULE),
        ("LINEBELOW", (0, last), (-1, last), 0.5, look.STRONG_RULE),
    ]
    for i, (row, tone) in enumerate(zip(table.rows, tones, strict=True), 1):
        if i > 1:
            start = table.joined if _continues(table, row) else 0
            commands.append(("LINEABOVE", (start, i), (-1, i), 0.3, look.RULE))
        if tone in ("strong", "danger"):
            commands.append(("FONT", (0, i), (-1, i), BOLD, look.CELL, 10.4))
        if tone == "quiet":
            commands.append(("TEXTCOLOR", (0, i), (-1, i), look.QUIET))
    for column in table.boxes:
        if last:
            commands.append(("GRID", (column, 1), (column, last), 0.6, look.STRONG_RULE))
    return commands


def set_table(table: Table, style: Style, room: float) -> Grid:
    """A table as a flowable of the given width or less; the head repeats when it is split."""
    tones = table.tones or ("",) * len(table.rows)
    widths = column_widths(table, tones, style, room)
    inner = [w - 2 * look.CELL_X for w in widths]
    head = [_head(text, w) for text, w in zip(table.head, inner, strict=True)]
    rows = [
        [_set(cell, tone, w, style) for cell, w in zip(row, inner, strict=True)]
        for row, tone in zip(table.rows, tones, strict=True)
    ]
    least = look.BOX_HEIGHT if table.boxes else None
    heights = [None] * (len(rows) + 1)
    grid = Grid([head, *rows], colWidths=widths, rowHeights=heights, repeatRows=1, hAlign="LEFT",
                spaceAfter=look.GAP, spaceBefore=0)
    commands = _rules(table, tones)
    if least:
        extra = (least - 10.4) / 2
        commands += [("TOPPADDING", (0, 1), (-1, -1), extra), ("BOTTOMPADDING", (0, 1), (-1, -1), extra)]
    grid.setStyle(TableStyle(commands))
    return grid


def set_form(form: Form, room: float) -> Grid:
    """Labels above blank boxes, in one line."""
    shares = form.shares or (1.0,) * len(form.labels)
    widths = [room * s / sum(shares) for s in shares]
    grid = Grid([[settable(label, BOLD) for label in form.labels], [""] * len(form.labels)],
                colWidths=widths, rowHeights=[None, 8.5 * 72 / 25.4], hAlign="LEFT", spaceAfter=look.GAP)
    grid.setStyle(TableStyle([
        ("FONT", (0, 0), (-1, 0), BOLD, look.HEAD, 9.4), ("GRID", (0, 1), (-1, 1), 0.6, look.STRONG_RULE),
        ("BOTTOMPADDING", (0, 0), (-1, 0), 2), ("TOPPADDING", (0, 0), (-1, 0), 1),
        ("LEFTPADDING", (0, 0), (-1, -1), 1),
    ]))
    return grid
