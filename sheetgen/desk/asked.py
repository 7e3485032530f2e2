"""What a page asks for, as it comes from its form: words by name; and what a person is told where it cannot be."""

from __future__ import annotations

from collections.abc import Mapping

MOST_WORDS = 2000  # letters of one field; a note is a few sentences


class Mistaken(Exception):
    """What was asked for cannot be done; the message is for whoever asked."""


def asked(fields: Mapping[str, str], name: str) -> str:
    """A field on one line, without spaces around it; "" where the form has none."""
    words = " ".join(fields.get(name, "").split())
    if len(words) > MOST_WORDS:
        raise Mistaken(f"'{name}' holds more than {MOST_WORDS} letters.")
    if any(ord(c) < 32 or ord(c) == 127 for c in words):
        raise Mistaken(f"'{name}' holds a letter that cannot be printed.")
    return words


def needed(fields: Mapping[str, str], name: str, said: str = "") -> str:
    """A field that has to be filled in."""
    words = asked(fields, name)
    if not words:
        raise Mistaken(f"{(said or name).capitalize()} is missing.")
    return words


def several(words: str) -> list[str]:
    """'Hall, Landing' -> ['Hall', 'Landing']."""
    return [word.strip() for word in words.split(",") if word.strip()]


def pairs(words: str) -> dict[str, str]:
    """'N: 4, L: 3' -> {'N': '4', 'L': '3'}."""
    found: dict[str, str] = {}
    for part in several(words):
        name, colon, value = part.partition(":")
        if not colon or not name.strip() or not value.strip():
            raise Mistaken(f"'{part}' is not understood. Write it as in: N: 4, L: 3.")
        found[name.strip()] = value.strip()
    return found


def number(fields: Mapping[str, str], name: str) -> int:
    """A field that counts: 0, 1, ..."""
    word = asked(fields, name)
    if not word.isdecimal() or len(word) > 4:
        raise Mistaken(f"'{name}' is not a number.")
    return int(word)
