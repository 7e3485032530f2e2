"""Two strappers in one three-core, line carried through on the third core: in and out at the first switch.

The line goes on in a connector behind the first switch and reaches the common of the last; the switched line comes
back from the common of the first. The other way about is met too: line on the first common, the
switched line carried back on the third core. Both are known by the same signs.
"""

from __future__ import annotations

from sheetgen.catalogue.methods.ports import (
    LINE,
    Join,
    JoinLaid,
    Sign,
    SwitchPlace,
    between,
    in_a_row,
    straps_run_through,
)
from sheetgen.catalogue.methods.two_strappers import line_and_switched_on_commons, straps_are_free

JOINT = "L joint"


def lay(seats: tuple[SwitchPlace, ...]) -> JoinLaid:
    """Line through a connector at the first switch to the common of the last; switched line from the first common."""
    first, last = seats[0], seats[-1]
    joint = first.joint(JOINT)
    hops = in_a_row(seats, JOINT, LINE, ends=(joint, last.port("common")))
    return JoinLaid((0, joint), (0, first.port("common")), hops, ((0, joint), *between(seats, JOINT)))


def refuses(switches: int, conduit: bool) -> str:
    """Two switches or more, in cable."""
    if conduit:
        return ("Line is carried through on the third core of a cable; in conduit the line is drawn straight to the "
                "far switch, which is two strappers with a common at each end.")
    return "" if switches > 1 else "Line is carried through to a second switch; with one switch the join is one-way."


JOIN = Join(
    "line carried through", "two strappers and the line in one three-core between the switches, line in and switched "
    "line out at the first switch", lay,
    (
        Sign("there are not two switches or more", lambda chain: chain.last > 0),
        Sign("line is not on one end common and the switched line on the other", line_and_switched_on_commons),
        Sign("no two strappers join every switch to the next", straps_run_through),
        Sign("a strapper is joined to something else too", straps_are_free),
        Sign("line does not come in where the switched line goes out",
             lambda chain: chain.line_at == chain.switched_at and chain.line_at in (0, chain.last)),
    ),
    refuses, two_ends=False, briefly=" with the line carried through",
    also=("strappers, line carried through", "two strappers with the line carried through",
          "two strappers in one three-core"),
    taught="The third core takes line on to the common of the last switch, and the strappers bring it back: line and "
           "switched line stay together in one drop, and no common is joined to another.",
)
