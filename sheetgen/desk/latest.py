"""Asks the worker for what the page is to show; whoever asked for an older text is told that it was dropped."""

from __future__ import annotations

import asyncio
import itertools
import multiprocessing
import threading
from collections.abc import Mapping
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess

from sheetgen.desk.moment import Cured, Drawn, Judged, Refusal
from sheetgen.desk.worker import Answer, Errand, Worked, serve
from sheetgen.model.finding_out import FaultFound, Identified


class Dropped(Exception):
    """A newer text came before this one was worked out."""


class Latest:
    """One worker, and the answers that are still to come."""

    def __init__(self) -> None:
        self._numbers = itertools.count(1)
        self._waiting: dict[int, tuple[str, asyncio.Future[Worked]]] = {}
        self._drawn: tuple[str, Mapping[str, str]] = "", {}
        self._begun: tuple[str, Mapping[str, str], asyncio.Task[Worked]] | None = None
        self._process: BaseProcess | None = None
        self._connection: Connection | None = None

    def start(self) -> None:
        """The worker, if none is running."""
        if self._process is not None and self._process.is_alive():
            return
        context = multiprocessing.get_context("spawn")
        self._connection, theirs = context.Pipe()
        self._process = context.Process(target=serve, args=(theirs,), daemon=True, name="sheetgen desk")
        self._process.start()
        theirs.close()
        loop = asyncio.get_running_loop()
        threading.Thread(target=self._hear, args=(self._connection, loop), daemon=True).start()

    def stop(self) -> None:
        """The worker ended."""
        if self._process is not None:
            self._process.terminate()
            self._process.join(2)

    async def judged(self, text: str, stands: Mapping[str, str], operated: str = "") -> Judged:
        """The text understood and judged. Raises Dropped."""
        value = await self._ask(text, stands, operated, "judged")
        assert isinstance(value, Judged)
        return value

    async def drawn(self, text: str, stands: Mapping[str, str]) -> Drawn:
        """The drawing. Raises Dropped."""
        begun, self._begun = self._begun, None
        if begun and begun[:2] == (text, stands):
            value = await begun[2]
        else:
            value = await self._ask(text, stands, "", "drawn")
        assert isinstance(value, Drawn)
        self._drawn = text, dict(stands)
        return value

    def begin_drawing(self, text: str, stands: Mapping[str, str]) -> None:
        """The drawing worked out while the page is still taking in what was judged; it asks for it next."""
        if (text, stands) == self._drawn:
            return
        task = asyncio.create_task(self._ask(text, stands, "", "drawn"))
        task.add_done_callback(lambda done: done.cancelled() or done.exception())  # nobody may ask for it
        self._begun = text, dict(stands), task

    async def cured(self, text: str) -> Cured:
        """The findings with what mends them. Raises Dropped."""
        value = await self._ask(text, {}, "", "cured")
        assert isinstance(value, Cured)
        return value

    async def found(self, text: str, kind: str, said: tuple[str, ...]) -> FaultFound | Identified | Refusal:
        """A plan of tests, "fault" or "identify", or why there is none. Raises Dropped."""
        value = await self._ask(text, {}, "", kind, said)
        assert isinstance(value, (FaultFound, Identified, Refusal))
        return value

    async def _ask(self, text: str, stands: Mapping[str, str], operated: str, stage: str,
                   said: tuple[str, ...] = ()) -> Worked:
        self.start()
        job = Errand(next(self._numbers), text, dict(stands), operated, stage, said)
        for number, (older, waiting) in list(self._waiting.items()):
            if older != text:
                del self._waiting[number]
                _settle(waiting, None)
        future: asyncio.Future[Worked] = asyncio.get_running_loop().create_future()
        self._waiting[job.number] = (text, future)
        assert self._connection is not None
        await asyncio.to_thread(self._connection.send, job)
        return await future

    def _hear(self, connection: Connection, loop: asyncio.AbstractEventLoop) -> None:
        while True:
            try:
                answer = connection.recv()
            except (EOFError, OSError):
                answer = None
            try:
                loop.call_soon_threadsafe(self._take, answer)
            except RuntimeError:  # the page is closed
                return
            if answer is None:
                return

    def _take(self, answer: Answer | None) -> None:
        if answer is None:  # the worker is gone: whoever waits asks again, and another is started
            waiting = [future for _, future in self._waiting.values()]
            self._waiting.clear()
            for future in waiting:
                _settle(future, None)
        elif answer.number in self._waiting:
            _settle(self._waiting.pop(answer.number)[1], answer.value)


def _settle(future: asyncio.Future[Worked], value: Worked | None) -> None:
    if future.done():
        return
    if value is None:
        future.set_exception(Dropped())
    else:
        future.set_result(value)
