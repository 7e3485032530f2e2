"""How long things take. Not run for time in the suite; `pytest tests/benchmarks --benchmark-enable -n 0` measures."""

from __future__ import annotations

import resource
import subprocess
import sys
from pathlib import Path

import pytest
from houses import house

from sheetgen.draw.layout import wiring_to_layout
from sheetgen.pipeline import Look, drawings_of, findings_of, job_sheet, style_of, understood, wiring_of
from sheetgen.solve.wiring_to_solution import wiring_to_solution

ROOT = Path(__file__).parents[2]
SHEETS = ("two-way-line-at-switch", "bungalow")
ROOMS = (3, 10, 20)  # three accessories a room


@pytest.mark.parametrize("name", SHEETS)
def test_job_sheet_cold(benchmark, name: str, tmp_path: Path) -> None:
    command = [sys.executable, "-m", "sheetgen", "job", f"examples/{name}.yaml", "-o", str(tmp_path)]
    benchmark.pedantic(lambda: subprocess.run(command, cwd=ROOT, check=True, capture_output=True), rounds=5)
    benchmark.extra_info["peak MB"] = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss // 1024
    assert (tmp_path / f"{name}.pdf").exists()


@pytest.mark.parametrize("name", SHEETS)
def test_job_sheet_warm(benchmark, name: str) -> None:
    text = (ROOT / "examples" / f"{name}.yaml").read_bytes()
    assert benchmark(job_sheet, text, Look(), name).startswith(b"%PDF")


@pytest.mark.parametrize("rooms", ROOMS)
def test_solution(benchmark, rooms: int) -> None:
    wiring = wiring_of(house(rooms))
    assert len(benchmark(wiring_to_solution, wiring).groups) == rooms


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
