"""One function for each kind of block of a page: the pieces set for it in a given width."""

from __future__ import annotations

from dataclasses import replace

from sheetgen.draw.paper import enlargement
from sheetgen.model.page import Block, Columns, Form, Heading, Items, Picture, SideBySide, Spare, Table, Turn, Words
from sheetgen.print.pdf.columns import ColumnFlow, KeptTogether
from sheetgen.print.pdf.lettering import lines_of
from sheetgen.print.pdf.pictures import pictures_of
from sheetgen.print.pdf.pieces import Beside, Framed, HalfTurn, IfRoom, Paragraph, Piece, Space
from sheetgen.print.pdf.tables import set_form, set_tables
from sheetgen.print.pdf.typesetting import GAP, GUTTER, INDENT, Typesetting, mm

FRAMED = ("caution", "danger", "notice")  # tones that stand in a frame
ROLES = {"quiet": "small", "notice": "notice"}  # text role of a tone; "body" for the others
SPACE_ABOVE = {2: 1.8 * mm, 3: 0.8 * mm}  # a heading, by its level
LEAST_COLUMN = 75 * mm  # of several beside one another
BULLET = "\N{BULLET}"
CONTINUED = "continued"


def set_blocks(blocks: tuple[Block, ...], setting: Typesetting, room: float) -> list[Piece]:
    """The pieces of blocks, for a width in points."""
    return [piece for block in blocks for piece in setting.kept(block, room, set_block)]


def set_block(block: Block, setting: Typesetting, room: float) -> list[Piece]:
    """The pieces of one block, for a width in points."""
    match block:
        case Heading():
            return [_heading(block, setting, room)]
        case Words():
            return [_words(block, setting, room)]
        case Items():
            return _items(block, setting, room)
        case Table():
            return set_tables(block, setting, room)
        case Form():
            return [set_form(block, setting, room)]
        case Picture():
            return _picture(block, setting, room)
        case SideBySide():
            return [_side_by_side(block, setting, room)]
        case Columns():
            return _columns(block, setting, room)
        case Spare():
            return [IfRoom(set_blocks(block.blocks, setting, room))]
        case Turn():
            return [HalfTurn()]


def _heading(block: Heading, setting: Typesetting, room: float) -> Piece:
    role = f"heading {block.level}"
    runs = [setting.run(block.text, role)]
    if block.note:
        runs.append(setting.run(block.note, "small"))
    piece = Paragraph(lines_of(runs, room), runs[0].size, setting.leading(role))
    piece.above, piece.below, piece.heading = SPACE_ABOVE[block.level], 0.7 * mm, True
    return piece


def _words(block: Words, setting: Typesetting, room: float) -> Piece:
    role = ROLES.get(block.tone, "body")
    text = setting.run(block.text, role, "bold" if block.tone == "strong" else "")
    lead = replace(setting.run(block.lead, role, "bold"), ends_line=block.tone == "notice")
    inside = room
    if block.tone in FRAMED:
        inside -= Framed.PAD + (Framed.PAD_BAR if block.tone == "danger" else Framed.PAD)
    lines = lines_of([lead, text] if block.lead else [text], inside, centred=role == "notice")
    paragraph = Paragraph(lines, text.size, setting.leading(role))
    if block.tone in FRAMED:
        return _framed(paragraph, block.tone, setting, room)
    paragraph.below = GAP * 0.7
    return paragraph


def _framed(paragraph: Paragraph, tone: str, setting: Typesetting, room: float) -> Piece:
    """A caution or notice in a frame; a danger with a heavy bar at its left, plain to see in black and white."""
    bar = setting.rule(tone) if tone == "danger" else None
    box = setting.rule("caution" if tone == "danger" else tone)
    piece = Framed(paragraph, room, box, setting.fill(tone), bar)
    piece.above, piece.below = GAP / 2, GAP
    return piece


def _items(block: Items, setting: Typesetting, room: float) -> list[Piece]:
    pieces: list[Piece] = []
    for number, item in enumerate(block.items, 1):
        run = setting.run(item, "body")
        mark = lines_of([setting.run(f"{number}." if block.numbered else BULLET, "body")], INDENT)[0]
        piece = Paragraph(lines_of([run], room - INDENT), run.size, setting.leading("body"), INDENT, mark)
        piece.below = 0.9 * mm
        pieces.append(piece)
    return [*pieces, Space(GAP / 2)] if pieces else []


def _picture(block: Picture, setting: Typesetting, room: float) -> list[Piece]:
    alike = block.alike or (block.drawing,)
    scale = min(enlargement(d, setting.style) for d in alike) if block.enlarge else block.scale
    pieces = pictures_of(block.drawing, setting, room, scale)
    pieces[-1].below = 0.5 * mm  # a drawing has white around it already
    if not block.caption:
        return pieces
    run = setting.run(block.caption, "small")
    return [*pieces, Paragraph(lines_of([run], room), run.size, setting.leading("small"))]


def _columns(block: Columns, setting: Typesetting, room: float) -> list[Piece]:
    count = max(1, min(block.count, int((room + GUTTER) // (LEAST_COLUMN + GUTTER))))
    column = (room - GUTTER * (count - 1)) / count
    groups = [KeptTogether(set_blocks(group, setting, column), _again(block, group, setting, column))
              for group in block.groups]
    return [ColumnFlow(groups, count, column, block.loose, block.whole), Space(GAP)] if groups else []


def _again(block: Columns, group: tuple[Block, ...], setting: Typesetting, room: float) -> Piece | None:
    """The heading of a group once more, for what goes on elsewhere."""
    head = group[0] if group else None
    return _heading(replace(head, note=CONTINUED), setting, room) if block.whole and isinstance(head, Heading) else None


def _side_by_side(block: SideBySide, setting: Typesetting, room: float) -> Piece:
    shares = block.shares or (1.0,) * len(block.blocks)
    usable = room - GUTTER * (len(shares) - 1)
    widths = [usable * s / sum(shares) for s in shares]
    offsets = [sum(widths[:i]) + GUTTER * i for i in range(len(widths))]
    stacks = [set_blocks(blocks, setting, w) for blocks, w in zip(block.blocks, widths, strict=True)]
    piece = Beside(stacks, offsets)
    piece.below = GAP
    return piece
