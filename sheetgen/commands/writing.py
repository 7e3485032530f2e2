"""Files that appear whole or not at all, inside the folder asked for, and whose names do not meet."""

from __future__ import annotations

import contextlib
import os
import re
import tempfile
import unicodedata
from collections.abc import Iterator, Sequence
from pathlib import Path, PurePath

from sheetgen.commands.reading import Source
from sheetgen.many.attempt import NotWritten
from sheetgen.model.problems import Mark, Problem, Refused

try:
    from fcntl import LOCK_EX, LOCK_NB, flock
except ImportError:  # pragma: no cover - no locks of files there: leftovers of a killed run then stay
    flock = None  # type: ignore[assignment]

PREFIX, SUFFIX = ".sheetgen-", ".part"
RESERVED = re.compile(r'[/\\:*?"<>|]')  # in a name on one system or another
ATTEMPTS = 5  # to make a file that no other run takes for a leftover before it is locked


class OutputFolder:
    """The folder that a run writes into, made when the first file is."""

    def __init__(self, folder: Path):
        self.folder = folder
        self._tidied: set[Path] = set()

    def write(self, name: str | PurePath, data: bytes) -> Path:
        """Write a file whole or not at all. A name with folders makes those. NotWritten says why not."""
        target = self.folder.joinpath(*(safe_name(part) for part in PurePath(name).parts))
        try:
            self._make(target.parent)
            _write_whole(target, data)
        except OSError as error:
            raise NotWritten(f"{target} cannot be written: {error.strerror or error}.") from None
        return target

    def _make(self, folder: Path) -> None:
        if folder in self._tidied:
            return
        if not folder.is_dir():
            folder.mkdir(parents=True, exist_ok=True)
            _settle(folder.parent)
        if not folder.resolve().is_relative_to(self.folder.resolve()):
            raise OSError(f"{folder} leads out of the folder asked for")
        _tidy(folder)
        self._tidied.add(folder)


def _write_whole(target: Path, data: bytes) -> None:
    """Beside its place first; there only when all of it is on the disk."""
    with _part(target.parent) as (handle, part):
        view = memoryview(data)
        while view:
            view = view[os.write(handle, view):]
        os.chmod(part, 0o666 & ~_umask())
        os.fsync(handle)
        os.replace(part, target)
    _settle(target.parent)


@contextlib.contextmanager
def _part(folder: Path) -> Iterator[tuple[int, str]]:
    """A new file, locked while this run works on it; gone afterwards unless it was given its name."""
    for _ in range(ATTEMPTS):
        handle, part = tempfile.mkstemp(dir=folder, prefix=PREFIX, suffix=SUFFIX)
        if flock is not None:
            flock(handle, LOCK_EX)
        if os.path.exists(part):
            break
        os.close(handle)  # another run took it for a leftover before it was locked
    else:
        raise OSError("other runs take its parts away")
    try:
        yield handle, part
    finally:
        os.close(handle)
        with contextlib.suppress(FileNotFoundError):
            os.unlink(part)


def _tidy(folder: Path) -> None:
    """Take away what runs that were killed left half-written; what another run is writing now is locked and stays."""
    if flock is None:
        return
    for left in sorted(folder.glob(f"{PREFIX}*{SUFFIX}")):
        with contextlib.suppress(OSError), open(left, "rb") as file:
            flock(file, LOCK_EX | LOCK_NB)
            left.unlink()


def _settle(folder: Path) -> None:
    """Have the names in a folder on the disk as well; some kinds of disk cannot be asked to."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def safe_name(name: str) -> str:
    """A file name without anything that leads out of a folder, or that no file may be called on some system."""
    kept = "".join("_" if unicodedata.category(c)[0] == "C" or (c.isspace() and c != " ") else c for c in name)
    return RESERVED.sub("_", kept).lstrip(".") or "sheet"


def names_of(sources: Sequence[Source], ending: str) -> dict[Path, PurePath | Refused]:
    """What the file made of each source is called, without what meets another.

    Sources of one name are told apart by their folders below the one they share; those that still meet are refused.
    """
    names: dict[Path, PurePath] = {s.path: _name(s.below, s.path, ending) for s in sources}
    for meeting in _meeting(names):
        absolute = {path: Path(os.path.abspath(path)) for path in meeting}
        shared = os.path.commonpath([path.parent for path in absolute.values()])
        for path in meeting:
            names[path] = _name(absolute[path].parent.relative_to(shared), path, ending)
    told: dict[Path, PurePath | Refused] = dict(names)
    for meeting in _meeting(names):
        for path in meeting:
            other = next(o for o in meeting if o != path)
            said = f"Its file would be called {names[path]}, as that of {other}."
            told[path] = Refused([Problem(Mark(), "E005", said, "Give one of them another name.")])
    return told


def _name(below: PurePath, path: Path, ending: str) -> PurePath:
    return PurePath(*(safe_name(part) for part in below.parts), safe_name(f"{path.stem}{ending}"))


def _meeting(names: dict[Path, PurePath]) -> list[list[Path]]:
    """The paths whose names are the same file; on some disks capitals and accents do not tell names apart."""
    same: dict[str, list[Path]] = {}
    for path, name in names.items():
        same.setdefault(unicodedata.normalize("NFC", str(name)).casefold(), []).append(path)
    return [paths for paths in same.values() if len(paths) > 1]
