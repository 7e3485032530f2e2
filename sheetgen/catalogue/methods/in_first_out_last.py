"""In at the first switch, out at the last, three wires between: the commons joined, line and lamp on the strappers."""

from __future__ import annotations

from sheetgen.catalogue.methods.conversion import commons_joined, line_and_switched_on_straps
from sheetgen.catalogue.methods.ports import Join, JoinLaid, Sign, SwitchPlace, in_a_row, straps_run_through


def lay(seats: tuple[SwitchPlace, ...]) -> JoinLaid:
    """Line on strap 1 of the first switch, switched line from strap 2 of the second."""
    first, last = seats
    hops = in_a_row(seats, "COM joint", ends=(first.port("common"), last.port("common")))
    return JoinLaid((0, first.port("strap 1")), (1, last.port("strap 2")), hops)


def refuses(switches: int, conduit: bool) -> str:
    """Exactly two switches: the reason is electrical."""
    if switches > 2:
        return ("In at the first switch and out at the last with three wires joins two switches only: an intermediate "
                "between them, once crossed, would join line straight to the switched line.")
    return "" if switches == 2 else "In at the first switch and out at the last needs two switches."


JOIN = Join(
    "in first, out last", "three wires between the switches, switched line out at the second switch", lay,
    (
        Sign("there are not two switches", lambda chain: chain.last == 1),
        Sign("the commons are not joined to each other alone", commons_joined),
        Sign("no two strappers join the switches", straps_run_through),
        Sign("line is not on one strapper and the switched line on the other", line_and_switched_on_straps),
        Sign("line and switched line are not at opposite ends",
             lambda chain: {chain.line_at, chain.switched_at} == {0, chain.last}),
    ),
    refuses, two_ends=True, briefly=", in at the first switch and out at the last",
    also=("in at the first, out at the last", "three wires, out at the last", "in at the first out at the last",
          "out at the second"),
    taught="The commons are joined to one another as in a conversion, but the switched line leaves at the second "
           "switch. With an intermediate it cannot be done: crossed, that would join line to the switched line.",
)
