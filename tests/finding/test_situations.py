"""Situations from old houses, played through as a new user would: what is written, what comes back, where it ends."""

from __future__ import annotations

from pathlib import Path

import pytest
from commands.runs import copied, run
from pypdfium2 import PdfDocument

FINDING_OUT = Path(__file__).parents[2] / "examples" / "finding-out"


def add(file: Path, *lines: str) -> None:
    file.write_text(file.read_text(encoding="utf-8") + "\n".join(lines) + "\n", encoding="utf-8")


def test_a_rose_with_its_cores_off_is_put_back(tmp_path: Path) -> None:
    file = copied(FINDING_OUT / "opened-rose.yaml", tmp_path / "rose.yaml")
    assert "24 ways of telling these cables apart fit." in run("identify", file, "--print").output
    add(file, "readings:", "  - {between: [c/red, c/black], reads: changes}")
    after = run("identify", file, "--print").output
    assert "6 ways of telling these cables apart fit." in after and "Supply ON" in after
    add(file, "  - {between: [b/red, b/cpc], reads: voltage}")
    done = run("identify", file, "-o", tmp_path, "--write", tmp_path / "back.yaml")
    assert done.exit_code == 0 and "b is the feed, c the switch drop, a and d go on." in done.output
    assert run("job", tmp_path / "back.yaml", "-o", tmp_path).exit_code == 0


def test_a_half_known_landing_light_becomes_a_full_description(tmp_path: Path) -> None:
    file = copied(FINDING_OUT / "half-known.yaml", tmp_path / "half.yaml")
    assert "15 ways of joining these ends fit." in run("identify", file, "--print").output
    add(file, "readings:", "  - {joined: [a/red, a/black], between: [b/red, b/black], reads: closed}",
        "  - {joined: [c/red, c/black], between: [d/red, d/black], reads: closed}")
    assert "2 ways of joining these ends fit." in run("identify", file, "--print").output
    add(file, "  - {joined: [e/red, e/yellow], between: [f/red, f/yellow], reads: closed}")
    done = run("identify", file, "--write", tmp_path / "full.yaml")
    assert done.exit_code == 0 and (tmp_path / "full.yaml").exists(), done.output
    states = run("states", tmp_path / "full.yaml").output
    assert states.count(" on") == 2 and states.count(" off") == 2


@pytest.mark.parametrize(("readings", "says"), [
    ([], "8 of 89 faults fit."),
    (["  - {between: [Porch L, Box SL], reads: open, with: {Porch door: on}}"], "2 of 89 faults fit."),
    (["  - {between: [way 3 L, Porch door COM], reads: open}"], "1 of 89 faults fit."),
    (["  - {between: [way 3 L, Porch door COM], reads: closed}",
      "  - {between: [Porch door COM, Porch door L1], reads: open, with: {Porch door: on}}"], "1 of 89 faults fit."),
    (["  - {between: [way 3 L, Porch N], reads: closed}"], "either something was seen or read wrongly"),
])
def test_a_dead_porch_light(readings: list[str], says: str, tmp_path: Path) -> None:
    file = copied(FINDING_OUT / "dead-light.yaml", tmp_path / "porch.yaml")
    add(file, *readings)
    lamp_is_good = ["--seen", "the rest works"]
    assert says in run("fault", file, *lamp_is_good, "--print").output


def test_the_plan_of_the_dead_light_fits_on_one_sheet(tmp_path: Path) -> None:
    run("fault", FINDING_OUT / "dead-light.yaml", "-o", tmp_path)
    sheets = PdfDocument(tmp_path / "dead-light-fault.pdf")
    text = " ".join(sheets[0].get_textpage().get_text_range().split())
    assert len(sheets) == 1
    assert "For a lead at the board the main switch off as well: its incoming side stays live." in text
    assert text.index("Try the lamp at Porch") < text.index("With a long lead"), "looking before measuring"
