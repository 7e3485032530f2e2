"""What stands on a page: pieces of known height that can be parted where a sheet ends, and how they fill a height.

Every piece is set for the width it will have. Whatever is higher than a whole sheet is parted, so that none is ever
too large for paper.
"""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.pdfgen.canvas import Canvas

from sheetgen.print.canvas import colour
from sheetgen.print.pdf.lettering import SetLine
from sheetgen.print.pdf.typesetting import RuledLine, draw_line, mm, use_rule

TOLERANCE = 0.01  # points
MOST_WHOLE = 150 * mm  # what is no higher stays whole where it can
WITH_HEADING = 52 * mm  # so much of what follows a heading is kept with it


class Piece:
    """A piece of a page. `least` is a height that it surely needs, known before `height` is worked out."""

    above = 0.0  # space asked for before it
    below = 0.0
    heading = False  # stays with what follows

    @property
    def height(self) -> float:
        """In points, in the width it was set for."""
        raise NotImplementedError

    @property
    def least(self) -> float:
        """No more than the height."""
        return self.height

    def split(self, room: float, forced: bool) -> tuple[Piece, Piece | None] | None:
        """What fits the room and what goes on, if anything does; None where it should stay whole.

        With `forced` it is parted wherever it can be.
        """
        return None

    def draw(self, canvas: Canvas, x: float, top: float) -> None:
        """Paint it, its top left corner at (x, top)."""


class Space(Piece):
    """White."""

    def __init__(self, height: float):
        self._height = height

    @property
    def height(self) -> float:
        """As asked for."""
        return self._height


class HalfTurn(Space):
    """What follows begins on the other half of a card."""

    def __init__(self) -> None:
        super().__init__(0.0)


class IfRoom(Space):
    """Pieces that are left out where they do not all fit in what is left of the sheet."""

    def __init__(self, pieces: Sequence[Piece]):
        super().__init__(0.0)
        self.pieces = tuple(pieces)


class Paragraph(Piece):
    """Lines of text, with a mark beside the first."""

    def __init__(self, lines: tuple[SetLine, ...], size: float, leading: float, indent: float = 0.0,
                 mark: SetLine = ()):
        self.lines, self.size, self.leading, self.indent, self.mark = lines, size, leading, indent, mark

    @property
    def height(self) -> float:
        """Line by line."""
        return len(self.lines) * self.leading

    @property
    def blank(self) -> bool:
        """Whether it says nothing."""
        return not any(segment.text for line in self.lines for segment in line)

    def emptied(self) -> Paragraph:
        """One blank line in the same size."""
        return Paragraph(((),), self.size, self.leading)

    def split(self, room: float, forced: bool) -> tuple[Paragraph, Paragraph] | None:
        """Two lines at least on both sides, where that can be."""
        count = int((room + TOLERANCE) / self.leading)
        count = min(count, len(self.lines) - 2) if len(self.lines) > 3 else count
        if count < 2 and not forced:
            return None
        count = max(1, count)
        if count >= len(self.lines):
            return None
        first = Paragraph(self.lines[:count], self.size, self.leading, self.indent, self.mark)
        rest = Paragraph(self.lines[count:], self.size, self.leading, self.indent)
        for part in (first, rest):
            part.heading = self.heading
        first.above, rest.below = self.above, self.below
        return first, rest

    def draw(self, canvas: Canvas, x: float, top: float) -> None:
        """Each line on its baseline."""
        base = top - self.size
        draw_line(canvas, x, base, self.mark)
        for number, line in enumerate(self.lines):
            draw_line(canvas, x + self.indent, base - number * self.leading, line)


class Framed(Piece):
    """A paragraph in a frame, which may have a ground and a heavy bar at its left."""

    PAD, PAD_ABOVE, PAD_BELOW, PAD_BAR = 2.2 * mm, 1.2 * mm, 1.6 * mm, 3.2 * mm

    def __init__(self, inside: Paragraph, width: float, box: RuledLine, ground: str = "", bar: RuledLine | None = None):
        self.inside, self.width, self.box, self.ground, self.bar = inside, width, box, ground, bar

    @property
    def height(self) -> float:
        """With the white inside the frame."""
        return self.inside.height + self.PAD_ABOVE + self.PAD_BELOW

    def split(self, room: float, forced: bool) -> tuple[Framed, Framed] | None:
        """Whole, unless no sheet could hold it."""
        if not forced and self.height <= MOST_WHOLE:
            return None
        parts = self.inside.split(room - self.PAD_ABOVE - self.PAD_BELOW, forced)
        if parts is None:
            return None
        first, rest = (Framed(part, self.width, self.box, self.ground, self.bar) for part in parts)
        first.above, rest.below = self.above, self.below
        return first, rest

    def draw(self, canvas: Canvas, x: float, top: float) -> None:
        """Ground, frame, bar, words."""
        foot = top - self.height
        if self.ground:
            canvas.setFillColor(colour(self.ground))
            canvas.rect(x, foot, self.width, self.height, stroke=0, fill=1)
        use_rule(canvas, self.box)
        canvas.rect(x, foot, self.width, self.height, stroke=1, fill=0)
        if self.bar is not None:
            use_rule(canvas, self.bar)
            canvas.line(x, foot, x, top)
        self.inside.draw(canvas, x + (self.PAD_BAR if self.bar else self.PAD), top - self.PAD_ABOVE)


class Beside(Piece):
    """Stacks of pieces side by side."""

    def __init__(self, stacks: Sequence[Sequence[Piece]], offsets: Sequence[float]):
        self.stacks, self.offsets = tuple(tuple(stack) for stack in stacks), tuple(offsets)
        self._height = max((stack_height(stack) for stack in self.stacks), default=0.0)

    @property
    def height(self) -> float:
        """Of the highest stack."""
        return self._height

    def split(self, room: float, forced: bool) -> tuple[Beside, Beside] | None:
        """Whole, unless no sheet could hold it; then each stack goes on by itself."""
        if not forced and self.height <= MOST_WHOLE:
            return None
        filled = [fill(stack, room, forced) for stack in self.stacks]
        if not any(placed for placed, _ in filled) or not any(rest for _, rest in filled):
            return None
        first = Beside([[piece for _, piece in placed] for placed, _ in filled], self.offsets)
        rest = Beside([left for _, left in filled], self.offsets)
        first.above, rest.below = self.above, self.below
        return first, rest

    def draw(self, canvas: Canvas, x: float, top: float) -> None:
        """Stack by stack."""
        for stack, offset in zip(self.stacks, self.offsets, strict=True):
            draw_stack(stack, canvas, x + offset, top)


Placed = list[tuple[float, Piece]]  # how far below the top, and what


def stack_height(pieces: Sequence[Piece]) -> float:
    """Height of pieces below one another, with the spaces they ask for between them."""
    height = after = 0.0
    for number, piece in enumerate(pieces):
        height += (max(after, piece.above) if number else 0.0) + piece.height
        after = piece.below
    return height


def draw_stack(pieces: Sequence[Piece], canvas: Canvas, x: float, top: float) -> None:
    """Draw pieces below one another."""
    after = 0.0
    for number, piece in enumerate(pieces):
        top -= max(after, piece.above) if number else 0.0
        piece.draw(canvas, x, top)
        top -= piece.height
        after = piece.below


def fill(pieces: Sequence[Piece], room: float, forced: bool, used: float = 0.0,
         with_heading: float = WITH_HEADING) -> tuple[Placed, list[Piece]]:
    """Fill a height from the top: what is placed, and what goes on elsewhere.

    `used` of it is taken already. With `forced` something is placed whatever it takes to part it. So much of what
    follows a heading as `with_heading` says is kept with it.
    """
    queue, placed = list(pieces), Placed()
    after = 0.0
    while queue:
        piece = queue[0]
        top = used + (max(after, piece.above) if placed else piece.above if used else 0.0)
        left = room - top + TOLERANCE
        if isinstance(piece, IfRoom):
            queue[:1] = piece.pieces if stack_height(piece.pieces) <= left else ()
            continue
        first = forced and not any(not done.heading for _, done in placed)
        if piece.heading and (placed or used or not forced) and _needed(queue, with_heading) > left:
            break
        if piece.least <= left and piece.height <= left:
            placed.append((top, queue.pop(0)))
        else:
            parts = piece.split(left, first) if left > 0 else None
            if parts is not None and (parts[0].height <= left or (first and not placed)):
                piece = parts[0]
                placed.append((top, piece))
                queue[:1] = [part for part in parts[1:] if part is not None]
            elif forced and not placed:
                placed.append((top, queue.pop(0)))  # nothing can be parted from it; a sheet holds any single line
            if parts is None or parts[1] is not None or not placed:
                break
        used, after = top + piece.height, piece.below
    while queue and placed and placed[-1][1].heading and (not forced or not all(p.heading for _, p in placed)):
        queue.insert(0, placed.pop()[1])
    return placed, queue


def _needed(queue: list[Piece], most: float) -> float:
    """What a heading needs: its own height, that of what it stands above, or as much of it as begins a page."""
    height, after = 0.0, 0.0
    for number, piece in enumerate(queue):
        height += (max(after, piece.above) if number else 0.0) + piece.least
        after = piece.below
        if height >= most or not (piece.heading or isinstance(piece, Paragraph)):
            break
    return min(height, most)
