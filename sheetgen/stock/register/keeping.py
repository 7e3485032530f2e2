"""Writing in the register: each dwelling whole, in one transaction; a state anew only where something changed."""

from __future__ import annotations

import hashlib
import sqlite3
from collections.abc import Iterable, Sequence
from dataclasses import astuple, dataclass
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from sheetgen.model.problems import Mark, Problem
from sheetgen.stock.dwelling import Dwelling
from sheetgen.stock.register.opening import NotARegister, to_write, transaction

DETAILS = ("way", "circuit", "finding", "cable", "accessory", "note", "problem")
STATE = ("job", "place", "status", "drawn_by", "drawn_on", "drawn_day", "board_where", "earthing", "report_number",
         "report_date", "report_due", "due_day", "mixed_colours", "no_cpc", "rcd")  # columns named as in Dwelling


Details = dict[str, list[tuple[object, ...]]]  # table -> its rows, without state and ordinal


@dataclass(frozen=True)
class KnownFile:
    """What the register knows of a file: whether it was understood, its sheet, the mark it was made under."""

    mark: str
    sheet: str
    sheet_bytes: int
    understood: bool
    dangers: int


class Register:
    """A register in which a run writes. NotARegister where the file cannot be used so."""

    def __init__(self, path: Path):
        self.path = path
        self._base = to_write(path)
        self._base.execute("CREATE TEMP TABLE seen (path TEXT PRIMARY KEY) WITHOUT ROWID")
        self.run = 0

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None,
                 trace: TracebackType | None) -> None:
        self._base.close()
        if isinstance(error, sqlite3.Error):
            raise NotARegister(f"{self.path} cannot be written any further: {error}.") from None

    def begin(self, day: str, program: str, look: str) -> None:
        """A run begins."""
        with transaction(self._base):
            self.run = self._insert("run", day=day, program=program, look=look)

    def known(self, path: str) -> KnownFile | None:
        """What is known of a file; it is taken to be there. None: nothing."""
        self._base.execute("INSERT OR IGNORE INTO seen VALUES (?)", (path,))
        row = self._base.execute(
            "SELECT mark, sheet, sheet_bytes, understood, dangers FROM dwelling "
            "JOIN state ON state.id = dwelling.state "
            "WHERE path = ? AND gone IS NULL AND trouble = ''", (path,)).fetchone()
        return KnownFile(row[0], row[1], row[2], bool(row[3]), row[4]) if row else None

    def problems(self, path: str) -> tuple[Problem, ...]:
        """Why a description could not be understood last time."""
        rows = self._base.execute(
            "SELECT line, col, code, message, hint FROM dwelling JOIN problem ON problem.state = dwelling.state "
            "WHERE path = ? ORDER BY ordinal", (path,))
        return tuple(Problem(Mark(line, column), *rest) for line, column, *rest in rows)

    def has_written(self, sheet: str) -> bool:
        """Whether a run wrote that sheet."""
        row = self._base.execute("SELECT 1 FROM dwelling WHERE sheet = ? LIMIT 1", (sheet,)).fetchone()
        return row is not None

    def keep(self, path: str, mark: str, dwelling: Dwelling, sheet: str, sheet_bytes: int) -> None:
        """A dwelling that was made, with its sheet, which is written already."""
        columns = {name: getattr(dwelling, name) for name in STATE} | {
            "circuits": dwelling.in_use, "dangers": dwelling.count("danger"),
            "put_right": dwelling.count("put right"), "notes": dwelling.count("note")}
        details: Details = {
            "way": _rows(dwelling.ways), "circuit": _rows(dwelling.circuits), "finding": _rows(dwelling.findings),
            "cable": _rows(dwelling.cables), "accessory": _rows(dwelling.accessories),
            "note": [(says,) for says in dwelling.notes],
        }
        with transaction(self._base):
            key = self._dwelling(path, mark=mark, sheet=sheet, sheet_bytes=sheet_bytes, trouble="")
            self._state(key, repr(dwelling), 1, columns, details)

    def keep_problems(self, path: str, mark: str, problems: Sequence[Problem]) -> None:
        """A description that could not be understood. The sheet of an earlier text stays where it is."""
        rows: list[tuple[object, ...]] = [(p.at.line, p.at.column, p.code, p.message, p.hint) for p in problems]
        with transaction(self._base):
            key = self._dwelling(path, mark=mark, trouble="")
            self._state(key, repr(rows), 0, {}, {"problem": rows})

    def keep_trouble(self, path: str, says: str) -> None:
        """A dwelling that could not be made, for no fault of its text: it is tried again next time."""
        with transaction(self._base):
            self._dwelling(path, trouble=says)

    def end(self) -> None:
        """The run has come to its end: what it did not see is gone."""
        with transaction(self._base):
            self._base.execute("UPDATE dwelling SET gone = ? WHERE gone IS NULL "
                               "AND path NOT IN (SELECT path FROM seen)", (self.run,))
            self._base.execute("UPDATE run SET whole = 1 WHERE id = ?", (self.run,))

    def _dwelling(self, path: str, **columns: object) -> int:
        """The key of a dwelling, with these columns set."""
        self._base.execute("INSERT OR IGNORE INTO dwelling (path) VALUES (?)", (path,))
        names = ", ".join(f"{name} = ?" for name in columns)
        row = self._base.execute(f"UPDATE dwelling SET gone = NULL, {names} WHERE path = ? RETURNING id",
                                 (*columns.values(), path)).fetchone()
        return int(row[0])

    def _state(self, dwelling: int, kept: str, understood: int, columns: dict[str, object],
               details: Details) -> None:
        mark = hashlib.sha256(kept.encode("utf-8", "surrogatepass")).hexdigest()[:32]
        last = self._base.execute("SELECT kept FROM dwelling JOIN state ON state.id = dwelling.state "
                                  "WHERE dwelling.id = ?", (dwelling,)).fetchone()
        if last and last[0] == mark:
            return
        state = self._insert("state", dwelling=dwelling, run=self.run, kept=mark, understood=understood, **columns)
        for table in DETAILS:
            if rows := details.get(table):
                marks = ", ".join("?" * (2 + len(rows[0])))
                self._base.executemany(f"INSERT INTO {table} VALUES ({marks})",
                                       [(state, ordinal, *row) for ordinal, row in enumerate(rows, 1)])
        self._base.execute("UPDATE dwelling SET state = ? WHERE id = ?", (state, dwelling))

    def _insert(self, table: str, **columns: object) -> int:
        names, marks = ", ".join(columns), ", ".join("?" * len(columns))
        cursor = self._base.execute(f"INSERT INTO {table} ({names}) VALUES ({marks})", tuple(columns.values()))
        assert cursor.lastrowid is not None
        return cursor.lastrowid


def _rows(items: Iterable[Any]) -> list[tuple[object, ...]]:
    """Dataclasses as rows; their fields stand in the order of the table's columns."""
    return [astuple(item) for item in items]
