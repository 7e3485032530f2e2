"""A process of its own for what may run away, eat the memory or fall over: it is ended, and everything else goes on.

A library's pool shares one pipe between its processes, so that one which is killed while it writes can stop them all.
Here each process has pipes that nobody else holds: its death is an end of file, seen at once.
"""

from __future__ import annotations

import contextlib
import os
import pickle
import subprocess
import sys
import threading
from collections.abc import Callable
from dataclasses import dataclass
from typing import IO, Any

from sheetgen.many.attempt import Attempt, CameTo

TRIES = 2  # of one thing: a process may be ended by something that is none of its doing
HEAD = 8  # bytes that say how long a message is
Function = Callable[[Any], Any]


@dataclass(frozen=True)
class Limits:
    """What one thing may take."""

    seconds: float = 120
    megabytes: int = 2048  # of memory that its process writes to; not kept on every system


class Apart:
    """One process that does things one after another, started when the first comes. One thread at a time uses it."""

    def __init__(self, limits: Limits):
        self.limits = limits
        self._process: subprocess.Popen[bytes] | None = None
        self._late = self._closed = False

    def do(self, function: Function, argument: object) -> Attempt[Any]:
        """What came of function(argument) there; both, and what it gives, must pass through pickle."""
        for _ in range(TRIES):
            answer = self._ask(pickle.dumps((function, argument)))
            if answer is not None:
                came: Attempt[Any] = pickle.loads(answer)
                if came.came_to is CameTo.OVER_LIMIT:
                    self.end()  # what is left of a process without memory is not to be relied on
                return came
            ended = self.end()
            if self._closed:
                break
            if self._late:
                says = f"It takes more than {self.limits.seconds:g} s, the time that a file is given."
                return Attempt(CameTo.OVER_LIMIT, says=says)
        says = f"The process that works on it was ended {TRIES} times ({ended}); please report it if nobody did so."
        return Attempt(CameTo.FAULT, says=says)

    def _ask(self, message: bytes) -> bytes | None:
        """The answer; None where the process ends before it has given it, or is ended because it takes too long."""
        process, self._late = self._running(), False
        watch = threading.Timer(self.limits.seconds, self._stop_late, (process,))
        watch.daemon = True
        watch.start()
        try:
            assert process.stdin is not None and process.stdout is not None
            send(process.stdin, message)
            return receive(process.stdout)
        except OSError:
            return None
        finally:
            watch.cancel()
            watch.join()  # it is not to end the process later, over the next thing

    def _stop_late(self, process: subprocess.Popen[bytes]) -> None:
        self._late = True
        process.kill()

    def _running(self) -> subprocess.Popen[bytes]:
        if self._process is None:
            paths = os.pathsep.join(path or os.getcwd() for path in sys.path)
            self._process = subprocess.Popen(
                [sys.executable, "-P", "-m", "sheetgen.many.child", str(self.limits.megabytes),
                 str(self.limits.seconds)],
                stdin=subprocess.PIPE, stdout=subprocess.PIPE, env={**os.environ, "PYTHONPATH": paths},
                process_group=0 if os.name == "posix" else None,  # what is typed at the terminal is for this one alone
            )
        return self._process

    def close(self) -> None:
        """End the process, from another thread too, and start no more."""
        self._closed = True
        if (process := self._process) is not None:
            process.kill()

    def end(self) -> str:
        """End the process; how it ended, in words."""
        process, self._process = self._process, None
        if process is None:
            return "not running"
        process.kill()
        for pipe in (process.stdin, process.stdout):
            if pipe is not None:
                with contextlib.suppress(OSError):  # what was not sent yet finds nobody
                    pipe.close()
        status = process.wait()
        return f"by signal {-status}" if status < 0 else f"with status {status}"


def send(pipe: IO[bytes], message: bytes) -> None:
    """A message, its length before it."""
    pipe.write(len(message).to_bytes(HEAD, "big"))
    pipe.write(message)
    pipe.flush()


def receive(pipe: IO[bytes]) -> bytes | None:
    """The next message; None where the other side has ended."""
    head = pipe.read(HEAD)
    if len(head) < HEAD:
        return None
    length = int.from_bytes(head, "big")
    message = pipe.read(length)
    return message if len(message) == length else None
