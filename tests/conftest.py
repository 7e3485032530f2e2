"""Puts this folder on the path of every test, and keeps the goldens.

`pytest --accept` rewrites the files under goldens/; without it a changed drawing leaves NAME-changed.svg there.
"""

from __future__ import annotations

import gc
import os
from collections.abc import Callable
from pathlib import Path

import pytest

GOLDENS = Path(__file__).parent / "goldens"

os.environ.pop("PYTHONDONTWRITEBYTECODE", None)  # or every process that a test starts would compile all of it again
gc.set_threshold(100_000, 50, 100)  # what the tests keep is not looked through for garbage again and again


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_auto_num_workers() -> int:
    """One process more than there are cores: some tests wait for a browser, a worker, a clock."""
    return (os.cpu_count() or 1) + 1


def pytest_addoption(parser: pytest.Parser) -> None:
    """The option that takes what is made now as right."""
    parser.addoption("--accept", action="store_true", help="rewrite the goldens under tests/goldens")


@pytest.fixture
def golden(request: pytest.FixtureRequest) -> Callable[[str, str], None]:
    """Compares a text with tests/goldens/<name>, byte for byte."""

    def compare(name: str, text: str) -> None:
        path = GOLDENS / name
        changed = path.with_stem(f"{path.stem}-changed")
        if request.config.getoption("--accept"):
            path.write_text(text, encoding="utf-8")
        if path.is_file() and path.read_text(encoding="utf-8") == text:
            changed.unlink(missing_ok=True)
            return
        changed.write_text(text, encoding="utf-8")
        pytest.fail(f"{name} is not as it was. Compare {changed.name}; if it is better, run pytest --accept.")

    return compare
