"""One description at the desk: its text now, the way back, the file it came from, and the journal beside that."""

from __future__ import annotations

from typing import Protocol

from sheetgen.desk.history import History, first_line, mark_of, replayed, step_line, text_line
from sheetgen.model.problems import Refused
from sheetgen.read.yaml_tree import decode

MOST_JOURNAL = 4_000_000  # bytes, after which the journal begins anew with what it led to
BOM = "\ufeff"


class NotKept(Exception):
    """A file that could not be written; the message says which and why."""


class Folder(Protocol):
    """The one folder that the desk reads and writes."""

    def names(self) -> tuple[str, ...]:
        """The descriptions in it."""

    def may_be(self, name: str) -> bool:
        """Whether a description here can be called so."""

    def read(self, name: str) -> bytes | None:
        """A file's bytes, None where there is none. Refused where it cannot be read or is too large."""

    def stamp(self, name: str) -> object:
        """What changes when a file does, without reading it; None where there is none."""

    def write(self, name: str, data: bytes) -> None:
        """A file written whole or not at all. NotKept."""

    def append(self, name: str, data: bytes) -> None:
        """Bytes put at the end of a file; they are on the disk on return. NotKept."""

    def remove(self, name: str) -> None:
        """A file taken away, if it is there."""


class Desk:
    """A description being written. `version` goes up with every change, so that a page knows whether it is behind."""

    def __init__(self, folder: Folder, name: str):
        self.folder, self.name = folder, name
        self.version = 1
        self.notice = ""  # what a person has to be told until something else is done
        self.elsewhere = False  # another program has changed the file
        data = folder.read(name)
        self._stamp, self._mark = folder.stamp(name), mark_of(data)
        text = decode(data) if data is not None else f"job: {name.rsplit('.', 1)[0]}\n"
        self._bom = BOM if data is not None and data.startswith(BOM.encode()) else ""
        self.saved = text if data is not None else ""
        self.history = History((text,))
        self._written = 0
        self._take_up()

    @property
    def journal(self) -> str:
        """The file that keeps what is not saved yet."""
        return f".{self.name}.desk"

    @property
    def text(self) -> str:
        """The text as it is now."""
        return self.history.text

    @property
    def is_saved(self) -> bool:
        """The file holds the text as it is now."""
        return self.saved == self.text

    def _take_up(self) -> None:
        """Go on from the journal of a page that was closed or a program that was stopped."""
        try:
            kept = replayed(self.folder.read(self.journal) or b"")
        except Refused:
            kept = None
        if kept is None:
            return
        mark, history = kept
        if history.text == self.text:
            return
        if mark == self._mark:
            self.history = history
            self.notice = f"Taken up where it was left. {self.name} does not hold this yet: save it to keep it."
        else:
            self.history = History((history.text, self.text), 1)
            self.notice = (f"{self.name} has been changed since it was last at the desk. What was not saved then is "
                           "one step back: press undo to see it.")

    def change(self, text: str) -> None:
        """A new state of the text, on the disk before this returns."""
        if text == self.text:
            return
        self.history = self.history.with_text(text)
        self._note(text_line(text))

    def move(self, step: int) -> None:
        """Undo (-1) or redo (1)."""
        moved = self.history.moved(step)
        if moved != self.history:
            self.history = moved
            self._note(step_line(step))

    def _note(self, line: bytes) -> None:
        self.version += 1
        self.notice = ""
        if not self._written or self._written + len(line) > MOST_JOURNAL:
            self._begin_journal()
        else:
            self.folder.append(self.journal, line)
            self._written += len(line)

    def _begin_journal(self) -> None:
        short = History(self.history.texts[-20:], len(self.history.texts[-20:]) - 1)
        whole = first_line(self._mark, self.history)
        line = whole if len(whole) < MOST_JOURNAL // 2 else first_line(self._mark, short)
        self.folder.write(self.journal, line)
        self._written = len(line)

    def look(self) -> bool:
        """Whether another program has changed the file since it was read or written here."""
        stamp = self.folder.stamp(self.name)
        if stamp == self._stamp:
            return self.elsewhere
        self._stamp = stamp
        try:
            mark = mark_of(self.folder.read(self.name))
        except Refused:
            mark = "cannot be read"
        self.elsewhere = mark != self._mark
        return self.elsewhere

    def save(self, over: bool = False) -> None:
        """The file written. Where another program has changed it that has to be asked for. NotKept."""
        if self.look() and not over:
            return
        data = (self._bom + self.text).encode()
        self.folder.write(self.name, data)
        self._stamp, self._mark = self.folder.stamp(self.name), mark_of(data)
        self.saved, self.elsewhere = self.text, False
        self.version += 1
        self.notice = ""
        self.folder.remove(self.journal)
        self._written = 0

    def take_theirs(self) -> None:
        """The file as the other program left it; what was here is a step back. Refused where it cannot be read."""
        data = self.folder.read(self.name)
        text = decode(data) if data is not None else ""
        self._stamp, self._mark, self.elsewhere = self.folder.stamp(self.name), mark_of(data), False
        self.saved = text
        self._written = 0
        self.change(text)

    def keep_mine(self) -> None:
        """The text here stays; saving writes over what the other program wrote."""
        self.save(over=True)
