"""sheetgen stock FOLDER: every dwelling at once, the register, the index; and what is asked of the register."""

from __future__ import annotations

import contextlib
import os
import sys
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import click

from sheetgen.commands.common import look_options
from sheetgen.commands.run import FAILED, NOT_UNDERSTOOD
from sheetgen.commands.saying import complain, csv_text, say
from sheetgen.many.apart import Limits
from sheetgen.many.workers import ClusterLost, Workers, pool
from sheetgen.model.calendar import NotADate, first_day
from sheetgen.model.problems import nearest
from sheetgen.model.words import count
from sheetgen.stock.register.asking import ASKS, Ask, find_ask
from sheetgen.stock.register.opening import NotARegister

CORES = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def _day(ctx: click.Context, param: click.Parameter, value: str | None) -> date | None:
    try:
        return first_day(value) if value else None
    except NotADate as wrong:
        raise click.BadParameter(f"{wrong} Write it as in 2026-03-14.", ctx, param) from None


def _asked(ctx: click.Context, param: click.Parameter, value: str | None) -> Ask | None:
    if value is None:
        return None
    if (ask := find_ask(value)) is None:
        raise click.BadParameter(f"'{value}' cannot be asked. {nearest(value, [a.name for a in ASKS])}", ctx, param)
    return ask


@click.command(name="stock", short_help="Every dwelling of a folder: sheets, register, index.")
@click.argument("folder", type=click.Path(path_type=Path, exists=True, file_okay=False), metavar="FOLDER")
@click.option("-o", "--output", type=click.Path(path_type=Path, file_okay=False), metavar="FOLDER",
              help="Folder to write sheets and index into. Default: FOLDER, each sheet beside its description.")
@click.option("--register", type=click.Path(path_type=Path, dir_okay=False), metavar="FILE",
              help="The register. Default: beside the folder that is written into, FOLDER.sqlite.")
@look_options
@click.option("--ask", callback=_asked, metavar="WHAT",
              help=f"Make nothing; answer from the register: {', '.join(a.name for a in ASKS)}.")
@click.option("--since", callback=_day, metavar="DATE",
              help="Make nothing; say what changed since that day. With --ask: only what is new since then.")
@click.option("--format", "form", type=click.Choice(["text", "csv"]), default="text", show_default=True,
              help="How an answer is printed.")
@click.option("--today", callback=_day, metavar="DATE",
              help="The day from which 'overdue' is reckoned. Default: today.")
@click.option("--workers", type=click.IntRange(1, 256), default=CORES, show_default="one a processor",
              help="Processes that make sheets.")
@click.option("--on", "address", metavar="ADDRESS",
              help="Give the work to the Dask cluster there (tcp://host:8786) instead of processes here.")
@click.option("--seconds", type=click.FloatRange(1), default=120, show_default=True,
              help="The longest that one file may take.")
@click.option("--megabytes", type=click.IntRange(200), default=2048, show_default=True,
              help="The most memory that one file may take.")
@click.option("--wait", is_flag=True, help="Wait while another run works on this stock, instead of saying so.")
def command(folder: Path, output: Path | None, register: Path | None, colours: str, mono: bool, paper: str,
            ask: Ask | None, since: date | None, form: str, today: date | None, workers: int, address: str | None,
            seconds: float, megabytes: int, wait: bool) -> None:
    """Make the sheet of every dwelling that changed since last time, keep the register, write the index.

    Each description below FOLDER is a dwelling. Its sheet is made again when its text, the program or the look
    changed. The register is an SQLite file with the history of every dwelling. index.pdf is to file, index.html to
    look through, the CSV files to work on. A run that is broken off leaves whole dwellings; the next goes on.

    Exit status 0: all made. 2: a description could not be understood. 3: something could not be made or written.
    """
    from sheetgen.stock.index.index import beside

    written = output or folder
    file, day = register or beside(written, ".sqlite"), today or date.today()
    try:
        if ask or since:
            _answer(file, ask, since, day, form)
            return
        with _alone_on(file, wait), _workers(address, workers, Limits(seconds, megabytes)) as hands:
            from sheetgen.commands.stock_run import Stock, run_stock
            from sheetgen.pipeline import Look

            status = run_stock(Stock(folder, written, file, Look(colours, mono, paper), day), hands)
    except (NotARegister, ClusterLost, StockInUse) as error:
        complain(str(error))
        sys.exit(NOT_UNDERSTOOD if ask or since else FAILED)
    sys.exit(status)


class StockInUse(Exception):
    """Another run works on this stock."""


@contextlib.contextmanager
def _alone_on(register: Path, wait: bool) -> Iterator[None]:
    """No second run works on the register meanwhile; a run that is killed holds it no longer."""
    from filelock import FileLock, Timeout

    lock = FileLock(register.with_name(f".{register.name}.lock"))
    try:
        lock.acquire(timeout=-1 if wait else 0)
    except Timeout:
        raise StockInUse(f"Another run works on {register}. Try again when it has ended, or wait for it with "
                    "--wait.") from None
    except OSError as error:
        raise NotARegister(f"{register} cannot be used as a register: {error.strerror or error}.") from None
    try:
        yield
    finally:
        lock.release()


@contextlib.contextmanager
def _workers(address: str | None, number: int, limits: Limits) -> Iterator[Workers]:
    if address is None:
        with pool(number, limits) as hands:
            yield hands
        return
    try:
        from sheetgen.many.cluster import cluster
    except ImportError:
        raise ClusterLost("A cluster needs more libraries: pip install 'sheetgen[cluster]'.") from None
    with cluster(address, limits) as machines:
        yield machines


def _answer(file: Path, ask: Ask | None, since: date | None, today: date, form: str) -> None:
    """What the register says."""
    from sheetgen.stock.register import Reader

    with Reader(file) as reader:
        run = reader.first_run_from(since.isoformat()) if since else 0
        if ask:
            head, rows = ask.columns, reader.ask(ask, today.isoformat(), run)
            said = f"{count(len(rows), 'finding' if ask.findings else 'line')}: {ask.says}."
        else:
            changes = reader.since(run)
            head = ("file", "dwelling", "change", "gravity", "finding")
            rows = [(path, "", "new dwelling", "", "") for path in changes.added]
            rows += [(path, "", "not there any more", "", "") for path in changes.gone]
            rows += [(n.path, n.job, word, n.gravity, n.told) for word, found in changes.by_word for n in found]
            changed = f"{len(changes.changed)} changed, " if changes.changed else ""
            said = (f"{count(len(changes.new), 'new finding')}, {changed}{len(changes.cured)} cured, "
                    f"{changes.standing} standing as before.")
    if form == "csv":
        click.echo(csv_text([head, *rows]), nl=False)
        return
    for row in rows:
        say("  ".join(str(cell) for cell in row if cell != ""))
    complain(said)
