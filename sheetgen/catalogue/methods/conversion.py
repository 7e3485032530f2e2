"""In and out at the first switch, three wires on to the second: how a one-way light is made two-way.

The commons are joined; line is on one strapper and the switched line on the other. The lamp lights when the
switches differ. Intermediates break the strappers; the common core runs past them in a connector.
"""

from __future__ import annotations

from sheetgen.catalogue.methods.ports import (
    Chain,
    Join,
    JoinLaid,
    Sign,
    SwitchPlace,
    between,
    in_a_row,
    straps_run_through,
)


def lay(seats: tuple[SwitchPlace, ...]) -> JoinLaid:
    """Line on strap 1 and switched line on strap 2 of the first switch."""
    first, last = seats[0], seats[-1]
    hops = in_a_row(seats, "COM joint", ends=(first.port("common"), last.port("common")))
    return JoinLaid((0, first.port("strap 1")), (0, first.port("strap 2")), hops, between(seats, "COM joint"))


def refuses(switches: int, conduit: bool) -> str:
    """Two switches or more."""
    return "" if switches > 1 else "A conversion joins two switches or more; with one switch the join is one-way."


def commons_joined(chain: Chain) -> bool:
    """The commons of the first and the last switch are one net, and no rail."""
    common = chain.commons[0]
    return common is not None and common == chain.commons[-1] and common not in chain.line | chain.switched


def line_and_switched_on_straps(chain: Chain) -> bool:
    """At one end of the row one strapper is line and the other the switched line."""
    ends = (chain.straps_out[0], chain.straps_in[-1])
    return any(len(end & chain.line) == 1 and len(end & chain.switched) == 1 for end in ends)


JOIN = Join(
    "conversion", "three wires between the switches, line in and switched line out at the first switch", lay,
    (
        Sign("there are not two switches or more", lambda chain: chain.last > 0),
        Sign("the commons are not joined to each other alone", commons_joined),
        Sign("no two strappers join every switch to the next", straps_run_through),
        Sign("line is not on one strapper and the switched line on the other", line_and_switched_on_straps),
        Sign("line does not come in where the switched line goes out",
             lambda chain: chain.line_at == chain.switched_at and chain.line_at in (0, chain.last)),
    ),
    refuses, two_ends=False, briefly=" by conversion",
    also=("by conversion", "three wires, in and out at the first", "in and out at the first", "converted"),
    taught="So a light with one switch gets more: the old drop stays, and three wires go on to each further "
           "switch. The commons of the ends are joined to one another; line and switched line are on the strappers.",
)
