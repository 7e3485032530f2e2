"""Description to Wiring: names get meaning, and every problem is found at once.

Refused carries all problems of the text, those of shape found earlier included, in file order.
"""

from __future__ import annotations

from collections.abc import Mapping

from sheetgen.model.description import Description
from sheetgen.model.problems import Refused
from sheetgen.model.style import ColourSet
from sheetgen.model.wiring import Status, Wiring
from sheetgen.read.description_to_wiring.accessories import accessories_of
from sheetgen.read.description_to_wiring.board import board_of
from sheetgen.read.description_to_wiring.by_method import lay_methods
from sheetgen.read.description_to_wiring.cables import cables_of
from sheetgen.read.description_to_wiring.ledger import DEFAULT_COLOURS, Ledger


def description_to_wiring(description: Description, sets: Mapping[str, ColourSet]) -> Wiring:
    """Resolve a description against the catalogues and the colour sets known."""
    ledger = Ledger(description, sets)
    content = description.content
    colours = ledger.colour_set(content.colours, "colours") or DEFAULT_COLOURS
    lay_methods(ledger, colours)
    board, ways = board_of(ledger)
    accessories, flexes = accessories_of(ledger, ways)
    cables, accessories = cables_of(ledger, accessories, colours)
    ledger.nothing_to_draw(cables + flexes)
    if ledger.problems:
        raise Refused(dict.fromkeys(ledger.problems))
    return Wiring(
        job=content.job,
        accessories=accessories,
        cables=cables + flexes,
        board=board,
        place=content.place,
        drawn_by=content.drawn.by,
        drawn_on=content.drawn.on,
        colours=colours,
        notes=tuple(content.notes),
        status=Status(content.status) if content.status else None,
    )
