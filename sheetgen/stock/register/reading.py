"""Reading a register: the dwellings as they are now, what changed since a run, what could not be made."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from types import TracebackType
from typing import Self

from sheetgen.model.problems import Mark, Problem
from sheetgen.stock.register.asking import Ask
from sheetgen.stock.register.opening import NotARegister, to_read
from sheetgen.stock.standing import compared

GRAVITIES = ("danger", "put right", "note")


@dataclass(frozen=True)
class IndexLine:
    """One dwelling in the index, as it is now; named as the columns of the register."""

    path: str
    job: str
    place: str
    board_where: str
    circuits: int
    drawn_on: str
    drawn_day: str
    drawn_by: str
    status: str
    dangers: int
    put_right: int
    notes: int
    no_cpc: str
    mixed_colours: bool
    rcd: str
    report_number: str
    report_due: str
    due_day: str
    sheet: str


@dataclass(frozen=True)
class Noticed:
    """A finding of a dwelling."""

    path: str
    job: str
    gravity: str
    says: str
    identity: tuple[str, ...] = ()
    was: tuple[str, str] | None = None  # of one that is changed: its gravity and words before

    @property
    def grave(self) -> bool:
        """More than a note, now or before."""
        return self.gravity != "note" or (self.was is not None and self.was[0] != "note")

    @property
    def told(self) -> str:
        """What it says, and said before where it is changed."""
        return f"{self.says} Before: {self.was[0]}: {self.was[1]}" if self.was else self.says


@dataclass(frozen=True)
class Since:
    """What changed since a run began: findings that are new, cured, or changed; how many stand as they stood.

    A dwelling is compared where it is understood now; one that was not there before has only new findings.
    """

    new: tuple[Noticed, ...]
    cured: tuple[Noticed, ...]
    standing: int
    added: tuple[str, ...]  # paths of dwellings that were not there before
    gone: tuple[str, ...]  # paths of those that are not there any more
    first: bool = False  # there was no run before it
    changed: tuple[Noticed, ...] = ()  # of the same matter, but graver, or less, or by another rule

    @property
    def by_word(self) -> tuple[tuple[str, tuple[Noticed, ...]], ...]:
        """What came of findings, in the order in which it is told."""
        return ("new", self.new), ("changed", self.changed), ("cured", self.cured)


@dataclass(frozen=True)
class NotUnderstood:
    """A description that could not be understood, and whether a sheet of an earlier text is there."""

    path: str
    problems: tuple[Problem, ...]
    sheet: str


class Reader:
    """A register that is only read. NotARegister where there is none."""

    def __init__(self, path: Path):
        self.path = path
        self._base = to_read(path)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None,
                 trace: TracebackType | None) -> None:
        self._base.close()
        if isinstance(error, sqlite3.Error):
            raise NotARegister(f"{self.path} cannot be read: {error}.") from None

    def lines(self) -> Iterator[IndexLine]:
        """Every dwelling that is there and understood, in the order of the paths."""
        names = ", ".join(IndexLine.__dataclass_fields__)
        for row in self._base.execute(f"SELECT {names} FROM now WHERE understood ORDER BY path"):
            line = IndexLine(*row)
            yield line

    def not_understood(self) -> Iterator[NotUnderstood]:
        """Every description that could not be understood, with its problems."""
        for state, path, sheet in self._base.execute(
                "SELECT id, path, sheet FROM now WHERE NOT understood ORDER BY path").fetchall():
            rows = self._base.execute("SELECT line, col, code, message, hint FROM problem WHERE state = ? "
                                      "ORDER BY ordinal", (state,))
            yield NotUnderstood(path, tuple(Problem(Mark(line, column), *rest) for line, column, *rest in rows), sheet)

    def troubles(self) -> list[tuple[str, str]]:
        """(path, why) of every dwelling that could not be made, for no fault of its text."""
        return self._base.execute("SELECT path, trouble FROM dwelling WHERE trouble != '' AND gone IS NULL "
                                  "ORDER BY path").fetchall()

    def ask(self, ask: Ask, today: str, since: int = 0) -> list[tuple[object, ...]]:
        """The rows that answer a question; `since` leaves out what stood so before that run."""
        rows = self._base.execute(ask.sql, {"today": today}).fetchall()
        if not since or not ask.findings:
            return rows
        changes = self.since(since)
        new = {(n.path, n.gravity, n.says) for n in (*changes.new, *changes.changed)}
        return [row for row in rows if (row[0], ask.findings, row[2]) in new]

    def last_whole_before(self, run: int) -> int:
        """The last run before this one that came to its end; 0 where there is none."""
        row = self._base.execute("SELECT max(id) FROM run WHERE whole AND id < ?", (run,)).fetchone()
        return int(row[0] or 0)

    def last_run(self) -> int:
        """The last run that came to its end; 0 where there is none."""
        row = self._base.execute("SELECT max(id) FROM run WHERE whole").fetchone()
        return int(row[0] or 0)

    def first_run_from(self, day: str) -> int:
        """The first run on that day or later; one that never was where there is none."""
        row = self._base.execute("SELECT min(id) FROM run WHERE day >= ?", (day,)).fetchone()
        return int(row[0] or self._base.execute("SELECT coalesce(max(id), 0) + 1 FROM run").fetchone()[0])

    def since(self, run: int) -> Since:
        """What changed from what stood before a run to what stands now."""
        new: list[Noticed] = []
        cured: list[Noticed] = []
        other: list[Noticed] = []
        added: list[str] = []
        changed = self._base.execute(
            "SELECT dwelling.id, path, state.id, understood FROM dwelling JOIN state ON state.id = dwelling.state "
            "WHERE gone IS NULL AND state.run >= ? ORDER BY path", (run,)).fetchall()
        for dwelling, path, state, understood in changed:
            before = self._base.execute("SELECT max(id), max(understood * id) FROM state WHERE dwelling = ? "
                                        "AND run < ?", (dwelling, run)).fetchone()
            added += [path] if before[0] is None else []
            if understood:
                found = compared(self._findings(before[1], path), self._findings(state, path))
                new += found.new
                cured += found.cured
                other += [replace(now, was=(was.gravity, was.says)) for was, now in found.changed]
        gone = self._base.execute("SELECT path FROM dwelling WHERE gone >= ? ORDER BY path", (run,)).fetchall()
        total: int = self._base.execute("SELECT coalesce(sum(dangers + put_right + notes), 0) FROM now").fetchone()[0]
        return Since(_by_gravity(new), _by_gravity(cured), total - len(new) - len(other), tuple(added),
                     tuple(path for path, in gone), not self.last_whole_before(run), _by_gravity(other))

    def _findings(self, state: int | None, path: str) -> list[Noticed]:
        rows = self._base.execute(
            "SELECT job, gravity, says, rule, gravity, accessory, terminal, core FROM finding "
            "JOIN state ON state.id = finding.state WHERE state = ? ORDER BY ordinal", (state,)) if state else ()
        return [Noticed(path, job, gravity, says, tuple(identity)) for job, gravity, says, *identity in rows]


def _by_gravity(found: list[Noticed]) -> tuple[Noticed, ...]:
    return tuple(sorted(found, key=lambda n: (GRAVITIES.index(n.gravity), n.path)))
