"""The board: its ways, their devices, and the accessories that stand for them in the wiring."""

from __future__ import annotations

import re

from sheetgen.accessories.board_way import KIND
from sheetgen.description_to_wiring.ledger import Ledger, folded
from sheetgen.model.accessory import Accessory
from sheetgen.model.description import WayText
from sheetgen.model.wiring import Board, Device, Way
from sheetgen.quantities import BadQuantity, read_quantity

# type as printed on the device -> ratings met in lighting circuits and beside them
DEVICES = {
    "B": (3, 6, 10, 16, 20, 32), "C": (3, 6, 10, 16, 20, 32), "D": (3, 6, 10, 16, 20, 32),
    "BS 3036": (5, 15, 20, 30), "BS 1361": (5, 15, 20, 30), "BS 88-3": (5, 16, 20, 32),
}
_TYPE = re.compile(
    r"(?:(?:mcb|rcbo|breaker|circuit breaker)\s+)?(?:type\s+)?(?P<type>bs\s*3036|bs\s*1361|bs\s*88-3"
    r"|rewireable(?: fuse)?|cartridge(?: fuse)?|[bcd])[\s,]*(?P<rating>\S.*)", re.IGNORECASE)
_SAME = {"rewireable": "BS 3036", "rewireable fuse": "BS 3036", "cartridge": "BS 1361", "cartridge fuse": "BS 1361"}


def board_of(ledger: Ledger) -> tuple[Board, tuple[Accessory, ...]]:
    """The board and one accessory for each way; a board without ways has way 1."""
    text = ledger.description.content.board
    written = text.ways or {"1": None}
    ways = tuple(_way(ledger, number, way or WayText()) for number, way in written.items())
    accessories = tuple(Accessory(w.accessory, KIND, at=w.at) for w in ways)
    board = Board(text.name, ways, text.earthing, text.ze, text.voltage, text.where)
    return board, accessories


def _way(ledger: Ledger, number: str, text: WayText) -> Way:
    path = ("board", "ways", number)
    return Way(
        accessory=f"way {number}",
        number=number,
        serves=text.serves,
        device=_device(ledger, text.device, (*path, "device")) if text.device else None,
        rcd=text.rcd,
        isolated_by=text.isolated_by,
        at=ledger.mark(path),
    )


def _device(ledger: Ledger, words: str, path: tuple[str, ...]) -> Device | None:
    match = _TYPE.fullmatch(words.strip())
    if not match:
        ledger.note(path, "E303", f"The device '{words}' is not understood.",
                    f"Write its type and rating: type B 6 A. Known types: {', '.join(DEVICES)}.")
        return None
    name = " ".join(match["type"].split())
    device_type = _SAME.get(name.casefold()) or name.upper().replace("BS3036", "BS 3036")
    device_type = re.sub(r"^BS\s*", "BS ", device_type)
    try:
        rating = read_quantity(match["rating"], "A", "6 A")
    except BadQuantity as bad:
        ledger.note(path, "E203", f"'device': {bad}")
        return None
    if rating not in DEVICES[device_type]:
        known = ", ".join(f"{r} A" for r in DEVICES[device_type])
        ledger.note(path, "E304", f"A {device_type} device of {float(rating):g} A is not made.", f"Known: {known}.")
        return None
    return Device(device_type, rating)


def way_name(word: str, board: tuple[Accessory, ...]) -> str | None:
    """The accessory a word like 'way 4', 'circuit 4' or 'board' stands for, or None."""
    name = folded(word)
    for accessory in board:
        number = folded(accessory.name.removeprefix("way "))
        if name in (f"way {number}", f"circuit {number}", f"board way {number}", f"board {number}"):
            return accessory.name
    if name in ("board", "consumer unit", "fuse board", "fuse box", "way") and len(board) == 1:
        return board[0].name
    return None
