"""The one folder that the desk reads and writes: descriptions lying in it, and beside each its journal."""

from __future__ import annotations

import os
from pathlib import Path

from sheetgen.commands.reading import ENDINGS, read_file
from sheetgen.commands.writing import OutputFolder, safe_name
from sheetgen.desk.desk import NotKept
from sheetgen.many.attempt import NotWritten
from sheetgen.model.problems import Mark, Problem, Refused

MOST_JOURNAL = 20_000_000  # bytes of a journal that are read; larger ones are none of ours
LONGEST = 120  # letters of a file's name


class DeskFolder:
    """A folder on the disk. Nothing outside it is opened, whatever a name or a link in it says."""

    def __init__(self, folder: Path):
        self.folder = folder.resolve()
        self._output = OutputFolder(self.folder)

    def names(self) -> tuple[str, ...]:
        """The descriptions in it that can be opened, those too of which there is only a journal yet."""
        found = {path.name for path in self.folder.iterdir() if path.suffix.lower() in ENDINGS and path.is_file()}
        found |= {path.name[1:].removesuffix(".desk") for path in self.folder.glob(".*.desk") if path.is_file()}
        return tuple(sorted(name for name in found if self.may_be(name)))

    def may_be(self, name: str) -> bool:
        """A plain name with the ending of a description, that leads nowhere else."""
        if name.startswith(".") or safe_name(name) != name or len(name.encode()) > LONGEST:
            return False
        path = self.folder / name
        if not name.lower().endswith(ENDINGS) or path.resolve().parent != self.folder:
            return False
        return not path.exists() or path.is_file()

    def _path(self, name: str) -> Path:
        path = self.folder / name
        if Path(name).name != name or (path.is_symlink() and path.resolve().parent != self.folder):
            raise Refused([Problem(Mark(), "E006", f"'{name}' leads out of the folder.")])
        return path

    def read(self, name: str) -> bytes | None:
        """A file's bytes, None where there is none."""
        path = self._path(name)
        if not path.exists():
            return None
        if name.endswith(".desk"):
            return path.read_bytes() if path.stat().st_size <= MOST_JOURNAL else b""
        return read_file(path)

    def stamp(self, name: str) -> object:
        """When it was changed, how large it is, and which file it is."""
        try:
            stat = self._path(name).stat()
        except OSError:
            return None
        return stat.st_mtime_ns, stat.st_size, stat.st_ino

    def write(self, name: str, data: bytes) -> None:
        """A file written whole or not at all."""
        try:
            self._path(name)
            place = self.folder / name
            if name.startswith("."):
                self._replace(place, data)
            else:
                self._output.write(name, data)
        except (OSError, NotWritten) as error:
            raise NotKept(f"{name} cannot be written: {getattr(error, 'strerror', None) or error}") from None

    def _replace(self, place: Path, data: bytes) -> None:
        part = place.with_name(f"{place.name}.new")
        with open(part, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.replace(part, place)

    def append(self, name: str, data: bytes) -> None:
        """Bytes put at the end of a file, on the disk on return."""
        try:
            with open(self._path(name), "ab") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
        except OSError as error:
            raise NotKept(f"{name} cannot be written: {error.strerror or error}") from None

    def remove(self, name: str) -> None:
        """A file taken away, if it is there."""
        self._path(name).unlink(missing_ok=True)
