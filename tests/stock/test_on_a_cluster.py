"""The work given to a real Dask cluster on this machine: nothing lost or doubled when one of its workers is killed."""

from __future__ import annotations

import os
import signal
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from commands.runs import files_in
from distributed import LocalCluster
from many.acts import act
from stock.stocks import hall, rows, stock, three

from sheetgen.many.apart import Limits
from sheetgen.many.attempt import CameTo
from sheetgen.many.cluster import cluster
from sheetgen.many.workers import ClusterLost, each_done
from sheetgen.pipeline import Look, job_sheet

HOMES = 7


@pytest.fixture(scope="module")
def machines() -> Iterator[LocalCluster]:
    """Two workers, each a process that is begun anew when it ends, as on two machines."""
    with LocalCluster(n_workers=2, threads_per_worker=1, processes=True, dashboard_address=":0",
                      silence_logs=50) as made:
        yield made


def test_each_stands_alone_there_as_here(machines: LocalCluster, tmp_path: Path) -> None:
    words = [*(f"square {n}" for n in range(12)), "falls", "refuses", f"falls_once {tmp_path / 'there'}", "for_ever"]
    with cluster(machines.scheduler_address, Limits(seconds=3)) as workers:
        came = dict(each_done(workers, act, enumerate(words)))
    assert [came[n].value for n in range(12)] == [n * n for n in range(12)]
    assert [came[n].came_to for n in (12, 13, 14, 15)] == [
        CameTo.FAULT, CameTo.NOT_UNDERSTOOD, CameTo.DONE, CameTo.OVER_LIMIT]


def test_nothing_is_lost_or_doubled_when_a_worker_is_killed_in_the_middle(machines: LocalCluster,
                                                                         tmp_path: Path) -> None:
    homes, register = tmp_path / "homes", tmp_path / "homes.sqlite"
    three(homes)
    for n in range(HOMES - 3):
        hall(homes / "row", f"{n}")
    killed: list[int] = []

    def kill_one() -> None:
        while not any(name.endswith(".pdf") for name in files_in(homes)):
            time.sleep(0.005)
        killed.append(next(iter(machines.workers.values())).process.pid)
        os.kill(killed[0], signal.SIGKILL)

    killer = threading.Thread(target=kill_one)
    killer.start()
    done = stock(homes, "--on", machines.scheduler_address)
    killer.join()
    assert killed and done.exit_code == 0, done.stderr
    assert done.stderr == f"{HOMES} written, 1 with a danger.\n"
    assert rows(register, "SELECT count(*), count(DISTINCT dwelling) FROM state") == [(HOMES, HOMES)]
    for path in (homes / "farm.yaml", homes / "row/0.yaml"):
        assert path.with_suffix(".pdf").read_bytes() == job_sheet(path.read_bytes(), Look(), path.name)


def test_a_cluster_that_is_not_there_is_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sheetgen.many.cluster.PATIENCE", 0.5)
    hall(tmp_path / "homes")
    done = stock(tmp_path / "homes", "--on", "tcp://127.0.0.1:9")
    assert done.exit_code == 3 and done.stderr.startswith("No cluster answers at tcp://127.0.0.1:9")
    assert len(done.stderr.splitlines()) == 1
    assert not (tmp_path / "homes/hall.pdf").exists()


def test_a_cluster_that_goes_away_is_said(machines: LocalCluster) -> None:
    """The last of these tests: it closes the cluster."""
    with cluster(machines.scheduler_address, Limits(seconds=5)) as workers:
        came = each_done(workers, act, ((n, "for_ever" if n else "square 5") for n in range(4)))
        assert next(came)[1].value == 25
        machines.close()
        with pytest.raises(ClusterLost, match=r"The cluster at tcp://.* is lost"):
            next(came)
