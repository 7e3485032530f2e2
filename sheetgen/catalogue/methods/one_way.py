"""One switch: line to the common, switched line from the other contact."""

from __future__ import annotations

from sheetgen.catalogue.methods.ports import Chain, Join, JoinLaid, Sign, SwitchPlace


def lay(seats: tuple[SwitchPlace, ...]) -> JoinLaid:
    """Line in and switched line out at the one switch."""
    (seat,) = seats
    return JoinLaid((0, seat.port("common")), (0, seat.port("out")))


def refuses(switches: int, conduit: bool) -> str:
    """Only one switch."""
    return "" if switches == 1 else f"One-way switching has one switch, not {switches}."


def _line_to_lamp(chain: Chain) -> bool:
    contacts = (chain.commons[0], chain.outs[0])
    return any(a in chain.line and b in chain.switched for a, b in (contacts, contacts[::-1]))


JOIN = Join(
    "one-way", "one-way switching", lay,
    (
        Sign("there is not one switch", lambda chain: chain.last == 0),
        Sign("the switch does not lie between line and the lamp", _line_to_lamp),
    ),
    refuses, two_ends=False, briefly="", also=("one way", "1-way", "1 way", "single switch"),
    taught="The switch makes and breaks the line, never the neutral.",
)
