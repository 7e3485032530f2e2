"""Where things go on paper: the edge of a sheet, the two halves of a card. Points, from the bottom left."""

from __future__ import annotations

from dataclasses import dataclass

from sheetgen.model.style import Style
from sheetgen.print.pdf.typesetting import mm

HEAD_DEPTH, FOOT_DEPTH = 9 * mm, 6 * mm  # what the edge of a full sheet takes, above and below
A5 = 148.5 * mm, 210 * mm  # half of an A4 sheet, upright
CARD_MARGIN = 8.5 * mm
CARD_HEAD, CARD_FOOT = 13 * mm, 10.5 * mm
FULL, CARD = "full", "card"


@dataclass(frozen=True)
class PaperFrame:
    """A part of a sheet that pieces fill from the top."""

    x: float
    top: float
    width: float
    height: float


@dataclass(frozen=True)
class PaperSheet:
    """A sheet of paper, in points."""

    width: float
    height: float
    margin: float

    @property
    def card(self) -> tuple[float, float]:
        """The bottom left corner of the two halves of a card, in the middle of the paper."""
        return (self.width - 2 * A5[0]) / 2, (self.height - A5[1]) / 2

    def room(self, kind: str) -> float:
        """The width of what stands in a frame."""
        return A5[0] - 2 * CARD_MARGIN if kind == CARD else self.width - 2 * self.margin

    def frames(self, kind: str) -> tuple[PaperFrame, ...]:
        """The frames of a sheet: one, or the two halves of a card."""
        if kind == FULL:
            height = self.height - 2 * self.margin - HEAD_DEPTH - FOOT_DEPTH
            return (PaperFrame(self.margin, self.margin + FOOT_DEPTH + height, self.room(FULL), height),)
        (x, y), height = self.card, A5[1] - 2 * CARD_MARGIN - CARD_HEAD - CARD_FOOT
        top = y + CARD_FOOT + CARD_MARGIN + height
        return tuple(PaperFrame(x + i * A5[0] + CARD_MARGIN, top, self.room(CARD), height) for i in (0, 1))


def paper_of(style: Style) -> PaperSheet:
    """The paper of a style."""
    return PaperSheet(style.paper.width * mm, style.paper.height * mm, style.paper.margin * mm)
