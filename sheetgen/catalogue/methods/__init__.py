"""The catalogue of wiring methods: where line and neutral loop, times how the switches are joined."""

from __future__ import annotations

from sheetgen.catalogue.methods import (
    at_joint_box,
    at_rose,
    at_switch,
    conversion,
    in_first_out_last,
    line_at_switches,
    line_carried_through,
    one_way,
    two_strappers,
)
from sheetgen.catalogue.methods.ports import Join, Loop

LOOPS: tuple[Loop, ...] = (
    at_rose.LOOP,
    at_switch.LOOP,
    at_joint_box.LOOP,
    line_at_switches.LOOP,
)
JOINS: tuple[Join, ...] = (
    one_way.JOIN,
    conversion.JOIN,
    in_first_out_last.JOIN,
    two_strappers.JOIN,
    line_carried_through.JOIN,
)
SWITCHING = ("one-way", "two-way", "intermediate")  # one switch, two, three or more


def find_loop(word: str) -> Loop | None:
    """The loop whose name or everyday spelling this is, or None."""
    return next((loop for loop in LOOPS if _folded(word) in (loop.name, *loop.also)), None)


def find_join(word: str) -> Join | None:
    """The join whose name or everyday spelling this is, or None."""
    return next((join for join in JOINS if _folded(word) in map(_folded, (join.name, *join.also))), None)


def switching_of(switches: int) -> str:
    """What the trade calls a circuit of so many switches."""
    return SWITCHING[min(switches, 3) - 1]


def usual_join(switches: int, conduit: bool) -> Join:
    """The join where none is named: one-way; in conduit two strappers; in cable conversion."""
    if switches == 1:
        return one_way.JOIN
    return two_strappers.JOIN if conduit else conversion.JOIN


def refusal(loop: Loop, join: Join, switches: int, conduit: bool) -> str:
    """Why the trade would not wire this, or ''."""
    return join.refuses(switches, conduit) or loop.refuses(join, conduit) or loop.warns(join, conduit)


def bad_practice(loop: Loop, join: Join, switches: int, conduit: bool) -> str:
    """Why it is refused, where it would work and is refused as bad practice alone, so that it may be taught; or ''."""
    return "" if join.refuses(switches, conduit) or loop.refuses(join, conduit) else loop.warns(join, conduit)


def _folded(word: str) -> str:
    return " ".join(word.casefold().replace("_", " ").split())
