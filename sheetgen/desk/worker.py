"""A process of its own that works a text out; what it is at is dropped as soon as a newer text is there.

It stays warm: a newer text interrupts what is being computed, not the process.
"""

from __future__ import annotations

import os
import queue
import signal
import threading
from _thread import interrupt_main
from collections.abc import Mapping
from dataclasses import dataclass, field
from multiprocessing.connection import Connection

from sheetgen.desk.moment import Cured, Drawn, Judged, Refusal
from sheetgen.model.finding_out import FaultFound, Identified
from sheetgen.model.problems import Mark, Problem

STAGES = ("judged", "drawn", "fault", "identify", "cured")  # in the order in which a page needs them
SLOW = STAGES[2:]  # these give way to the others
Worked = Judged | Drawn | Cured | Refusal | FaultFound | Identified


@dataclass(frozen=True)
class Errand:
    """A text to be worked out with the switches as they stand, as far as the stage says."""

    number: int
    text: str
    stands: Mapping[str, str] = field(default_factory=dict)
    operated: str = ""
    stage: str = "judged"
    said: tuple[str, ...] = ()  # what is seen, for a plan of tests


@dataclass(frozen=True)
class Answer:
    """What came of a job."""

    number: int
    value: Worked


class _Errands:
    """The jobs in hand, shared by the thread that takes them in and the main thread that does them."""

    def __init__(self) -> None:
        self.jobs: list[Errand] = []
        self.doing: Errand | None = None
        self.changed = threading.Condition()

    def take_in(self, job: Errand) -> None:
        """A job; those of an older text are dropped. What is being done for one of them is interrupted, and so is
        what is slow by what is needed sooner; it begins anew."""
        with self.changed:
            self.jobs = [*(j for j in self.jobs if j.text == job.text), job]
            doing = self.doing
            if doing and (doing.text != job.text or (doing.stage in SLOW and job.stage not in SLOW)):
                self.doing = None
                interrupt_main()
            self.changed.notify()

    def next(self) -> Errand:
        with self.changed:
            while not self.jobs:
                self.changed.wait()
            self.doing = min(self.jobs, key=lambda job: STAGES.index(job.stage))
            return self.doing

    def done(self, job: Errand) -> None:
        with self.changed:
            self.doing = None
            self.jobs = [j for j in self.jobs if j.number != job.number]


def serve(connection: Connection) -> None:
    """Work out what comes in until the other side is gone."""
    signal.signal(signal.SIGINT, signal.default_int_handler)  # a desk begun in the background inherits it ignored
    bench = _Errands()
    answers: queue.SimpleQueue[Answer] = queue.SimpleQueue()
    threading.Thread(target=_listen, args=(connection, bench), daemon=True).start()
    threading.Thread(target=_tell, args=(connection, answers), daemon=True).start()
    started = False
    while True:
        try:
            if not started:
                _warm_up()
                started = True
            job = bench.next()
            answers.put(Answer(job.number, work_out(job)))
            bench.done(job)
        except KeyboardInterrupt:  # a newer text is there, or the person at the terminal stops the desk
            continue


def work_out(job: Errand) -> Worked:
    """What is asked for; a fault of the program becomes a problem to be shown, for the page has to go on."""
    from sheetgen.desk.computing import cured_now, drawn_now, found_now, judged_now

    try:
        if job.stage in ("fault", "identify"):
            return found_now(job.text, job.stage, job.said)
        if job.stage == "cured":
            return cured_now(job.text)
        return drawn_now(job.text, job.stands) if job.stage == "drawn" else judged_now(
            job.text, job.stands, job.operated)
    except Exception as error:
        said = f"This is a fault of the program, not of your file: {type(error).__name__}: {str(error)[:200]}"
        if job.stage == "cured":
            return Cured()
        if job.stage in SLOW:
            return Refusal((said,))
        return Drawn(refused=said) if job.stage == "drawn" else Judged((Problem(Mark(), "E900", said),))


def _warm_up() -> None:
    work_out(Errand(0, WARM))
    work_out(Errand(0, WARM, stage="drawn"))


def _listen(connection: Connection, bench: _Errands) -> None:
    while True:
        try:
            job = connection.recv()
        except (EOFError, OSError):
            os._exit(0)
        bench.take_in(job)


def _tell(connection: Connection, answers: queue.SimpleQueue[Answer]) -> None:
    while True:
        answer = answers.get()
        try:
            connection.send(answer)
        except OSError:
            os._exit(0)


WARM = """job: Warm
colours: current
accessories: {A: {kind: ceiling rose}, B: {kind: one-way switch}}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: A, cores: {BN: [L, loop], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: A, to: B, cores: {BN: [loop, COM], BU: [SL, L1], cpc: [E, E]}}
"""
