"""How the switches of a row are joined: the join of the catalogue whose signs all hold, or the nearest one."""

from __future__ import annotations

from dataclasses import dataclass

from sheetgen.catalogue import methods
from sheetgen.catalogue.methods.ports import Join
from sheetgen.judge.methods.chains import SwitchRow


@dataclass(frozen=True)
class Known:
    """What was recognised; where nothing was, what it is near and why it is not that."""

    name: str = ""
    says: str = ""  # the join or loop in the words of a record
    nearest: str = ""  # the name of the nearest, where `name` is empty
    but: tuple[str, ...] = ()  # what does not hold of the nearest, or why nothing is near


def join_of(row: SwitchRow) -> Known:
    """The join of a row of switches."""
    if row.chain is None:
        return Known(but=(row.why_not,))
    amiss = _lamps_amiss(row)
    tries = [(join, [sign.amiss for sign in join.signs if not sign.holds(row.chain)]) for join in _possible(row)]
    join, failing = min(tries, key=lambda tried: len(tried[1]))
    if failing or amiss:
        return Known(nearest=join.name, but=(*failing, *amiss))
    return Known(join.name, join.says)


def _possible(row: SwitchRow) -> list[Join]:
    """The joins that so many switches can have, in the order of the catalogue."""
    return [join for join in methods.JOINS if not join.refuses(len(row.seats), False)]


def _lamps_amiss(row: SwitchRow) -> tuple[str, ...]:
    """Every lamp lies between one switched line and neutral."""
    if not row.group.lamps:
        return ("it switches no lamp",)
    if None in row.neutral:
        return ("a lamp does not lie between the switched line and neutral",)
    return ()
