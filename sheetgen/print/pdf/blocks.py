"""One function for each kind of block of a page: what ReportLab sets for it in a given width."""

from __future__ import annotations

from reportlab.lib.units import mm
from reportlab.platypus import CondPageBreak, Flowable, Paragraph, Spacer, TableStyle
from reportlab.platypus import Table as Grid
from reportlab.platypus.doctemplate import ActionFlowable, FrameActionFlowable

from sheetgen.draw.paper import enlargement
from sheetgen.model.page import Block, Columns, Form, Heading, Items, Picture, SideBySide, Spare, Table, Turn, Words
from sheetgen.print.pdf.columns import ENDLESS, ColumnFlow, stack_height
from sheetgen.print.pdf.ink import Inked
from sheetgen.print.pdf.look import GAP, GUTTER, Look
from sheetgen.print.pdf.place import FIRST_HALF
from sheetgen.print.pdf.tables import set_form, set_table

FRAMED = ("caution", "danger", "notice")  # tones that stand in a frame
ROLES = {"quiet": "small", "notice": "notice"}  # text role of a tone; "body" for the others
WITH_HEADING = 52 * mm  # so much of what follows a heading is kept with it
MOST_WHOLE = 150 * mm  # what is higher may be parted between sheets
SPACE_ABOVE = {2: 1.8 * mm, 3: 0.8 * mm}  # a heading, by its level


def set_flow(blocks: tuple[Block, ...], look: Look, room: float) -> list[Flowable]:
    """The flowables of a page, for a width in points. A heading stays with the beginning of what follows it."""
    flowables: list[Flowable] = []
    after: list[Flowable] = []  # what stands below, down to the first that is neither heading nor words
    for block in reversed(blocks):
        here = set_block(block, look, room)
        after = [*here, *after] if isinstance(block, Heading | Words) else here
        needed = min(stack_height(after, room), WITH_HEADING) if isinstance(block, Heading) else 0
        flowables = [*([CondPageBreak(needed)] if needed else []), *here, *flowables]
    return flowables


def set_blocks(blocks: tuple[Block, ...], look: Look, room: float) -> list[Flowable]:
    """The flowables of blocks within a block."""
    return [flowable for block in blocks for flowable in set_block(block, look, room)]


def set_block(block: Block, look: Look, room: float) -> list[Flowable]:
    """The flowables of one block, for a width in points."""
    match block:
        case Heading():
            return [_heading(block, look)]
        case Words():
            return [_words(block, look, room)]
        case Items():
            return _items(block, look)
        case Table():
            return [set_table(block, look, room)]
        case Form():
            return [set_form(block, look, room)]
        case Picture():
            return _picture(block, look)
        case SideBySide():
            return [_row(block, look, room)]
        case Columns():
            return _columns(block, look, room)
        case Spare():
            return [IfRoom(set_blocks(block.blocks, look, room))]
        case Turn():
            return [HalfBreak()]


class _Whole(Grid):
    """Stays on one sheet, unless no sheet could hold it."""

    def split(self, availWidth: float, availHeight: float) -> list[Flowable]:
        """In two, or not at all."""
        too_high = self.wrap(availWidth, ENDLESS)[1] > MOST_WHOLE
        return super().split(availWidth, availHeight) if too_high else []


class HalfBreak(ActionFlowable):
    """Goes on at the other half of a card; does nothing where the first half has already run over into it."""

    def apply(self, doc) -> None:
        """Called by the flow."""
        if doc.frame.id == FIRST_HALF:
            doc.handle_frameEnd()


class IfRoom(FrameActionFlowable):
    """Flowables that are left out where they do not all fit in what is left of the frame."""

    def __init__(self, flowables: list[Flowable]):
        self.flowables = flowables

    def frameAction(self, frame) -> None:
        """Called by the frame; nothing else is asked of the flow where there is no room."""
        if stack_height(self.flowables, frame._aW) <= frame._y - frame._y1p:
            frame.add_generated_content(*self.flowables)

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Counts for nothing where a page is measured."""
        return 0, 0


def _heading(block: Heading, look: Look) -> Flowable:
    role = f"heading {block.level}"
    name, size, _ = look.font("small")
    note = f'  <font name="{name}" size="{size}">{look.markup(block.note, "small")}</font>' if block.note else ""
    paragraph = Paragraph(look.markup(block.text, role) + note, look.paragraphs[role])
    paragraph.spaceBefore, paragraph.spaceAfter, paragraph.heading = SPACE_ABOVE[block.level], 0.7 * mm, True
    return paragraph


def _words(block: Words, look: Look, room: float) -> Flowable:
    role = ROLES.get(block.tone, "body")
    text = look.bold(block.text) if block.tone == "strong" else look.markup(block.text, role)
    lead = look.bold(block.lead) + ("<br/>" if block.lead and block.tone == "notice" else "")
    paragraph = Paragraph(lead + text, look.paragraphs[role])
    if block.tone in FRAMED:
        return _framed(paragraph, block.tone, look, room)
    paragraph.spaceAfter = GAP * 0.7
    return paragraph


def _framed(paragraph: Paragraph, tone: str, look: Look, room: float) -> Flowable:
    """A caution or notice in a frame; a danger with a heavy bar at its left, plain to see in black and white."""
    grid = _Whole([[paragraph]], colWidths=[room], hAlign="LEFT", splitInRow=1, spaceBefore=GAP / 2, spaceAfter=GAP)
    pad = 2.2 * mm
    commands = [("LEFTPADDING", (0, 0), (-1, -1), pad), ("RIGHTPADDING", (0, 0), (-1, -1), pad),
                ("TOPPADDING", (0, 0), (-1, -1), 1.2 * mm), ("BOTTOMPADDING", (0, 0), (-1, -1), 1.6 * mm)]
    if tone == "danger":
        commands += [("BOX", (0, 0), (-1, -1), *look.rule("caution")),
                     ("LINEBEFORE", (0, 0), (0, -1), *look.rule(tone)), ("LEFTPADDING", (0, 0), (-1, -1), 3.2 * mm)]
    else:
        commands.append(("BOX", (0, 0), (-1, -1), *look.rule(tone)))
    if look.fill(tone) is not None:
        commands.append(("BACKGROUND", (0, 0), (-1, -1), look.fill(tone)))
    grid.setStyle(TableStyle(commands))
    return grid


def _items(block: Items, look: Look) -> list[Flowable]:
    kind = look.paragraphs["item"]
    marks = [f"{i}." if block.numbered else "\N{BULLET}" for i in range(1, len(block.items) + 1)]
    texts = [look.markup(item, "body") for item in block.items]
    flowables: list[Flowable] = [Paragraph(t, kind, bulletText=m) for t, m in zip(texts, marks, strict=True)]
    return [*flowables, Spacer(0, GAP / 2)] if flowables else []


def _picture(block: Picture, look: Look) -> list[Flowable]:
    scale = enlargement(block.drawing, look.style) if block.enlarge else block.scale
    inked = Inked(block.drawing, look, scale)
    inked.spaceAfter = 0.5 * mm  # a drawing has white around it already
    if not block.caption:
        return [inked]
    return [inked, Paragraph(look.markup(block.caption, "small"), look.paragraphs["small"])]


def _columns(block: Columns, look: Look, room: float) -> list[Flowable]:
    column = (room - GUTTER * (block.count - 1)) / block.count
    groups = [set_blocks(group, look, column) for group in block.groups]
    return [ColumnFlow(groups, block.count, block.loose), Spacer(0, GAP)] if groups else []


def _row(block: SideBySide, look: Look, room: float) -> Flowable:
    shares = block.shares or (1.0,) * len(block.blocks)
    usable = room - GUTTER * (len(shares) - 1)
    widths = [usable * s / sum(shares) for s in shares]
    cells = [set_blocks(blocks, look, w) for blocks, w in zip(block.blocks, widths, strict=True)]
    grid = _Whole([cells], colWidths=[w + GUTTER for w in widths[:-1]] + widths[-1:], hAlign="LEFT", splitInRow=1)
    grid.setStyle(TableStyle([
        ("VALIGN", (0, 0), (-1, -1), "TOP"), ("LEFTPADDING", (0, 0), (-1, -1), 0), ("TOPPADDING", (0, 0), (-1, -1), 0),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 0), ("RIGHTPADDING", (0, 0), (-2, -1), GUTTER),
        ("RIGHTPADDING", (-1, 0), (-1, -1), 0),
    ]))
    grid.spaceAfter = GAP
    return grid
