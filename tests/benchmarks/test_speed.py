"""How long things take. Not run for time in the suite; `pytest tests/benchmarks --benchmark-enable -n 0` measures."""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from houses import house, house_without, row_of_sensors

from sheetgen.draw.layout import wiring_to_layout
from sheetgen.pipeline import Look, drawings_of, findings_of, job_sheet, style_of, understood, wiring_of
from sheetgen.pipeline.finding_out import fault_search
from sheetgen.solve.wiring_to_solution import wiring_to_solution

ROOT = Path(__file__).parents[2]
SHEETS = ("two-way-line-at-switch", "bungalow")
ROOMS = (3, 10, 20)  # three accessories a room


def cpu_of_children() -> float:
    """CPU seconds, user and system, of the processes that have been waited for."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


@pytest.fixture(scope="module")
def compiled_in(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where the program that is started anew keeps what was compiled of it."""
    return tmp_path_factory.mktemp("compiled")


@pytest.mark.parametrize("name", SHEETS)
def test_job_sheet_cold(benchmark, name: str, tmp_path: Path, compiled_in: Path) -> None:
    command = [sys.executable, "-m", "sheetgen", "job", f"examples/{name}.yaml", "-o", str(tmp_path)]
    compiled = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}  # as an installed program is
    compiled["PYTHONPYCACHEPREFIX"] = str(compiled_in)
    cpu: list[float] = []

    def once() -> None:
        before = cpu_of_children()
        subprocess.run(command, cwd=ROOT, check=True, capture_output=True, env=compiled)
        cpu.append(round(cpu_of_children() - before, 3))

    benchmark.pedantic(once, rounds=7, warmup_rounds=1)
    benchmark.extra_info["CPU s, least"] = min(cpu)
    benchmark.extra_info["peak MB"] = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss // 1024
    assert (tmp_path / f"{name}.pdf").exists()


def sheet_measured(benchmark, text: bytes | str, **rounds: int) -> None:
    """The job sheet of a description, in wall time, and in CPU seconds beside it."""
    cpu: list[float] = []

    def once() -> bytes:
        before = time.process_time()
        sheet = job_sheet(text, Look())
        cpu.append(round(time.process_time() - before, 4))
        return sheet

    assert benchmark.pedantic(once, **rounds).startswith(b"%PDF")
    benchmark.extra_info["CPU s, least"] = min(cpu)


@pytest.mark.parametrize("name", SHEETS)
def test_job_sheet_warm(benchmark, name: str) -> None:
    sheet_measured(benchmark, (ROOT / "examples" / f"{name}.yaml").read_bytes(), rounds=10, warmup_rounds=2)


@pytest.mark.parametrize(("name", "text"), [
    ("sound", house), ("without neutral", lambda rooms: house_without("BU", rooms, 1)),
    ("half without line", lambda rooms: house_without("BN", rooms, rooms // 2)),
    ("row of sensors", lambda rooms: row_of_sensors(3 * rooms // 2)),
])
def test_job_sheet_of_300_accessories(benchmark, name: str, text: Callable[[int], str]) -> None:
    """Of a tenth of that where nothing is measured. Bounds: 10 s of CPU, and 4 s for the sound house."""
    sheet_measured(benchmark, text(100 if benchmark.enabled else 10), rounds=3)


@pytest.mark.parametrize("rooms", ROOMS)
def test_solution(benchmark, rooms: int) -> None:
    wiring = wiring_of(house(rooms))
    assert len(benchmark(wiring_to_solution, wiring).groups) == rooms


def test_fault_search_of_60_accessories(benchmark) -> None:
    """One light of twenty is dead: 915 faults are tried."""
    found = benchmark.pedantic(fault_search, (house(20), ["Rose 3 lamp dead"]), rounds=2)
    assert found.found.tried == 915


@pytest.mark.parametrize("rooms", ROOMS)
def test_check(benchmark, rooms: int) -> None:
    text = house(rooms)
    benchmark(findings_of, text)


@pytest.mark.parametrize("rooms", ROOMS)
def test_layout(benchmark, rooms: int) -> None:
    wiring = wiring_of(house(rooms))
    benchmark(wiring_to_layout, wiring, style_of())


@pytest.mark.parametrize("rooms", ROOMS)
def test_drawing(benchmark, rooms: int) -> None:
    wiring, _, reading = understood(house(rooms))
    assert benchmark(drawings_of, wiring, reading, style_of())
