"""Workers: many things at once, each in a process apart; what comes first is given first, and few are in hand."""

from __future__ import annotations

import contextlib
from collections.abc import Iterable, Iterator
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from queue import Empty, SimpleQueue
from typing import Any, Protocol, TypeVar

from sheetgen.many.apart import Apart, Function, Limits
from sheetgen.many.attempt import Attempt

Key = TypeVar("Key")
AHEAD = 2  # things in hand for each worker: one it works on, one it takes next


class ClusterLost(Exception):
    """The workers cannot be reached, or cannot do anything; the message says why."""


class Promise(Protocol):
    """What will come of a thing: as concurrent.futures and dask.distributed have it."""

    def add_done_callback(self, call: Any, /) -> Any:
        """Have it called when it is there."""

    def result(self) -> Any:
        """What came of it."""


class Workers(Protocol):
    """Whoever does things."""

    @property
    def number(self) -> int:
        """How many at once."""

    def begin(self, function: Function, argument: object) -> Promise:
        """Have it done; the result is an Attempt."""


class Pool:
    """A number of processes on this machine. A thread waits for each, so it can be ended and begun anew alone."""

    def __init__(self, number: int, limits: Limits):
        self.number, self.limits = number, limits
        self._threads = ThreadPoolExecutor(number)
        self._idle: SimpleQueue[Apart] = SimpleQueue()
        self._all: list[Apart] = []

    def begin(self, function: Function, argument: object) -> Promise:
        """Have it done as soon as a process is idle."""
        return self._threads.submit(self._do, function, argument)

    def _do(self, function: Function, argument: object) -> Attempt[Any]:
        try:
            apart = self._idle.get_nowait()
        except Empty:
            apart = Apart(self.limits)
            self._all.append(apart)
        try:
            return apart.do(function, argument)
        finally:
            self._idle.put(apart)

    def end(self) -> None:
        """End every process; what is in hand is dropped."""
        self._threads.shutdown(wait=False, cancel_futures=True)
        for apart in self._all:
            apart.close()
        self._threads.shutdown()
        for apart in self._all:
            apart.end()


@contextlib.contextmanager
def pool(number: int, limits: Limits) -> Iterator[Pool]:
    """That many processes, ended at the end."""
    made = Pool(number, limits)
    try:
        yield made
    finally:
        made.end()


def each_done(workers: Workers, function: Function,
              things: Iterable[tuple[Key, object]]) -> Iterator[tuple[Key, Attempt[Any]]]:
    """What came of function(argument) for each (key, argument), as it comes.

    Arguments are taken from `things` only when there is room for them, so that a run of any length holds few at once.
    """
    done: SimpleQueue[tuple[int, Key]] = SimpleQueue()
    in_hand: dict[int, Promise] = {}  # kept: a cluster drops what nobody waits for

    def next_done() -> tuple[Key, Attempt[Any]]:
        number, key = done.get()
        came: Attempt[Any] = in_hand.pop(number).result()
        return key, came

    for number, (key, argument) in enumerate(things):
        promise = in_hand[number] = workers.begin(function, argument)
        promise.add_done_callback(partial(_put, done, number, key))
        while len(in_hand) >= AHEAD * workers.number:
            yield next_done()
    while in_hand:
        yield next_done()


def _put(done: SimpleQueue[tuple[int, Key]], number: int, key: Key, promise: object) -> None:
    done.put((number, key))
