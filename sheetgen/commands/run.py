"""A run over files: each stands alone, and what came of all of them is said at the end."""

from __future__ import annotations

import contextlib
import sys
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path, PurePath
from typing import Any

from sheetgen.commands.reading import Source, read_file, sources_of
from sheetgen.commands.saying import complain
from sheetgen.commands.writing import names_of
from sheetgen.many.attempt import Attempt, CameTo, attempt
from sheetgen.model.problems import Refused

UNDERSTOOD, DANGER, NOT_UNDERSTOOD, FAILED = 0, 1, 2, 3  # exit statuses; of several the highest counts
STATUS = {CameTo.DONE: UNDERSTOOD, CameTo.UNCHANGED: UNDERSTOOD, CameTo.NOT_UNDERSTOOD: NOT_UNDERSTOOD,
          CameTo.NOT_WRITTEN: FAILED, CameTo.OVER_LIMIT: FAILED, CameTo.FAULT: FAILED}


@dataclass(frozen=True)
class Done:
    """A file that was dealt with: whether the check found a danger in it, and whether the exit status tells so."""

    danger: bool = False
    status: int = UNDERSTOOD


Act = Callable[[], Done | None]
ActOnFile = Callable[[Path, bytes, PurePath], Done | None]


def alone(label: str, act: Act) -> tuple[CameTo, Done]:
    """Do it; what goes wrong is said on standard error and goes no further. A style that cannot be used does."""
    tried = attempt(act)
    _say_what_is_wrong(tried, label)
    return tried.came_to, tried.value or Done()


def _say_what_is_wrong(tried: Attempt[Any], label: str) -> None:
    for line in tried.lines(label):
        complain(line)


def status_alone(label: str, act: Act) -> int:
    """The exit status of a command that does one thing."""
    came_to, done = alone(label, act)
    return max(STATUS[came_to], done.status)


@dataclass
class Tally:
    """What came of the files of a run so far."""

    did: str = "written"
    move_on: Callable[[int], None] = lambda dangers: None  # the bar, told how many dangers there are by now
    came_to: Counter[CameTo] = field(default_factory=Counter)
    dangers: int = 0
    worst: int = UNDERSTOOD

    def count(self, label: str, tried: Attempt[Any], danger: bool = False, status: int = UNDERSTOOD) -> None:
        """One more file, and what came of it; what is wrong with it is said."""
        _say_what_is_wrong(tried, label)
        self.came_to[tried.came_to] += 1
        self.dangers += danger
        self.worst = max(self.worst, STATUS[tried.came_to], status)
        self.move_on(self.dangers)

    def summary(self) -> str:
        """'38 written, 2 not understood, 3 with a danger.'"""
        parts = [f"{self.came_to[CameTo.DONE]} {self.did}"]
        parts += [f"{self.came_to[kind]} {kind.value}" for kind in CameTo
                  if kind is not CameTo.DONE and self.came_to[kind]]
        parts += [f"{self.dangers} with a danger"] if self.dangers else []
        return ", ".join(parts) + "."


def each_file(paths: Sequence[Path], act: ActOnFile, ending: str = "", did: str = "written") -> int:
    """Run `act` on every file meant, with its bytes and the name of what is made of it; the exit status of the run.

    Files whose names would meet are refused before anything is written; then each file stands alone.
    """
    sources = sources_of(paths)
    names = names_of(sources, ending) if ending else {source.path: PurePath() for source in sources}
    with tallied(len(sources), did) as tally:
        for source in sorted(sources, key=lambda s: not isinstance(names[s.path], Refused)):
            tried = attempt(partial(_one, source, names[source.path], act))
            done = tried.value or Done()
            tally.count(str(source.path), tried, done.danger, done.status)
    if len(sources) > 1:
        complain(tally.summary())
    return tally.worst


def _one(source: Source, name: PurePath | Refused, act: ActOnFile) -> Done | None:
    if isinstance(name, Refused):
        raise name
    return act(source.path, read_file(source.path), name)


@contextlib.contextmanager
def tallied(files: int, did: str = "written") -> Iterator[Tally]:
    """The tally of a run over that many files; on a terminal a bar shows it: how far, time left, dangers so far."""
    if files < 2 or not sys.stderr.isatty():
        yield Tally(did)
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    console = Console(stderr=True, soft_wrap=True)
    columns = (BarColumn(), MofNCompleteColumn(), TimeRemainingColumn(), TextColumn("{task.fields[dangers]}"))
    with Progress(*columns, console=console, transient=True, redirect_stdout=sys.stdout.isatty()) as bar:
        task = bar.add_task("", total=files, dangers="")

        def move_on(dangers: int) -> None:
            bar.update(task, advance=1, dangers=f"{dangers} with a danger" if dangers else "")

        yield Tally(did, move_on)
