"""What is wrong with something the reader wrote, as values to be collected and shown all at once."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from difflib import get_close_matches


@dataclass(frozen=True, order=True)
class Mark:
    """A place in a text: line and column, both counted from 1. (0, 0) is the text as a whole."""

    line: int = 0
    column: int = 0


@dataclass(frozen=True, order=True)
class Problem:
    """One thing the reader must mend: where it stands, what is wrong, and what to write instead."""

    at: Mark
    code: str
    message: str
    hint: str = ""

    def text(self, file: str) -> str:
        """One line for a terminal: file:line:column: code message hint."""
        where = f"{file}:{self.at.line}:{self.at.column}" if self.at.line else file
        return f"{where}: {self.code} {self.message}" + (f" {self.hint}" if self.hint else "")


class Refused(Exception):
    """The text cannot be understood; carries every problem found, in file order."""

    def __init__(self, problems: Iterable[Problem]):
        self.problems = tuple(sorted(problems))
        super().__init__("; ".join(f"{p.code} {p.message}" for p in self.problems))

    def __reduce__(self) -> tuple[Callable[..., Refused], tuple[object, ...], dict[str, object]]:
        """Made again from its problems, so that it passes from one process to another."""
        return _refused_again, (type(self), self.problems), self.__dict__


def _refused_again(kind: type[Refused], problems: tuple[Problem, ...]) -> Refused:
    """Without the arguments that a more special kind of refusal asks for."""
    made = kind.__new__(kind)
    Refused.__init__(made, problems)
    return made


class BadStyle(Exception):
    """A style file that cannot be used; the message names the file and what is wrong in it."""


def nearest(word: str, known: Iterable[str]) -> str:
    """'Did you mean ...?' for the closest known word, or the known words where none is close."""
    words = list(dict.fromkeys(known))
    folded = {w.casefold(): w for w in reversed(words)}
    close = [w for w in get_close_matches(word.casefold()[:60], folded, n=4, cutoff=0.6) if _digits_agree(word, w)]
    if close:
        return f"Did you mean '{folded[close[0]]}'?"
    if not words:
        return ""
    shown = ", ".join(f"'{w}'" for w in words[:12])
    return f"Known: {shown}{', ...' if len(words) > 12 else ''}."


def _digits_agree(word: str, known: str) -> bool:
    """'way 7' is never a slip for 'way 1': where a word has a number, only one with the same number is meant."""
    digits = [c for c in word if c.isdigit()]
    return not digits or digits == [c for c in known if c.isdigit()]
