"""The mark of the program: another mark, and every sheet is made again."""

from __future__ import annotations

import hashlib
from functools import cache
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from sheetgen.read.style_from_yaml import styles_folder

PACKAGE = Path(__file__).parents[1]
MAKERS = ("reportlab", "fonttools", "rl_accel")  # libraries that a sheet's bytes come from


@cache
def program_mark() -> str:
    """A short mark of the program's own files, its styles and the libraries that write a sheet."""
    mark = hashlib.sha256()
    styles = styles_folder()  # within an installed package, beside one that is checked out
    for folder in (PACKAGE, styles):
        for path in sorted(p for p in folder.rglob("*") if p.is_file() and p.suffix != ".pyc"):
            if folder is styles or styles not in path.parents:
                mark.update(f"{path.relative_to(folder)}\n".encode() + path.read_bytes())
    for name in MAKERS:
        mark.update(f"{name} {_version(name)}\n".encode())
    return mark.hexdigest()[:16]


def _version(name: str) -> str:
    try:
        return version(name)
    except PackageNotFoundError:
        return ""
