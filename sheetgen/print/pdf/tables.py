"""Tables: column widths from what the cells need, open rules, heads that repeat, blank boxes to write in."""

from __future__ import annotations

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, Paragraph, TableStyle
from reportlab.platypus import Table as Grid

from sheetgen.model.page import Cell, Form, Swatch, Table, Words
from sheetgen.print.pdf.faces import markup, settable, width
from sheetgen.print.pdf.ink import Piece
from sheetgen.print.pdf.look import BOX_HEIGHT, CELL_X, CELL_Y, GAP, Look

STRETCH = 1.3  # how much wider than its contents a table may be drawn to meet the right edge
BOX_NATURAL = 20 * mm  # a column of blank boxes asks for this much
MOST_WHOLE = 150 * mm  # a table that is no higher fits a sheet whole
FORM_BOX = 8 * mm  # height of a box of a form
HEAVY = ("strong", "danger")  # tones set in bold


def _parts(cell: Cell, tone: str) -> tuple[str, str, str]:
    """Lead, text and tone of a cell of text."""
    if isinstance(cell, Words):
        return cell.lead, cell.text, tone if cell.tone == "plain" else cell.tone
    return "", str(cell), tone


def _needs(cell: Cell, tone: str, look: Look) -> tuple[float, float]:
    """Width of a cell on one line, and of its longest word."""
    if isinstance(cell, Swatch):
        natural = Piece(cell, look).natural
        return natural, natural
    lead, text, tone = _parts(cell, tone)
    face, size = "bold" if tone in HEAVY or lead else "regular", look.lettering("cell").size
    return _text_needs(f"{lead} {text}", face, size)


def _text_needs(text: str, face: str, size: float) -> tuple[float, float]:
    words = settable(text, face).split()
    return width(" ".join(words), face, size), max((width(w, face, size) for w in words), default=0.0)


def column_widths(table: Table, look: Look, room: float) -> list[float]:
    """Widths in points: by shares where given, else what the contents need, the widest columns giving way first."""
    natural, least = [], []
    for i, head in enumerate(table.head):
        needs = [_needs(row[i], tone, look) for row, tone in zip(table.rows, tones_of(table), strict=True)]
        needs.append(_text_needs(head, look.lettering("head").face, look.lettering("head").size))
        box = BOX_NATURAL if i in table.boxes else 0.0
        natural.append(max(box, *(n for n, _ in needs)) + 2 * CELL_X + 0.5)
        least.append(max(box / 2, *(m for _, m in needs)) + 2 * CELL_X + 0.5)
    if table.shares:
        return by_shares(table.shares, least, room)
    return share_out(natural, least, room)


def by_shares(shares: tuple[float, ...], least: list[float], room: float) -> list[float]:
    """Widths in proportion to the shares; a column whose longest word needs more has it, the others giving way."""
    if sum(least) >= room:
        return _level_down(least, room)
    narrow: dict[int, float] = {}
    while True:
        left, total = room - sum(narrow.values()), sum(s for i, s in enumerate(shares) if i not in narrow)
        widths = [narrow.get(i, left * share / total if total else 0.0) for i, share in enumerate(shares)]
        more = {i: least[i] for i, width in enumerate(widths) if i not in narrow and width < least[i] - 1e-6}
        if not more:
            return widths
        narrow |= more


def share_out(natural: list[float], least: list[float], room: float) -> list[float]:
    """Widths between the least and the natural ones, or a little over, that fill the room as far as is sensible."""
    total = sum(natural)
    if total <= room:
        spare = min(room, total * STRETCH) - total
        return [n + spare * n / total for n in natural]
    if sum(least) >= room:
        return _level_down(least, room)
    slack = [n - m for n, m in zip(natural, least, strict=True)]
    give = (total - room) / sum(slack)
    return [n - s * give for n, s in zip(natural, slack, strict=True)]


def _level_down(widths: list[float], room: float) -> list[float]:
    """The widest cut back to one width, so that all fit; words too long for their column are broken."""
    left, fair = room, room
    for i, least in enumerate(sorted(widths)):
        fair = left / (len(widths) - i)
        if least > fair:
            break
        left -= least
    return [min(least, fair) for least in widths]


def tones_of(table: Table) -> tuple[str, ...]:
    """The tone of every row."""
    return table.tones or ("",) * len(table.rows)


def _set(cell: Cell, tone: str, room: float, look: Look) -> str | Flowable:
    """A cell as ReportLab takes it: plain text where it fits on one line, which is faster to set."""
    if isinstance(cell, Swatch):
        return Piece(cell, look)
    lead, text, own = _parts(cell, tone)
    face = "bold" if own in HEAVY else "regular"
    if not lead and own == tone:
        line = settable(text, face)
        if width(line, face, look.lettering("cell").size) <= room:
            return line
    body = markup(text, face)
    role = "cell quiet" if own == "quiet" else "cell"
    return Paragraph(look.bold(lead) + (f"<b>{body}</b>" if face == "bold" else body), look.paragraphs[role])


def _set_head(text: str, room: float, look: Look) -> str | Flowable:
    if look.width(text, "head") <= room:
        return settable(text, look.lettering("head").face)
    return Paragraph(look.markup(text, "head"), look.paragraphs["head"])


def _continues(table: Table, row: tuple[Cell, ...]) -> bool:
    """Whether a row goes on with what the row above names in the joined columns."""
    return table.joined > 0 and not any(row[: table.joined])


def _rules(table: Table, look: Look) -> list[tuple]:
    last = len(table.rows)
    strong, thin = look.rule("strong rule"), look.rule("thin rule")
    commands: list[tuple] = [
        ("FONT", (0, 0), (-1, -1), *look.font("cell")), ("FONT", (0, 0), (-1, 0), *look.font("head")),
        ("TEXTCOLOR", (0, 0), (-1, -1), look.ink("cell")),
        ("VALIGN", (0, 0), (-1, -1), "TOP"), ("VALIGN", (0, 0), (-1, 0), "BOTTOM"),
        ("LEFTPADDING", (0, 0), (-1, -1), CELL_X), ("RIGHTPADDING", (0, 0), (-1, -1), CELL_X),
        ("TOPPADDING", (0, 0), (-1, -1), CELL_Y), ("BOTTOMPADDING", (0, 0), (-1, -1), CELL_Y),
        ("LINEBELOW", (0, 0), (-1, 0), *strong), ("LINEBELOW", (0, last), (-1, last), *strong),
    ]
    for i, (row, tone) in enumerate(zip(table.rows, tones_of(table), strict=True), 1):
        if i > 1:
            commands.append(("LINEABOVE", (table.joined if _continues(table, row) else 0, i), (-1, i), *thin))
        if tone in HEAVY:
            commands.append(("FONTNAME", (0, i), (-1, i), look.font("head")[0]))
        if tone == "quiet":
            commands.append(("TEXTCOLOR", (0, i), (-1, i), look.ink("cell quiet")))
    return commands


def _boxes(table: Table, look: Look) -> list[tuple]:
    if not (table.boxes and table.rows):
        return []
    extra = (BOX_HEIGHT - look.font("cell")[2]) / 2
    commands: list[tuple] = [("GRID", (c, 1), (c, -1), *look.rule("box")) for c in table.boxes]
    return [*commands, ("TOPPADDING", (0, 1), (-1, -1), extra), ("BOTTOMPADDING", (0, 1), (-1, -1), extra)]


class _Grid(Grid):
    """Works out its row heights once: the width of its columns does not depend on the room it is given."""

    joined = 0

    def wrap(self, availWidth: float, availHeight: float) -> tuple[float, float]:
        """Width and height."""
        if not hasattr(self, "_wrapped"):
            self._wrapped = super().wrap(availWidth, availHeight)
        return self._wrapped

    def _rows(self, part: Grid) -> int:
        """Rows of a part, its head left out."""
        return len(part._cellvalues) - self.repeatRows

    def split(self, availWidth: float, availHeight: float) -> list[Flowable]:
        """Two parts, neither of a single row, of which the second begins by naming what it goes on with."""
        parts = super().split(availWidth, availHeight)
        if len(parts) == 2 and self._rows(parts[1]) == 1:
            parts = super().split(availWidth, parts[0].wrap(availWidth, availHeight)[1] - 1)
        if len(parts) == 2 and self._rows(parts[0]) == 1 and self.wrap(availWidth, availHeight)[1] <= MOST_WHOLE:
            return []
        if len(parts) == 2:
            above, below = parts[0]._cellvalues, list(parts[1]._cellvalues[self.repeatRows])
            for column in range(self.joined):
                below[column] = below[column] or next((row[column] for row in reversed(above) if row[column]), "")
            parts[1]._cellvalues[self.repeatRows] = below  # its own row: the table may yet be parted elsewhere
            parts[0].joined = parts[1].joined = self.joined
        return parts


def set_table(table: Table, look: Look, room: float) -> Grid:
    """A table as a flowable of the given width or less; the head repeats when it is split."""
    widths = column_widths(table, look, room)
    inner = [w - 2 * CELL_X for w in widths]
    head = [_set_head(text, w, look) for text, w in zip(table.head, inner, strict=True)]
    rows = [
        [_set(cell, tone, w, look) for cell, w in zip(row, inner, strict=True)]
        for row, tone in zip(table.rows, tones_of(table), strict=True)
    ]
    grid = _Grid([head, *rows], colWidths=widths, repeatRows=1, hAlign="LEFT", splitInRow=1,
                spaceAfter=GAP)
    grid.joined = table.joined
    grid.setStyle(TableStyle(_rules(table, look) + _boxes(table, look) + (_headless(look) if table.plain else [])))
    return grid


def _headless(look: Look) -> list[tuple]:
    """An empty head takes no room and has no rule."""
    nothing = [(side + "PADDING", (0, 0), (-1, 0), 0) for side in ("TOP", "BOTTOM")]
    thin = look.rule("thin rule")
    tiny = ("FONT", (0, 0), (-1, 0), look.font("head")[0], 0.1, 0.1)
    return [*nothing, tiny, ("LINEBELOW", (0, 0), (-1, 0), *thin), ("LINEBELOW", (0, -1), (-1, -1), *thin)]


def set_form(form: Form, look: Look, room: float) -> Grid:
    """Labels above blank boxes, in one line."""
    shares = form.shares or (1.0,) * len(form.labels)
    widths = [room * s / sum(shares) for s in shares]
    labels = [_set_head(label, w, look) for label, w in zip(form.labels, widths, strict=True)]
    blank = [""] * len(labels)
    grid = Grid([labels, blank], colWidths=widths, rowHeights=[None, FORM_BOX], hAlign="LEFT", spaceAfter=GAP)
    grid.setStyle(TableStyle([
        ("FONT", (0, 0), (-1, 0), *look.font("head")), ("GRID", (0, 1), (-1, 1), *look.rule("box")),
        ("BOTTOMPADDING", (0, 0), (-1, 0), 2), ("TOPPADDING", (0, 0), (-1, 0), 1), ("LEFTPADDING", (0, 0), (-1, -1), 1),
        ("VALIGN", (0, 0), (-1, 0), "BOTTOM"),
    ]))
    return grid
