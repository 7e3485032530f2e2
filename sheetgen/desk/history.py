"""The states that a text has had, to go back and forth between; and the journal that keeps them through a crash.

The journal is lines of JSON, each on the disk before the page is told of the change: first what the file held, then
each step. A last line that was cut short by a crash is left out.
"""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass, replace

MOST = 200  # states kept


@dataclass(frozen=True)
class History:
    """Texts from the oldest to the newest, and at which of them the page is."""

    texts: tuple[str, ...]
    at: int = 0

    @property
    def text(self) -> str:
        """The text as it is now."""
        return self.texts[self.at]

    @property
    def can_undo(self) -> bool:
        """There is a state before this one."""
        return self.at > 0

    @property
    def can_redo(self) -> bool:
        """There is a state after this one."""
        return self.at + 1 < len(self.texts)

    def with_text(self, text: str) -> History:
        """A new state; what was undone before it is gone."""
        texts = (*self.texts[:self.at + 1], text)[-MOST:]
        return History(texts, len(texts) - 1)

    def moved(self, step: int) -> History:
        """A state back (-1) or forth (1), or the same where there is none."""
        return replace(self, at=min(max(self.at + step, 0), len(self.texts) - 1))


def mark_of(data: bytes | None) -> str:
    """What tells the bytes of a file from others; "" where there is no file."""
    return hashlib.sha256(data).hexdigest() if data is not None else ""


def first_line(mark: str, history: History) -> bytes:
    """What a journal begins with: the file as it was read or written, and the states there are."""
    return _line({"file": mark, "texts": list(history.texts), "at": history.at})


def text_line(text: str) -> bytes:
    """A new state."""
    return _line({"text": text})


def step_line(step: int) -> bytes:
    """A step back or forth."""
    return _line({"step": step})


def _line(value: dict[str, object]) -> bytes:
    return (json.dumps(value) + "\n").encode()


def replayed(journal: bytes) -> tuple[str, History] | None:
    """The mark of the file that a journal begins from, and the history; None where it cannot be read."""
    lines = journal.split(b"\n")[:-1]
    try:
        first = json.loads(lines[0])
        history = History(tuple(map(str, first["texts"])), int(first["at"]))
        mark = str(first["file"])
        if not 0 <= history.at < len(history.texts):
            return None
    except (ValueError, KeyError, IndexError, TypeError):
        return None
    for line in lines[1:]:
        try:
            entry = json.loads(line)
            history = history.with_text(entry["text"]) if "text" in entry else history.moved(int(entry["step"]))
        except (ValueError, KeyError, TypeError):
            break
    return mark, history
