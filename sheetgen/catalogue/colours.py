"""Colour codes of IEC 60757 and the words people write for them."""

from __future__ import annotations

import re

# IEC 60757:1983, the whole table in its order (via a national text identical to it).
CODES = {
    "BK": "black", "BN": "brown", "RD": "red", "OG": "orange", "YE": "yellow", "GN": "green", "BU": "blue",
    "VT": "violet", "GY": "grey", "WH": "white", "PK": "pink", "GD": "gold", "TQ": "turquoise", "SR": "silver",
    "GNYE": "green-and-yellow",
}
WORDS = {
    **{word: code for code, word in CODES.items()},
    "gray": "GY", "light blue": "BU", "purple": "VT", "green and yellow": "GNYE", "green/yellow": "GNYE",
    "yellow-and-green": "GNYE", "green yellow": "GNYE", "green-yellow": "GNYE", "g/y": "GNYE", "gn-ye": "GNYE",
}
PROTECTIVE_WORDS = ("cpc", "bare", "earth", "bare cpc", "e")
_LONGEST_FIRST = sorted(WORDS, key=len, reverse=True)


def read_colour(text: str) -> str | None:
    """The code for a colour written as a code or a word, or None."""
    word = " ".join(text.strip().split())
    return word.upper() if word.upper() in CODES else WORDS.get(word.casefold())


_SLEEVE = re.compile(
    r"(?P<core>.+?)[\s,]*\(?\b(?:over-?)?(?:taped|sleeved|marked|tagged)\s+(?:in\s+|with\s+)?(?P<colour>[\w/ -]+?)"
    r"(?:\s+(?:tape|sleeve|sleeving))?\)?", re.IGNORECASE)
_WITH = re.compile(
    r"(?P<core>.+?)[\s,]*\(?\bwith\s+(?:an?\s+)?(?P<colour>[\w/ -]+?)\s+(?:tape|sleeve|sleeving)\)?", re.IGNORECASE)

_IN_BRACKETS = re.compile(
    r"(?P<core>.+?)\s*\((?P<colour>[\w/ -]+?)\s+(?:tape|sleeve|sleeving)\)", re.IGNORECASE)


def with_sleeve(text: str) -> tuple[str, str]:
    """A core as written, and the colour of the sleeve written with it: 'black (taped red)' -> ('black', 'RD')."""
    found = _SLEEVE.fullmatch(text.strip()) or _WITH.fullmatch(text.strip()) or _IN_BRACKETS.fullmatch(text.strip())
    colour = read_colour(found["colour"]) if found else None
    return (found["core"].strip(), colour) if found and colour else (text, "")


def read_core_name(text: str) -> tuple[str, str] | None:
    """A core as written: colour and what tells it apart. ('RD', '1') for 'red 1'; ('cpc', '') for a bare cpc."""
    word = " ".join(text.strip().split())
    if word.casefold() in PROTECTIVE_WORDS:
        return "cpc", ""
    if colour := read_colour(word):
        return colour, ""
    for known in _LONGEST_FIRST:
        if re.match(rf"{re.escape(known)}[ ,.(]", word, re.IGNORECASE):
            return WORDS[known], word[len(known):].strip(" ,.()")
    head, _, rest = word.partition(" ")
    if head.upper() in CODES:
        return head.upper(), rest.strip(" ,.()")
    return None
