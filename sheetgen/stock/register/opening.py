"""Opening a register: to write, made where there is none and moved forward where it is older; or only to read."""

from __future__ import annotations

import contextlib
import sqlite3
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import quote

from sheetgen.stock.register.schema import APPLICATION, STEPS

PATIENCE = 30  # seconds to wait for a program that reads or writes in it at this moment


class NotARegister(Exception):
    """A file that cannot be used as a register; the message says why."""


def to_write(path: Path) -> sqlite3.Connection:
    """The register, made or moved forward."""
    connection = _opened(path, f"file:{quote(str(path))}?mode=rwc")
    with _said(path):
        version = _version(connection, path, empty=0)
        for number, step in enumerate(STEPS[version:], version + 1):
            with transaction(connection):
                for statement in _statements(step):
                    connection.execute(statement)
                connection.execute(f"PRAGMA application_id = {APPLICATION}")
                connection.execute(f"PRAGMA user_version = {number}")
    return connection


def to_read(path: Path) -> sqlite3.Connection:
    """The register as it is; it has to be of this version."""
    if not path.is_file():
        raise NotARegister(f"There is no register {path}. `sheetgen stock FOLDER` makes it.")
    connection = _opened(path, f"file:{quote(str(path))}?mode=ro")
    with _said(path):
        if _version(connection, path) < len(STEPS):
            raise NotARegister(f"{path} is of an earlier version. `sheetgen stock FOLDER` moves it forward.")
    return connection


@contextlib.contextmanager
def transaction(connection: sqlite3.Connection) -> Iterator[None]:
    """All of it or nothing."""
    connection.execute("BEGIN IMMEDIATE")
    try:
        yield
    except BaseException:
        connection.execute("ROLLBACK")
        raise
    connection.execute("COMMIT")


def _opened(path: Path, uri: str) -> sqlite3.Connection:
    with _said(path):
        connection = sqlite3.connect(uri, uri=True, timeout=PATIENCE, isolation_level=None)
        connection.execute("PRAGMA foreign_keys = ON")
        connection.execute("PRAGMA synchronous = NORMAL")
    return connection


def _version(connection: sqlite3.Connection, path: Path, empty: int | None = None) -> int:
    """The version of a register; of a file with nothing in it `empty`."""
    version: int = connection.execute("PRAGMA user_version").fetchone()[0]
    application: int = connection.execute("PRAGMA application_id").fetchone()[0]
    tables: int = connection.execute("SELECT count(*) FROM sqlite_master").fetchone()[0]
    if tables == 0 and empty is not None:
        return empty
    if application != APPLICATION or version < 1:
        raise NotARegister(f"{path} is a database of something else. Move it, or name another with --register.")
    if version > len(STEPS):
        raise NotARegister(f"{path} is of a later version than this program. Use the later program.")
    return version


@contextlib.contextmanager
def _said(path: Path) -> Iterator[None]:
    try:
        yield
    except sqlite3.Error as error:
        raise NotARegister(f"{path} cannot be used as a register: {error}.") from None


def _statements(script: str) -> Iterator[str]:
    """The statements of a script, each whole; executescript would end the transaction that they stand in."""
    statement = ""
    for line in script.splitlines(keepends=True):
        statement += line
        if sqlite3.complete_statement(statement):
            yield statement.strip()
            statement = ""
