"""Two strappers with a common at each end: line on the first common, switched line from the last."""

from __future__ import annotations

from sheetgen.catalogue.methods.ports import Chain, Join, JoinLaid, Sign, SwitchPlace, in_a_row, straps_run_through


def lay(seats: tuple[SwitchPlace, ...]) -> JoinLaid:
    """Line on the common of the first switch, switched line from the common of the last."""
    last = len(seats) - 1
    return JoinLaid((0, seats[0].port("common")), (last, seats[last].port("common")), in_a_row(seats))


def refuses(switches: int, conduit: bool) -> str:
    """Two switches or more."""
    return "" if switches > 1 else "Two strappers join two switches or more; with one switch the join is one-way."


def line_and_switched_on_commons(chain: Chain) -> bool:
    """One end common is line, the other is the switched line."""
    ends = (chain.commons[0], chain.commons[-1])
    return any(a in chain.line and b in chain.switched for a, b in (ends, ends[::-1]))


def straps_are_free(chain: Chain) -> bool:
    """No strapper is joined to a rail, to the lamp or to a common."""
    nets = frozenset().union(*chain.straps_in, *chain.straps_out)
    return not nets & (chain.line | chain.switched) and not nets & set(chain.commons)


JOIN = Join(
    "two strappers", "two strappers between the switches, line on the common of the first switch and switched line "
    "from the common of the last", lay,
    (
        Sign("there are not two switches or more", lambda chain: chain.last > 0),
        Sign("line is not on one end common and the switched line on the other", line_and_switched_on_commons),
        Sign("no two strappers join every switch to the next", straps_run_through),
        Sign("a strapper is joined to something else too", straps_are_free),
        Sign("line and switched line are not at opposite ends",
             lambda chain: {chain.line_at, chain.switched_at} == {0, chain.last}),
    ),
    refuses, two_ends=True, briefly=" with two strappers",
    also=("strappers", "two wires", "common at each end", "two strappers, common at each end"),
    taught="Line is on one common and the switched line on the other; the lamp lights while the switches at the two "
           "ends meet on one strapper. An intermediate between them passes the strappers straight on or crosses them.",
)
