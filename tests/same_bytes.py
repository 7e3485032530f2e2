"""Prints the SHA-256 of every job sheet and drawing of the examples, to compare Pythons and versions of libraries.

    PYTHONPATH=. python -m tests.same_bytes > here.txt      # the same lines wherever sheetgen runs
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from pathlib import Path

from sheetgen.pipeline import Look, drawing_files, job_sheet

ROOT = Path(__file__).parents[1]
LOOKS = (Look(), Look(mono=True, paper="a3"))


def lines() -> Iterator[str]:
    """One for each file that is made."""
    for path in sorted(ROOT.joinpath("examples").rglob("*.yaml")):
        text = path.read_bytes()
        for look in LOOKS:
            name = f"{path.relative_to(ROOT)} {'mono' if look.mono else 'colour'} {look.paper}"
            yield f"{name} pdf {_mark(job_sheet(text, look, path.stem))}"
            for ending, content in drawing_files(text, look, "svg"):
                yield f"{name} svg{ending} {_mark(content)}"


def _mark(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


if __name__ == "__main__":
    for line in lines():
        print(line)
