"""Text as the page can set it: accents composed, what the typeface lacks shown and counted, lines broken and fitted."""

from __future__ import annotations

import re
import unicodedata
from bisect import bisect_right
from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass, fields, is_dataclass
from functools import cache, lru_cache
from typing import NamedTuple

from sheetgen.draw.typeface import font, has_glyph
from sheetgen.model.drawing import Drawing, Text

KEPT = "\N{NO-BREAK SPACE}"  # a space at which no line ends
LOST = "\N{WHITE SQUARE}"  # printed for a character that the typeface lacks
DOTS = "\N{HORIZONTAL ELLIPSIS}"
UNIT = r"(?:[kMm]?(?:V|W|A|\N{GREEK CAPITAL LETTER OMEGA}|ohm|s|m)|mm2?|mm\N{SUPERSCRIPT TWO}|\N{DEGREE SIGN}C|h|min)"
BREAK = re.compile(rf" (?!(?<=\d ){UNIT}(?!\w))")  # where a line may end: not between a figure and its unit


@lru_cache(maxsize=20000)
def width(text: str, weight: str, size: float) -> float:
    """Width of a line of text in points."""
    return font(weight).stringWidth(text, size)


@lru_cache(maxsize=20000)
def settable(text: str, weight: str = "regular") -> str:
    """The text as it can be set: accents composed, white space made plain, LOST for what the weight lacks."""
    plain = text if text.isascii() else unicodedata.normalize("NFC", text)
    spaced = KEPT.join(" ".join(part.split()) for part in plain.split(KEPT))
    return "".join(c if has_glyph(c, weight) else LOST for c in spaced)


def strings(value: object) -> Iterator[str]:
    """Every text that a value made of dataclasses and tuples would print."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, Drawing):
        yield from (shape.text for shape in value.shapes if isinstance(shape, Text))
    elif isinstance(value, tuple):
        for part in value:
            yield from strings(part)
    elif is_dataclass(value):
        for name in _fields(value.__class__):
            yield from strings(getattr(value, name))


@cache
def _fields(kind: Hashable) -> tuple[str, ...]:
    """The names of the fields of a dataclass."""
    return tuple(field.name for field in fields(kind)) if isinstance(kind, type) and is_dataclass(kind) else ()


def any_lost(value: object) -> bool:
    """Whether any text in a value holds a character that the typeface lacks."""
    return any(LOST in settable(text) for text in set(strings(value)) if not text.isascii())


def fitted(text: str, weight: str, sizes: tuple[float, ...], room: float) -> tuple[str, float]:
    """The text and the largest of the sizes at which it fits the room; cut short with dots where none is enough."""
    shown = settable(text, weight)
    for size in sizes:
        if width(shown, weight, size) <= room:
            return shown, size
    size = sizes[-1]
    fits = bisect_right(range(len(shown)), room, key=lambda n: width(shown[:n] + DOTS, weight, size))
    return shown[: max(0, fits - 1)].rstrip() + DOTS, size


@dataclass(frozen=True)
class TextRun:
    """Text in one weight, size and paint within a paragraph; `ends_line`: what follows begins on a new line."""

    text: str
    weight: str
    size: float
    paint: str
    ends_line: bool = False


class Segment(NamedTuple):
    """A piece of a line, from its x."""

    x: float
    text: str
    run: TextRun


SetLine = tuple[Segment, ...]


def words_of(text: str, weight: str) -> list[str]:
    """What stays on one line: words, a figure with its unit."""
    return BREAK.split(settable(text, weight))


def lines_of(runs: Sequence[TextRun], room: float, centred: bool = False) -> tuple[SetLine, ...]:
    """The lines of a paragraph: broken between words, and within a word only where it is longer than a line."""
    if len(runs) == 1:
        text = settable(runs[0].text, runs[0].weight)
        wide = width(text, runs[0].weight, runs[0].size)
        if wide <= room:
            return ((Segment((room - wide) / 2 if centred else 0.0, text, runs[0]),),)
    lines = _Lines(room)
    for run in runs:
        for word in words_of(run.text, run.weight):
            if word:
                lines.add(word, run)
        if run.ends_line and lines.words:
            lines.turn()
    if lines.words or not lines.done:
        lines.turn()
    return tuple(_centred(line, room) if centred else line for line in lines.done)


class _Lines:
    """Fills lines word by word."""

    def __init__(self, room: float):
        self.room, self.used = room, 0.0
        self.done: list[SetLine] = []
        self.words: list[tuple[float, str, TextRun]] = []

    def add(self, word: str, run: TextRun) -> None:
        """Put a word on the line, or on the next where it does not fit."""
        wide = width(word, run.weight, run.size)
        space = width(" ", run.weight, run.size) if self.words else 0.0
        if self.words and self.used + space + wide > self.room:
            self.turn()
            space = 0.0
        while wide > self.room and len(word) > 1:
            here = word
            fits = bisect_right(range(1, len(here)), self.room, key=lambda n: width(here[:n], run.weight, run.size))
            self.words.append((0.0, word[: max(fits, 1)], run))
            self.turn()
            word = word[max(fits, 1):]
            wide = width(word, run.weight, run.size)
        self.words.append((self.used + space, word, run))
        self.used += space + wide

    def turn(self) -> None:
        """Finish the line: neighbouring words of one run become one segment."""
        segments: list[Segment] = []
        for x, word, run in self.words:
            if segments and segments[-1].run is run:
                segments[-1] = segments[-1]._replace(text=f"{segments[-1].text} {word}")
            else:
                segments.append(Segment(x, word, run))
        self.done.append(tuple(segments))
        self.words, self.used = [], 0.0


def _centred(line: SetLine, room: float) -> SetLine:
    if not line:
        return line
    last = line[-1]
    spare = room - last.x - width(last.text, last.run.weight, last.run.size)
    return tuple(segment._replace(x=segment.x + spare / 2) for segment in line)
