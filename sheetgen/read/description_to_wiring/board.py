"""The board: its ways, their devices, and the accessories that stand for them in the wiring."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

from sheetgen.catalogue import devices
from sheetgen.catalogue.accessories.board_way import KIND
from sheetgen.model.accessory import Accessory
from sheetgen.model.description import UNKNOWN_WORDS, DescriptionText, WayText
from sheetgen.model.wiring import Board, Device, Way
from sheetgen.read.description_to_wiring.ledger import Ledger, folded

NO_DEVICE = ("none", "no device", "nothing")
UNNAMED = "1"  # what the one way is called of a board that was given none
_NUMBERED = re.compile(rf"(?:^|[,:]\s*)(way|circuit|board|board way) {UNNAMED}\b", re.IGNORECASE)  # not "Hall way 1"
_RCD = re.compile(r"(\d+)\s*ma\b")
_SHAPES = re.compile(r"\b(mcb|rcbo|rcd|circuit breaker|breaker|type|fuse|device|curve|switch)\b|[,;]")
_RATING = re.compile(r"(\d{1,4}(?:\.\d{1,3})?)\s*(a|amp|amps|ampere|amperes)?")


def board_of(ledger: Ledger, as_written: DescriptionText) -> tuple[Board, tuple[Accessory, ...]]:
    """The board and one accessory for each way, in the order of their numbers.

    A board without ways has one, called way 1 in the wiring; its number is told only where the description says it,
    `as_written`: before any method was laid.
    """
    text = as_written.board
    written = text.ways or {UNNAMED: None}
    none = WayText.model_validate({})
    ways = tuple(_way(ledger, number, written[number] or none) for number in sorted(written, key=_natural))
    if not numbered(as_written):
        ways = tuple(replace(way, number="") for way in ways)
    accessories = tuple(Accessory(w.accessory, KIND, at=w.at) for w in ways)
    board = Board(text.name, ways, text.earthing, text.ze, text.voltage, text.where)
    return board, accessories


def numbered(content: DescriptionText) -> bool:
    """Whether a description gives its board ways, or calls the one there is by its number."""
    if content.board.ways:
        return True
    cables = [word for cable in content.cables.values() for word in (cable.from_, cable.to, cable.at)]
    ways = [content.way, *(circuit.way for circuit in content.circuits)]
    spots = [word for reading in content.readings for word in (*reading.between, *reading.joined)]
    bare = set(map(folded, (*cables, *ways))) - set(map(folded, content.accessories))
    return UNNAMED in bare or any(map(_NUMBERED.search, (*cables, *ways, *spots, *content.seen)))


def _natural(number: str) -> tuple[tuple[int, str], ...]:
    """'2' before '10', and '2a' after '2'."""
    return tuple((int(digits or 0), word) for digits, word in re.findall(r"(\d+)|(\D+)", number))


def _way(ledger: Ledger, number: str, text: WayText) -> Way:
    path = ("board", "ways", number)
    word = folded(text.device)
    said = bool(text.device) and word not in (*UNKNOWN_WORDS, *NO_DEVICE)
    device, rcd = _device(ledger, text.device, (*path, "device")) if said else (None, None)
    given = text.rcd if isinstance(text.rcd, Fraction) else None
    return Way(
        accessory=f"way {number}",
        number=number,
        serves=text.serves,
        device=device,
        rcd=given or rcd,
        isolated_by=text.isolated_by,
        at=ledger.mark(path),
        no_device=word in NO_DEVICE,
        no_rcd=text.rcd == "none" and rcd is None,
        off=text.off,
    )


def _device(ledger: Ledger, words: str, path: tuple[str, ...]) -> tuple[Device | None, Fraction | None]:
    """The device and, where the words have it, its rated residual current: 'type B 6 A', '6A B RCBO 30 mA'."""
    said = " ".join(words.casefold().split())
    residual = _RCD.search(said)
    rcd = Fraction(residual[1]) if residual else None
    found = devices.find(" ".join(_RCD.sub(" ", said).split()))
    kind, rest = found if found else (None, said)
    rating = _RATING.fullmatch(" ".join(_SHAPES.sub(" ", rest).split()))
    known = ", ".join(entry.name for entry in devices.CATALOGUE)
    if kind is None or rating is None:
        missing = "type" if rating else "" if re.search("[0-9]", rest) else "rating in amperes" if kind else (
            "type and rating")
        why = f": its {missing} {'are' if ' and ' in missing else 'is'} missing" if missing else ""
        ledger.note(path, "E303", f"The device '{words}' is not understood{why}.",
                    f"Write it as in: type B 6 A. Known types: {known}. 'unknown' where nobody knows.")
        return None, rcd
    amperes = Fraction(rating[1])
    if amperes not in kind.ratings:
        made = ", ".join(f"{r} A" for r in kind.ratings)
        ledger.note(path, "E304", f"A {kind.name} device of {float(amperes):g} A is not made.", f"Known: {made}.")
        return None, rcd
    return Device(kind.name, amperes), rcd


def way_name(word: str, board: tuple[Accessory, ...]) -> str | None:
    """The accessory a word like 'way 4', 'circuit 4', '4' or 'board' stands for, or None."""
    name = folded(word)
    for accessory in board:
        number = folded(accessory.name.removeprefix("way "))
        if name in (number, f"way {number}", f"circuit {number}", f"board way {number}", f"board {number}"):
            return accessory.name
    if name in ("board", "consumer unit", "fuse board", "fuse box", "way") and len(board) == 1:
        return board[0].name
    return None
