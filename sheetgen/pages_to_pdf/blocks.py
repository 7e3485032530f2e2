"""One function for each kind of block of a page: what ReportLab sets for it in a given width."""

from __future__ import annotations

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, Paragraph, Spacer, TableStyle
from reportlab.platypus import Table as Grid
from reportlab.platypus.doctemplate import ActionFlowable

from sheetgen.model.page import Block, Columns, Form, Heading, Items, Picture, Row, Table, Turn, Words
from sheetgen.model.style import Style
from sheetgen.pages_to_pdf import look
from sheetgen.pages_to_pdf.columns import ColumnFlow
from sheetgen.pages_to_pdf.faces import BOLD, markup
from sheetgen.pages_to_pdf.ink import Inked
from sheetgen.pages_to_pdf.tables import set_form, set_table

FIRST_HALF = "first half"  # name of the left frame of a card
FRAMED = {"caution": 0.8, "danger": 0.8, "notice": 1.6}  # tones set in a frame, and the width of its line


def set_blocks(blocks: tuple[Block, ...], style: Style, room: float) -> list[Flowable]:
    """All flowables of some blocks, for a width in points."""
    return [flowable for block in blocks for flowable in set_block(block, style, room)]


def set_block(block: Block, style: Style, room: float) -> list[Flowable]:
    """The flowables of one block, for a width in points."""
    match block:
        case Heading():
            return [_heading(block)]
        case Words():
            return [_words(block, style, room)]
        case Items():
            return _items(block)
        case Table():
            return [set_table(block, style, room)]
        case Form():
            return [set_form(block, room)]
        case Picture():
            return _picture(block, style)
        case Row():
            return [_row(block, style, room)]
        case Columns():
            column = (room - look.GUTTER * (block.count - 1)) / block.count
            groups = [set_blocks(group, style, column) for group in block.groups]
            return [ColumnFlow(groups, block.count), Spacer(0, look.GAP)] if groups else []
        case Turn():
            return [HalfBreak()]


class HalfBreak(ActionFlowable):
    """Goes on at the other half of a card; does nothing where the first half has already run over into it."""

    def apply(self, doc) -> None:
        if doc.frame.id == FIRST_HALF:
            doc.handle_frameEnd()


def _heading(block: Heading) -> Flowable:
    kind = look.paragraphs()[f"heading {block.level}"]
    space = {1: 0, 2: 2.4 * mm, 3: 1.2 * mm}[block.level]
    note = f' <font name="sheet" size="{look.SMALL}">{markup(block.note)}</font>' if block.note else ""
    paragraph = Paragraph(markup(block.text, BOLD) + note, kind)
    paragraph.spaceBefore, paragraph.spaceAfter, paragraph.keepWithNext = space, 1.0 * mm, 1
    return paragraph


def _words(block: Words, style: Style, room: float) -> Flowable:
    lead = f"<b>{markup(block.lead, BOLD)}</b> " if block.lead else ""
    font = BOLD if block.tone == "strong" else "sheet"
    paragraph = Paragraph(lead + markup(block.text, font), look.paragraphs()[block.tone])
    if block.tone not in FRAMED:
        paragraph.spaceAfter = look.GAP * 0.7
        return paragraph
    return _framed(paragraph, block.tone, style, room)


def _framed(paragraph: Paragraph, tone: str, style: Style, room: float) -> Flowable:
    """A caution or notice in a frame; a danger with a heavy bar at its left, plain to see in black and white."""
    grid = Grid([[paragraph]], colWidths=[room], hAlign="LEFT", spaceBefore=look.GAP / 2, spaceAfter=look.GAP)
    pad = 2.2 * mm
    commands = [("BOX", (0, 0), (-1, -1), FRAMED[tone], look.STRONG_RULE),
                ("LEFTPADDING", (0, 0), (-1, -1), pad), ("RIGHTPADDING", (0, 0), (-1, -1), pad),
                ("TOPPADDING", (0, 0), (-1, -1), 1.3 * mm), ("BOTTOMPADDING", (0, 0), (-1, -1), 1.7 * mm)]
    if tone == "danger":
        commands += [("LINEBEFORE", (0, 0), (0, -1), 4, look.INK), ("LEFTPADDING", (0, 0), (-1, -1), 3.4 * mm)]
    if tone == "notice" and style.name != "mono":
        commands.append(("BACKGROUND", (0, 0), (-1, -1), look.NOTICE_FILL))
    grid.setStyle(TableStyle(commands))
    return grid


def _items(block: Items) -> list[Flowable]:
    kind = look.paragraphs()["item"]
    marks = [f"{i}." if block.numbered else "\N{BULLET}" for i in range(1, len(block.items) + 1)]
    flowables: list[Flowable] = [
        Paragraph(markup(item), kind, bulletText=mark) for item, mark in zip(block.items, marks, strict=True)
    ]
    return [*flowables, Spacer(0, look.GAP / 2)] if flowables else []


def _picture(block: Picture, style: Style) -> list[Flowable]:
    inked = Inked(block.drawing, style, block.scale)
    if not block.caption:
        return [inked]
    return [inked, Paragraph(markup(block.caption), look.paragraphs()["caption"])]


def _row(block: Row, style: Style, room: float) -> Flowable:
    shares = block.shares or (1.0,) * len(block.blocks)
    usable = room - look.GUTTER * (len(shares) - 1)
    widths = [usable * s / sum(shares) for s in shares]
    cells = [set_blocks(blocks, style, w) for blocks, w in zip(block.blocks, widths, strict=True)]
    padded = [w + look.GUTTER for w in widths[:-1]] + widths[-1:]
    grid = Grid([cells], colWidths=padded, hAlign="LEFT")
    grid.setStyle(TableStyle([
        ("VALIGN", (0, 0), (-1, -1), "TOP"), ("LEFTPADDING", (0, 0), (-1, -1), 0), ("TOPPADDING", (0, 0), (-1, -1), 0),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 0), ("RIGHTPADDING", (0, 0), (-2, -1), look.GUTTER),
        ("RIGHTPADDING", (-1, 0), (-1, -1), 0),
    ]))
    return grid
