"""Description files: which are meant, what is read of them, and what is refused before anything is understood."""

from __future__ import annotations

import os
import stat
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path, PurePath

from sheetgen.model.problems import Mark, Problem, Refused, nearest

ENDINGS = (".yaml", ".yml")
MOST_BYTES = 1_000_000  # of one description: ten times a house of a thousand cables written out core by core


@dataclass(frozen=True)
class Source:
    """A description file of a run, and the folder it lies in below the folder that was asked for."""

    path: Path
    below: Path = Path()


def sources_of(paths: Sequence[Path]) -> list[Source]:
    """The files meant: a folder stands for every description below it, in the order of their names; each file once."""
    found: dict[Path, Source] = {}
    for path in paths:
        for source in (path.is_dir() and _below(path)) or [Source(path)]:
            found.setdefault(Path(os.path.abspath(source.path)), source)
    return list(found.values())


def as_text(path: PurePath) -> str:
    """A path with /, bytes in it that are no text as escapes."""
    return os.fsencode(path.as_posix()).decode("utf-8", "backslashreplace")


def _below(folder: Path) -> list[Source]:
    """Hidden folders and files are passed over."""
    found = [
        path for path in folder.rglob("*")
        if path.suffix.lower() in ENDINGS and path.is_file()
        and not any(part.startswith(".") for part in path.relative_to(folder).parts)
    ]
    found.sort(key=lambda path: path.relative_to(folder).parts)
    return [Source(path, path.relative_to(folder).parent) for path in found]


def read_file(path: Path) -> bytes:
    """The bytes of a description file; Refused where there is none, or what is there is no such file."""
    try:
        with open(path, "rb") as file:
            kind = os.fstat(file.fileno()).st_mode
            if not (stat.S_ISREG(kind) or stat.S_ISFIFO(kind)):
                raise _refused("E003", "This is a device, not a file of text.")
            data = file.read(MOST_BYTES + 1)
    except FileNotFoundError:
        raise _refused("E001", "There is no such file.", _nearest_file(path)) from None
    except IsADirectoryError:
        raise _folder(path) from None
    except (OSError, ValueError) as error:
        said = error.strerror if isinstance(error, OSError) else error
        raise _refused("E003", f"The file cannot be opened: {said}.") from None
    if len(data) > MOST_BYTES:
        raise _refused("E004", f"The file holds more than {MOST_BYTES // 1_000_000} MB, too much for a description.",
                       "Describe one dwelling in a file.")
    return data


def _folder(path: Path) -> Refused:
    if _below(path):
        return _refused("E002", "This is a folder.", "Name a description file in it.")
    return _refused("E002", f"No description lies in this folder: no file that ends in {' or '.join(ENDINGS)}.")


def _refused(code: str, message: str, hint: str = "") -> Refused:
    return Refused([Problem(Mark(), code, message, hint)])


def _nearest_file(path: Path) -> str:
    try:
        others = sorted(p.name for p in path.parent.iterdir() if p.suffix.lower() in ENDINGS)
    except OSError:
        return ""
    return nearest(path.name, others) if others else ""
