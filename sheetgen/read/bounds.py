"""What a description may hold at most: part of the format, so that every file within it is read, solved and drawn.

The bounds are ours: far above any dwelling, and so low that nothing a person types by mistake takes long.
"""

from __future__ import annotations

from collections.abc import Iterator, MutableMapping
from typing import Any

from sheetgen.model.description import Path
from sheetgen.model.problems import Mark, Problem

MOST_BYTES = 1_000_000  # of a file
MOST_NAME = 60  # letters of a name: of an accessory, a terminal, a cable, a room, a way
MOST_WORDS = 120  # letters of what is printed in one line: the job, the place, what a way serves
MOST_NOTE = 600  # letters of a note
LONG_WORDS = ("seen", "job", "place", "serves", "where", "isolated by", "device", "type")
NOTES = ("note", "notes")
# path -> how many may stand there, and what they are called; "*" is any name
COUNTS: tuple[tuple[tuple[str, ...], int, str], ...] = (
    (("board", "ways"), 60, "ways"), (("accessories",), 400, "accessories"), (("cables",), 800, "cables"),
    (("cables", "*", "cores"), 12, "cores"), (("circuits",), 60, "circuits"), (("kinds",), 40, "kinds"),
    (("kinds", "*", "terminals"), 24, "terminals"), (("kinds", "*", "positions"), 12, "positions"),
    (("kinds", "*", "positions", "*"), 24, "pairs"), (("kinds", "*", "loads"), 12, "loads"),
    (("accessories", "*", "terminals"), 24, "terminals"), (("accessories", "*", "gangs"), 12, "gangs"),
    (("accessories", "*", "connectors"), 12, "connectors"), (("accessories", "*", "ways"), 24, "terminals"),
    (("notes",), 40, "notes"), (("seen",), 200, "sentences"), (("readings",), 400, "readings"),
    (("readings", "*", "between"), 60, "spots"), (("readings", "*", "joined"), 60, "spots"),
)
# Turn the direction of the text around them, so that it reads as what it is not.
TURNING = frozenset("\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


def within_bounds(value: dict[str, Any], marks: MutableMapping[Path, Mark]) -> list[Problem]:
    """The problems of whatever is too long, too many or holds what cannot be printed; it is cut to the bound."""
    return list(_walk(value, (), marks))


def _walk(value: Any, path: Path, marks: MutableMapping[Path, Mark]) -> Iterator[Problem]:
    at = marks.get(path, Mark())
    if isinstance(value, (dict, list)) and (too_many := _too_many(value, path, at)):
        yield too_many
    if isinstance(value, dict):
        for key in list(value):
            if wrong := _wrong_name(key, marks.get((*path, key), at)):
                del value[key]
                yield wrong
                continue
            if isinstance(value[key], str):
                value[key], wrong = _text(value[key], key, marks.get((*path, key), at))
                if wrong:
                    yield wrong
            yield from _walk(value[key], (*path, key), marks)
    elif isinstance(value, list):
        name = next((step for step in reversed(path) if isinstance(step, str)), "")
        for i, inner in enumerate(value):
            if isinstance(inner, str):
                value[i], wrong = _text(inner, name, marks.get((*path, i), at))
                if wrong:
                    yield wrong
            yield from _walk(inner, (*path, i), marks)


def _too_many(value: dict[str, Any] | list[Any], path: Path, at: Mark) -> Problem | None:
    for place, most, what in COUNTS:
        if len(place) == len(path) and all(a in ("*", b) for a, b in zip(place, path, strict=True)):
            if len(value) <= most:
                return None
            problem = Problem(at, "E110", f"There are {len(value)} {what} here; {most} is the most.",
                              "Split the job into several files." if len(path) < 3 else "Give fewer.")
            if isinstance(value, list):
                del value[most:]
            else:
                for extra in list(value)[most:]:
                    del value[extra]
            return problem
    return None


def _wrong_name(name: str, at: Mark) -> Problem | None:
    if len(name) > MOST_NAME:
        return _too_long(name, MOST_NAME, at)
    return _unprintable(name, at)


def _text(text: str, key: str, at: Mark) -> tuple[str, Problem | None]:
    """The text, and what is wrong with it; where something is, what can still be read without harm."""
    most = MOST_NOTE if key in NOTES else MOST_WORDS if key in LONG_WORDS else MOST_NAME
    if key in NOTES:
        text = " ".join(text.split())  # a note written over several lines
    if len(text) > most:
        return text[:most], _too_long(text, most, at)
    if wrong := _unprintable(text, at):
        return "".join(c for c in text if not _harmful(c)), wrong
    return text, None


def _too_long(text: str, most: int, at: Mark) -> Problem:
    return Problem(at, "E110", f"'{_shown(text[:20])}...' has {len(text)} letters; {most} is the most.", "Shorten it.")


def _unprintable(text: str, at: Mark) -> Problem | None:
    found = next((c for c in text if _harmful(c)), None)
    if found is None:
        return None
    what = "a line break" if found in "\n\r\x85\u2028\u2029" else f"the character U+{ord(found):04X}"
    return Problem(at, "E111", f"'{_shown(text[:40])}' has {what} in it, which cannot be printed.", "Take it out.")


def _shown(text: str) -> str:
    return "".join("?" if _harmful(c) else c for c in text)


def _harmful(letter: str) -> bool:
    """Control characters, halves of a pair, private code points, what XML 1.0 forbids (section 2.2), bidi marks."""
    code = ord(letter)
    return (code < 0x20 or 0x7F <= code <= 0x9F or 0xD800 <= code <= 0xF8FF or code in (0x2028, 0x2029, 0xFEFF)
            or 0xFDD0 <= code <= 0xFDEF or code & 0xFFFE == 0xFFFE or code >= 0xE0100 or letter in TURNING)
