"""The earth electrode of a TT supply with a resistance that may not stay as it is."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.words import plain

MOST = 200  # ohm: BS 7671 Table 41.5, note 2: a higher value may not be stable


def check(case: Case) -> Iterator[Finding]:
    """One finding for the board."""
    board = case.wiring.board
    if board.earthing == "TT" and board.ze is not None and board.ze > MOST and board.ways:
        yield Finding(
            "electrode", Gravity.PUT_RIGHT,
            says=f"The loop through the earth electrode measures {plain(board.ze)} ohm.",
            means=f"Above {MOST} ohm an electrode may not be stable: in a dry summer or a frost it may rise "
            "until the RCD no longer opens in time.",
            advice="Have the electrode improved, and measure again.",
            accessory=board.ways[0].accessory, clause="BS 7671 Table 41.5",
        )


RULE = Rule("electrode", "earth electrode of more than 200 ohm", check)
