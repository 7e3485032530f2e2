"""A run that is killed leaves whole dwellings, and the next goes on; two runs at once do not meddle."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import threading
import time
from concurrent.futures import Future
from pathlib import Path

import pytest
from commands.runs import ROOT, files_in
from filelock import FileLock
from stock import stocks
from stock.stocks import TODAY, hall, here, make_undrawn, rows, stock

import sheetgen.commands.stock
import sheetgen.commands.stock_run
from sheetgen.many.attempt import Attempt, CameTo

NOW = ("SELECT path, sheet, job, circuits, dangers, put_right, notes, method FROM now JOIN circuit "
       "ON circuit.state = now.id ORDER BY path, ordinal")


def begun(folder: Path, *words: str) -> subprocess.Popen[str]:
    """A run in a process of its own, with one process that makes sheets."""
    command = [sys.executable, "-m", "sheetgen", "stock", str(folder), "--today", TODAY, "--workers", "1", *words]
    return subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)


@pytest.mark.skipif(os.name != "posix", reason="SIGKILL")
def test_a_run_that_is_killed_leaves_whole_dwellings_and_the_next_goes_on(tmp_path: Path) -> None:
    for where in ("broken", "whole"):
        for n in range(8):
            hall(tmp_path / where / "homes" / f"{n}")
    homes, register = tmp_path / "broken/homes", tmp_path / "broken/homes.sqlite"
    run = begun(homes)
    while sum(name.endswith(".pdf") for name in files_in(homes)) < 3:
        assert run.poll() is None, run.communicate()
        time.sleep(0.005)
    run.send_signal(signal.SIGKILL)
    run.communicate()
    kept = rows(register, "SELECT sheet, sheet_bytes FROM dwelling")
    assert 2 <= len(kept) < 8
    for sheet, size in kept:
        data = (homes / sheet).read_bytes()
        assert len(data) == size and data.endswith(b"%%EOF\n")
    assert rows(register, "PRAGMA integrity_check") == [("ok",)]
    assert rows(register, "SELECT count(*) FROM state WHERE id NOT IN (SELECT state FROM circuit)") == [(0,)]
    assert "index.pdf" not in files_in(homes)

    again = begun(homes)
    said = again.communicate()[1]
    assert again.returncode == 0
    assert said == f"{8 - len(kept)} written, {len(kept)} unchanged.\n"
    assert rows(register, "SELECT id, whole FROM run") == [(1, 0), (2, 1)]
    assert not [name for name in files_in(homes) if name.endswith(".part")]

    whole = begun(tmp_path / "whole/homes")
    assert whole.wait() == 0
    assert rows(register, NOW) == rows(tmp_path / "whole/homes.sqlite", NOW)
    for name in files_in(homes):
        assert (homes / name).read_bytes() == (tmp_path / "whole/homes" / name).read_bytes(), name


def test_a_second_run_says_so_or_waits(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sheetgen.commands.stock, "pool", here)
    homes = tmp_path / "homes"
    hall(homes)
    taken, enough = threading.Event(), threading.Event()

    def other_run() -> None:
        with FileLock(tmp_path / ".homes.sqlite.lock"):
            taken.set()
            enough.wait()

    threading.Thread(target=other_run).start()
    taken.wait()
    refused = stock(homes)
    assert refused.exit_code == 3
    assert refused.stderr == (f"Another run works on {tmp_path}/homes.sqlite. Try again when it has ended, or wait "
                              "for it with --wait.\n")
    assert files_in(tmp_path) == [".homes.sqlite.lock", "homes/hall.yaml"]
    threading.Timer(0.3, enough.set).start()
    assert stock(homes, "--wait").exit_code == 0
    assert "homes/hall.pdf" in files_in(tmp_path)


@pytest.mark.skipif(sys.platform != "linux", reason="/proc tells the processes of a process")
def test_a_process_that_is_killed_loses_and_doubles_nothing(tmp_path: Path) -> None:
    homes = tmp_path / "homes"
    for n in range(5):
        hall(homes / f"{n}")
    run = begun(homes)
    while not any(name.endswith(".pdf") for name in files_in(homes)):
        assert run.poll() is None, run.communicate()
        time.sleep(0.005)
    (child,) = "".join(path.read_text() for path in Path(f"/proc/{run.pid}/task").glob("*/children")).split()
    os.kill(int(child), signal.SIGKILL)
    said = run.communicate()[1]
    assert (run.returncode, said) == (0, "5 written.\n")
    assert rows(tmp_path / "homes.sqlite", "SELECT count(*), count(DISTINCT dwelling) FROM state") == [(5, 5)]


def test_what_takes_too_long_is_told_and_tried_again_next_time(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sheetgen.commands.stock, "pool", here)
    monkeypatch.setattr(sheetgen.commands.stock_run, "make", make_undrawn)
    homes = tmp_path / "homes"
    hall(homes, "good"), hall(homes, "slow")
    right = stocks.Here.begin

    def late(self: stocks.Here, function: object, argument: object) -> object:
        if b"job: slow" not in argument.text:  # type: ignore[attr-defined]
            return right(self, function, argument)  # type: ignore[arg-type]
        done: Future[object] = Future()
        done.set_result(Attempt(CameTo.OVER_LIMIT, says="It takes more than 120 s, the time that a file is given."))
        return done

    with monkeypatch.context() as patched:
        patched.setattr(stocks.Here, "begin", late)
        first = stock(homes)
    assert first.exit_code == 3
    assert first.stderr == (f"{homes}/slow.yaml: It takes more than 120 s, the time that a file is given.\n"
                            "1 written, 1 over the limit of time or memory.\n")
    assert (homes / "index-problems.csv").read_text().splitlines()[1:] == [
        "slow.yaml,0,0,\"It takes more than 120 s, the time that a file is given.\","]
    assert stock(homes).stderr == "1 written, 1 unchanged.\n"
    assert (homes / "index-problems.csv").read_text().splitlines()[1:] == []
