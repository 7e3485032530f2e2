"""Things for a process apart to do: well, for ever, until memory is out, and to death."""

from __future__ import annotations

import os
import signal
import time
from pathlib import Path

from sheetgen.many.attempt import NotWritten
from sheetgen.model.problems import Mark, Problem, Refused


def act(what: str) -> object:
    """One of them, by its name; 'NAME word' gives the word to it."""
    name, _, word = what.partition(" ")
    return globals()[name](word)


def square(word: str) -> int:
    return int(word) ** 2


def prints(word: str) -> str:
    print(word, flush=True)
    os.write(1, b"raw\n")
    return word


def for_ever(word: str) -> None:
    while True:
        time.sleep(0.01)


def eats(word: str) -> int:
    return len(bytearray(400_000_000))


def falls(word: str) -> None:
    os.kill(os.getpid(), signal.SIGKILL)


def falls_once(word: str) -> str:
    """Falls where the file is not there yet."""
    if not Path(word).exists():
        Path(word).touch()
        falls(word)
    return "done again"


def refuses(word: str) -> None:
    raise Refused([Problem(Mark(3, 4), "E101", "Wrong.", "Put right.")])


def cannot_write(word: str) -> None:
    raise NotWritten("hall.pdf cannot be written: no room.")


def fault(word: str) -> None:
    raise KeyError("a\nfault")


def pid(word: str) -> int:
    return os.getpid()
