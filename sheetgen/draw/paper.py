"""What a sheet of paper leaves a drawing, and how much larger a small drawing may be printed."""

from __future__ import annotations

from sheetgen.model.drawing import Drawing
from sheetgen.model.geometry import MM
from sheetgen.model.style import Style


def drawing_space(style: Style) -> tuple[int, int]:
    """Width and height that margins, title and legend leave a drawing's ink, hundredths of a millimetre."""
    paper, around = style.paper, 2 * style.measures["drawing margin"]
    width = (paper.width - 2 * paper.margin) * MM - around
    return width, (paper.height - 2 * paper.margin) * MM - style.measures["title and legend"] - around


def enlargement(drawing: Drawing, style: Style, most: float = 1.5) -> float:
    """How many times its own size a drawing may be printed so that it fills its sheet: 1 to `most`."""
    width, height = drawing_space(style)
    around = 2 * style.measures["drawing margin"]
    return max(1.0, min(most, (width + around) / drawing.width, (height + around) / drawing.height))
