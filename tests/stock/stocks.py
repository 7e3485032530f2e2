"""What the tests of the stock share: dwellings to put into folders, runs over them, questions to their register."""

from __future__ import annotations

import contextlib
import sqlite3
from collections.abc import Callable, Iterator
from concurrent.futures import Future
from functools import partial
from pathlib import Path
from typing import Any

from click.testing import Result
from commands.runs import BORROWED, ROOT, SOUND, copied, run

from sheetgen.many.attempt import Attempt, attempt
from sheetgen.pipeline import undrawn_job
from sheetgen.stock import making
from sheetgen.stock.job_to_dwelling import job_to_dwelling
from sheetgen.stock.making import Made, SheetOrder

OLD_MEETS_NEW = ROOT / "examples" / "old-meets-new.yaml"
TODAY = "2026-11-26"
COTTAGE = """\
job: Cottage
place: Cottage
board: {earthing: TT, ze: 21 ohm, ways: {1: {serves: Lights, device: BS 3036 5 A, rcd: 100 mA}}}
colours: legacy
accessories:
  Parlour: {kind: ceiling rose, room: Parlour, lamp: 8 W}
  Door: {kind: one-way switch, room: Parlour}
cables:
  W1: {type: twin 1.0, from: way 1, to: Parlour, length: 6 m, cores: {red: [L, loop], black: [N, N]}}
  W2: {type: twin 1.0, from: Parlour, to: Door, length: 3 m, cores: {red: [loop, COM], black: [SL, L1]},
       sleeved: [black]}
"""
WAS_100 = ("note: No RCD of 30 mA or less is given for circuit 1 (Lights). Circuit 1 (Lights) has one of 100 mA, which "
           "opens at a fault to earth, as a TT supply needs, but does not protect whoever touches a live part.")
NOW_NONE = ("Ze alone is 21 ohm, and circuit 1 (Lights) (BS 3036 5 A) allows a Zs of 9.1 ohm. It is a TT supply and "
            "there is no RCD.")


class Here:
    """Work done in this process, at once."""

    number = 1

    def begin(self, function: Callable[[Any], Any], argument: object) -> Future[Attempt[Any]]:
        done: Future[Attempt[Any]] = Future()
        done.set_result(attempt(partial(function, argument)))
        return done


@contextlib.contextmanager
def here(number: int, limits: object) -> Iterator[Here]:
    """In place of a pool of processes."""
    yield Here()


def make_undrawn(order: SheetOrder) -> Made:
    """In place of making the whole sheet: what is kept of it, and a file that is told from others by its text."""
    dwelling = job_to_dwelling(undrawn_job(order.text, order.source))
    sheet = b"%%PDF-1.4 (sheetgen) %s %s\n%%%%EOF\n" % (order.source.encode(), order.text)
    return Made(dwelling, sheet, making.program_mark())


def three(folder: Path) -> Path:
    """A sound dwelling, one with a danger, one with things to put right and mixed colours."""
    copied(SOUND, folder / "2 Sorrel Row/study.yaml")
    copied(BORROWED, folder / "10 Sorrel Row/landing.yaml")
    copied(OLD_MEETS_NEW, folder / "farm.yaml")
    return folder


def hall(folder: Path, name: str = "hall", more: str = "", switches: str = "[Hall]") -> Path:
    """A small dwelling by method, with whatever else it is to say."""
    path = folder / f"{name}.yaml"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(f"job: {name}\nlights: [Hall]\nswitches: {switches}\nmethod: {{loop: at the rose}}\n{more}")
    return path


def stock(folder: Path, *words: object) -> Result:
    """`sheetgen stock` on a fixed day."""
    return run("stock", folder, "--today", TODAY, *words)


def rows(register: Path, sql: str) -> list[tuple[Any, ...]]:
    """The answer of a register to a question in SQL, as any program would have it."""
    with contextlib.closing(sqlite3.connect(register)) as base:
        return base.execute(sql).fetchall()
