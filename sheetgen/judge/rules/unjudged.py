"""What the rules that need figures could not judge, and which of them nothing given settles."""

from __future__ import annotations

from collections.abc import Iterable

from sheetgen.model.reckoning import Figures, Reckoning
from sheetgen.model.wiring import Wiring


def unjudged(wiring: Wiring, reckoning: Reckoning) -> dict[str, tuple[str, ...]]:
    """Name of a rule -> what is not given, in the words of the reckoning; rules that could judge everything are left
    out. A rule named here may still have found something: what is given can be enough for that."""
    board = wiring.board
    devices = [f"device of {way.accessory}" for way in board.ways if way.device is None]
    rcds = [f"RCD of {way.accessory}" for way in board.ways if way.device is None and way.rcd is None]
    wanted = {
        "zs_limit": [*([] if board.earthing else ["earthing of the supply"]), *_missing(reckoning.points),
                     *_missing(reckoning.ways)],
        "volt_drop": _missing(reckoning.drops),
        "coordination": [*devices, *_missing(reckoning.cables)],
        "lampholder_device": devices,
        "no_rcd": rcds,
    }
    return {rule: tuple(dict.fromkeys(missing)) for rule, missing in wanted.items() if missing}


def _missing(figures: Iterable[Figures]) -> list[str]:
    return [m for f in figures for m in f.missing]
