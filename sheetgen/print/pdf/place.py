"""Where things go on paper: the edge of a sheet, the two halves of a card. Points, from the bottom left."""

from __future__ import annotations

from dataclasses import dataclass

from reportlab.lib.units import mm
from reportlab.platypus import Frame, PageTemplate

from sheetgen.model.style import Style

HEAD_DEPTH, FOOT_DEPTH = 9 * mm, 6 * mm  # what the edge of a full sheet takes, above and below
A5 = 148.5 * mm, 210 * mm  # half of an A4 sheet, upright
CARD_MARGIN = 8.5 * mm
CARD_HEAD, CARD_FOOT = 13 * mm, 10.5 * mm
FULL, CARD = "full", "card"
FIRST_HALF, SECOND_HALF = "first half", "second half"


@dataclass(frozen=True)
class Place:
    """A sheet of paper."""

    width: float
    height: float
    margin: float

    @property
    def card(self) -> tuple[float, float]:
        """The bottom left corner of the two halves of a card, in the middle of the paper."""
        return (self.width - 2 * A5[0]) / 2, (self.height - A5[1]) / 2

    def room(self, frame: str) -> float:
        """The width of what stands in a frame."""
        return A5[0] - 2 * CARD_MARGIN if frame == CARD else self.width - 2 * self.margin

    def frames(self) -> list[PageTemplate]:
        """The two ways to fill a sheet: one frame, or the two halves of a card."""
        none = {"leftPadding": 0, "rightPadding": 0, "topPadding": 0, "bottomPadding": 0}
        height = self.height - 2 * self.margin - HEAD_DEPTH - FOOT_DEPTH
        full = Frame(self.margin, self.margin + FOOT_DEPTH, self.room(FULL), height, id="all", **none)
        x, y = self.card
        height = A5[1] - 2 * CARD_MARGIN - CARD_HEAD - CARD_FOOT
        halves = [
            Frame(x + i * A5[0] + CARD_MARGIN, y + CARD_FOOT + CARD_MARGIN, self.room(CARD), height, id=name, **none)
            for i, name in enumerate((FIRST_HALF, SECOND_HALF))
        ]
        return [PageTemplate(FULL, [full]), PageTemplate(CARD, halves)]


def place_of(style: Style) -> Place:
    """The paper of a style."""
    return Place(style.paper.width * mm, style.paper.height * mm, style.paper.margin * mm)
