"""What the rules could not judge, for want of figures or of ends that somebody has seen, and what would settle it."""

from __future__ import annotations

from collections.abc import Iterable

from sheetgen.judge.case import Case
from sheetgen.judge.rules import no_supply
from sheetgen.model.reckoning import Figures, Reckoning
from sheetgen.model.wiring import Told, Wiring
from sheetgen.model.words import joined

REST_ON_ENDS = (
    "short", "earth_return", "protective_misused", "earth_terminal_live", "linked_lines", "borrowed_neutral",
    "switched_neutral", "alternate_polarity", "off_but_live", "screw_outer_line", "loose_core", "no_cpc",
    "cpc_interrupted", "cpc_of_another_way", "neutral_earth", "wrong_terminal", "lines_exchanged", "multiway",
    "bridged_switch", "never_lit", "onward_line", "no_permanent_line", "never_off", "series_lamps", "unmarked",
    "wrong_sleeve", "crowded_terminal", "fan_isolation", "two_ways", "wide_loop",
)  # rules that ask what a core is joined to


def unjudged(wiring: Wiring, reckoning: Reckoning) -> dict[str, tuple[str, ...]]:
    """Name of a rule -> what is not given, in the words of the reckoning; rules that could judge everything are left
    out. A rule named here may still have found something: what is given can be enough for that."""
    board = wiring.board
    devices = [f"device of {way.printed}" for way in board.ways
               if way.device is None and way.device_told is not Told.NONE]
    rcds = [f"RCD of {way.printed}" for way in board.ways if way.rcd_told is Told.UNKNOWN and not (
        way.device and board.earthing == "TT")]
    wanted = {
        "zs_limit": [*([] if board.earthing else ["earthing of the supply"]), *_missing(reckoning.points),
                     *_missing(reckoning.ways)],
        "volt_drop": _missing(reckoning.drops),
        "coordination": [*devices, *_missing(reckoning.cables)],
        "lampholder_device": devices,
        "no_rcd": rcds,
    }
    return {rule: tuple(dict.fromkeys(missing)) for rule, missing in wanted.items() if missing}


def resting_on_ends(case: Case) -> dict[str, tuple[str, ...]]:
    """Name of a rule -> the ends that nobody has seen, on which it rests; none where every end was seen."""
    if not (missing := _ends_not_known(case.wiring)):
        return {}
    waits = ("no_supply",) if case.wiring.cables and case.board and not no_supply.fed(case) else ()
    return dict.fromkeys((*waits, *REST_ON_ENDS), missing)


def _ends_not_known(wiring: Wiring) -> tuple[str, ...]:
    """'where cores end in Hall and Top', 'where W5 goes', 'what is joined in Bedroom'."""
    unseen = dict.fromkeys(core.cable for core, end in wiring.unknown_ends if not wiring.accessory(end.accessory).seen)
    places = dict.fromkeys(end.accessory for _, end in wiring.unknown_ends if wiring.accessory(end.accessory).seen)
    closed = [a.name for a in wiring.accessories if not a.opened and a.seen and a.name not in places]
    said = (("where cores end in", places, ""), ("where", unseen, "goes" if len(unseen) == 1 else "go"),
            ("what is joined in", closed, ""))
    return tuple(f"{before} {joined(names)} {after}".strip() for before, names, after in said if names)


def _missing(figures: Iterable[Figures]) -> list[str]:
    return [m for f in figures for m in f.missing]
