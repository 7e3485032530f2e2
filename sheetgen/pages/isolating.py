"""How to isolate, in the words of every page that says it: the ways, their fuses or switches, the steps."""

from __future__ import annotations

from collections.abc import Iterable

from sheetgen.judge.isolation import IF_TT
from sheetgen.model.accessory import Accessory
from sheetgen.model.words import isolation
from sheetgen.pages.lookup import Lookup

NUMBER_NOT_GIVEN = "the number of its circuit is not given, so find by test which one at the {board} it is"
NOT_CERTAIN = " Where it is not certain which it is, switch off and lock off the main switch."
EMPTY_FUSEWAY = ("Lock the main switch off, or fit a blank that can be locked in place of the fuse before it goes on "
                 "again: an empty fuseway has a live contact.")
NOT_ALL_SEEN = ("Core ends are not known: another circuit may feed what is opened. Where in doubt, switch off the main "
                "switch.")


def parting(lookup: Lookup, ways: Iterable[str]) -> list[str]:
    """'Switch off circuit 4.'; what goes before. No fuse is withdrawn under load: the main switch goes off first."""
    ways = list(ways)
    isolated = lookup.job.reading.isolation
    fuses, breakers = _fuses_and_breakers(lookup, ways)
    first = isolated.first
    said = [first] if first else []
    if bare := [way for way in ways if way in isolated.no_device and not first]:
        several = len(bare) > 1
        said.append(f"Switch off the main switch and lock it off: {lookup.circuit.circuits(bare)} "
                    f"{'have' if several else 'has'} no device of {'their' if several else 'its'} own.")
    if fuses:
        several = len(fuses) > 1
        withdraw = "Withdraw" if said else "Switch off the main switch, then withdraw"
        said.append(f"{withdraw} the fuse{'s' if several else ''} of {lookup.circuit.circuits(fuses)}, and take "
                    f"{'them' if several else 'it'} with you.")
    known = [way for way in breakers if way not in isolated.not_known]
    said += [f"Switch off {lookup.circuit.circuits(known)}."] if known else []
    if either := [way for way in breakers if way in isolated.not_known]:
        fuse = "their fuses" if len(either) > 1 else "its fuse"
        off = "" if first or bare else " with the main switch off"
        told = all(map(lookup.way_number, either))
        named = lookup.circuit.circuits(either) if told else "the circuit found"
        said.append(f"Switch off {named}, or withdraw {fuse}{off}.{'' if told else NOT_CERTAIN}")
    return said


def _fuses_and_breakers(lookup: Lookup, ways: Iterable[str]) -> tuple[list[str], list[str]]:
    """Ways whose device is withdrawn, and those whose device is switched off or not known."""
    isolation = lookup.job.reading.isolation
    ways = [way for way in ways if way not in isolation.no_device]
    return [way for way in ways if way in isolation.fuses], [way for way in ways if way not in isolation.fuses]


def _locking(lookup: Lookup, ways: Iterable[str]) -> str:
    """How the ways are kept parted: a fuse is taken away as it is withdrawn, a device is locked."""
    fuses, breakers = _fuses_and_breakers(lookup, ways)
    if not (fuses or breakers) and lookup.job.reading.isolation.no_device:
        return "Hang a notice at the board."
    if any(way in lookup.job.reading.isolation.not_known for way in breakers) or not (fuses or breakers):
        told = "" if lookup.job.reading.isolation.first else f", and {EMPTY_FUSEWAY[:1].lower()}{EMPTY_FUSEWAY[1:-1]}"
        return f"Lock it off, and hang a notice. If it is a fuse, keep it with you{told}."
    if fuses:
        off = "Lock off what is switched off." if breakers else ""
        empty = "" if lookup.job.reading.isolation.first else EMPTY_FUSEWAY
        return " ".join(filter(None, (off, empty, "Hang a notice at the board.")))
    return f"Lock {'them' if len(breakers) > 1 else 'it'} off, and hang a notice."


def steps(lookup: Lookup, ways: Iterable[str] = ()) -> tuple[str, ...]:
    """The sequence for some ways of the board, or for all of them."""
    ways = tuple(ways) or tuple(way.accessory for way in lookup.wiring.board.ways)
    board = lookup.wiring.board.name.lower()
    feeds = f"{lookup.circuit.circuits(ways)} at the {board}" if ways else "every circuit of the board"
    if ways and not all(map(lookup.way_number, ways)):
        feeds = NUMBER_NOT_GIVEN.format(board=board)
    isolated = lookup.job.reading.isolation
    main_off = bool(isolated.first) or any(way in isolated.no_device for way in ways)
    said = isolation(feeds, parting(lookup, ways), _locking(lookup, ways), main_off)
    unsure = ("" if lookup.wiring.all_seen else NOT_ALL_SEEN, "" if lookup.wiring.board.earthing else IF_TT)
    return (*filter(None, unsure), *said)


def together(lookup: Lookup, accessory: Accessory) -> str:
    """'Isolate circuits 5 and 6 before opening it.', where one way is not enough; ""."""
    ways = lookup.job.reading.isolation.at.get(accessory.name, ())
    return f"Isolate {lookup.circuit.circuits(ways)} before opening it." if len(ways) > 1 else ""
