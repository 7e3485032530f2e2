"""The other side of apart.py: takes one thing after another from standard input, answers on standard output."""

from __future__ import annotations

import os
import pickle
import signal
import sys
from functools import partial
from typing import Any

from sheetgen.many.apart import receive, send
from sheetgen.many.attempt import Attempt, CameTo, attempt
from sheetgen.model.problems import BadStyle

MEGABYTE = 1_000_000
GRACE = 1.5  # times the limit, which the other side keeps


def work(megabytes: int, seconds: float) -> None:
    """Until the other side is gone. What is printed meanwhile goes to standard error, not between the answers."""
    answers = os.fdopen(os.dup(sys.stdout.fileno()), "wb")
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())
    _bound(megabytes)
    while (message := receive(sys.stdin.buffer)) is not None:
        _end_after(GRACE * seconds)
        answer = pickle.dumps(_answer(message))
        _end_after(0)
        try:
            send(answers, answer)
        except BrokenPipeError:
            os._exit(1)


def _end_after(seconds: float) -> None:
    """Should the other side be killed, nobody else would end what goes on for ever. 0: no longer."""
    if hasattr(signal, "setitimer"):
        signal.setitimer(signal.ITIMER_REAL, seconds)


def _answer(message: bytes) -> Attempt[Any]:
    try:
        return attempt(partial(_called, message))
    except BadStyle as bad:
        return Attempt(CameTo.FAULT, says=f"style: {bad}")


def _called(message: bytes) -> object:
    function, argument = pickle.loads(message)
    return function(argument)


def _bound(megabytes: int) -> None:
    try:
        import resource
    except ImportError:  # pragma: no cover - a system without such limits
        return
    bound, most = megabytes * MEGABYTE, resource.getrlimit(resource.RLIMIT_DATA)[1]
    resource.setrlimit(resource.RLIMIT_DATA, (bound if most < 0 else min(bound, most), most))


if __name__ == "__main__":
    work(int(sys.argv[1]), float(sys.argv[2]))
