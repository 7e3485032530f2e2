"""A run over files: each stands alone, and what came of all of them is said at the end."""

from __future__ import annotations

import contextlib
import sys
import traceback
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from functools import partial
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path, PurePath

from sheetgen.commands.reading import Source, read_file, sources_of
from sheetgen.commands.saying import complain
from sheetgen.commands.writing import NotWritten, names_of
from sheetgen.model.problems import BadStyle, Refused

UNDERSTOOD, DANGER, NOT_UNDERSTOOD, FAILED = 0, 1, 2, 3  # exit statuses; of several the highest counts
LONGEST_SAID = 300  # letters of an error that are worth reporting
PACKAGE = Path(__file__).parents[1]


class CameTo(Enum):
    """What came of a file."""

    DONE = "done"
    NOT_UNDERSTOOD = "not understood"
    NOT_WRITTEN = "could not be written"
    FAULT = "stopped by a fault of the program"


STATUS = {CameTo.DONE: UNDERSTOOD, CameTo.NOT_UNDERSTOOD: NOT_UNDERSTOOD, CameTo.NOT_WRITTEN: FAILED,
          CameTo.FAULT: FAILED}


@dataclass(frozen=True)
class Done:
    """A file that was dealt with: whether the check found a danger in it, and whether the exit status tells so."""

    danger: bool = False
    status: int = UNDERSTOOD


Act = Callable[[], Done | None]
ActOnFile = Callable[[Path, bytes, PurePath], Done | None]


def alone(label: str, act: Act) -> tuple[CameTo, Done]:
    """Do it; what goes wrong is said on standard error and goes no further. A style that cannot be used does."""
    try:
        return CameTo.DONE, act() or Done()
    except Refused as refused:
        for problem in refused.problems:
            complain(problem.text(label))
        return CameTo.NOT_UNDERSTOOD, Done()
    except NotWritten as error:
        complain(str(error))
        return CameTo.NOT_WRITTEN, Done()
    except BadStyle:
        raise
    except Exception as error:
        complain(f"{label}: This is a fault of the program, not of your file. Please report this line: {_fault(error)}")
        return CameTo.FAULT, Done()


def status_alone(label: str, act: Act) -> int:
    """The exit status of a command that does one thing."""
    came_to, done = alone(label, act)
    return max(STATUS[came_to], done.status)


def _fault(error: Exception) -> str:
    """The program's version, the error, and where in the program it came up, on one line."""
    frames = traceback.extract_tb(error.__traceback__)
    own = [f for f in frames if PACKAGE in Path(f.filename).parents]
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


def each_file(paths: Sequence[Path], act: ActOnFile, ending: str = "", did: str = "written") -> int:
    """Run `act` on every file meant, with its bytes and the name of what is made of it; the exit status of the run.

    Files whose names would meet are refused before anything is written; then each file stands alone.
    """
    sources = sources_of(paths)
    names = names_of(sources, ending) if ending else {source.path: PurePath() for source in sources}
    tally: Counter[CameTo] = Counter()
    dangers, worst = 0, UNDERSTOOD
    with _progress(len(sources)) as step:
        for source in sorted(sources, key=lambda s: not isinstance(names[s.path], Refused)):
            came_to, done = alone(str(source.path), partial(_one, source, names[source.path], act))
            tally[came_to] += 1
            dangers += done.danger
            worst = max(worst, STATUS[came_to], done.status)
            step()
    if len(sources) > 1:
        complain(summary(tally, dangers, did))
    return worst


def _one(source: Source, name: PurePath | Refused, act: ActOnFile) -> Done | None:
    if isinstance(name, Refused):
        raise name
    return act(source.path, read_file(source.path), name)


def summary(tally: Counter[CameTo], dangers: int, did: str) -> str:
    """'38 written, 2 not understood, 3 with a danger.'"""
    parts = [f"{tally[CameTo.DONE]} {did}"]
    parts += [f"{tally[kind]} {kind.value}" for kind in CameTo if kind is not CameTo.DONE and tally[kind]]
    parts += [f"{dangers} with a danger"] if dangers else []
    return ", ".join(parts) + "."


@contextlib.contextmanager
def _progress(files: int) -> Iterator[Callable[[], None]]:
    """A bar on a terminal, for more than one file; elsewhere nothing. Gives what moves it on by a file."""
    if files < 2 or not sys.stderr.isatty():
        yield lambda: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TimeRemainingColumn

    console = Console(stderr=True, soft_wrap=True)
    bar = Progress(BarColumn(), MofNCompleteColumn(), TimeRemainingColumn(), console=console, transient=True,
                   redirect_stdout=sys.stdout.isatty())
    with bar:
        task = bar.add_task("", total=files)
        yield lambda: bar.advance(task)
