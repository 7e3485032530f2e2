"""One thing of many is tried: what came of it is a value, and what goes wrong with it goes no further."""

from __future__ import annotations

import traceback
from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path, PurePath
from typing import Generic, TypeVar

from sheetgen.model.problems import BadStyle, Problem, Refused

LONGEST_SAID = 300  # letters of an error that are worth reporting
HERE = Path(__file__).parent
PACKAGE = HERE.parent
Value = TypeVar("Value")


class CameTo(Enum):
    """What came of it."""

    DONE = "done"
    UNCHANGED = "unchanged"
    NOT_UNDERSTOOD = "not understood"
    NOT_WRITTEN = "could not be written"
    OVER_LIMIT = "over the limit of time or memory"
    FAULT = "stopped by a fault of the program"


class NotWritten(Exception):
    """A file that could not be written; the message says which and why."""


@dataclass(frozen=True)
class Attempt(Generic[Value]):
    """What came of it: the value where it was done, else the problems of the text, or what is to be said."""

    came_to: CameTo
    value: Value | None = None
    problems: tuple[Problem, ...] = ()
    says: str = ""
    names_itself: bool = False  # what is said names the file already

    def lines(self, label: str) -> tuple[str, ...]:
        """What is to be said of it, a line each; nothing where it was done."""
        if self.problems:
            return tuple(problem.text(label) for problem in self.problems)
        if not self.says:
            return ()
        return (self.says,) if self.names_itself else (f"{label}: {self.says}",)


def attempt(act: Callable[[], Value]) -> Attempt[Value]:
    """Do it. A style that cannot be used is said of the whole run: BadStyle passes.

    So does that nobody reads on: the run ends there.
    """
    try:
        return Attempt(CameTo.DONE, act())
    except Refused as refused:
        return Attempt(CameTo.NOT_UNDERSTOOD, problems=refused.problems)
    except NotWritten as error:
        return Attempt(CameTo.NOT_WRITTEN, says=str(error), names_itself=True)
    except (BadStyle, BrokenPipeError):
        raise
    except MemoryError:
        return Attempt(CameTo.OVER_LIMIT, says="It needs more memory than a file is given.")
    except Exception as error:
        return Attempt(CameTo.FAULT, says=f"This is a fault of the program, not of your file. Please report this line: "
                                          f"{_fault(error)}")


def _fault(error: Exception) -> str:
    """The program's version, the error, and where in the program it came up, on one line."""
    frames = traceback.extract_tb(error.__traceback__)
    own = [f for f in frames if PACKAGE in Path(f.filename).parents and HERE not in Path(f.filename).parents]
    at = own[-1] if own else frames[-1]
    place = f"{PurePath(at.filename).relative_to(PACKAGE.parent) if own else PurePath(at.filename).name}:{at.lineno}"
    said = " ".join(str(error).split())
    said = said if len(said) <= LONGEST_SAID else f"{said[:LONGEST_SAID]}..."
    return f"sheetgen {_version()}, {type(error).__name__} at {place} in {at.name}{f': {said}' if said else ''}"


def _version() -> str:
    try:
        return version("sheetgen")
    except PackageNotFoundError:
        return "(not installed)"
