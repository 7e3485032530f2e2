"""`job --short`, and what stands on every sheet of one that is as found or proposed."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner
from pypdfium2 import PdfDocument

from sheetgen.cli import main

EXAMPLE = Path(__file__).parents[2] / "examples" / "two-way-line-at-switch.yaml"


def sheets(tmp_path: Path, text: str, *options: str) -> list[str]:
    file = tmp_path / "one.yaml"
    file.write_text(text)
    result = CliRunner().invoke(main, ["job", str(file), "-o", str(tmp_path / "out"), *options])
    assert result.exit_code == 0, result.output
    with PdfDocument(tmp_path / "out" / "one.pdf") as pdf:
        return [page.get_textpage().get_text_range() for page in pdf]


def test_short_is_the_card_the_findings_and_the_wiring(tmp_path: Path):
    found = sheets(tmp_path, EXAMPLE.read_text(), "--short")
    assert len(found) == 2  # the one finding has room on the card
    assert "Circuit chart" in found[0] and "Findings" in found[0] and "Wiring" in found[1]
    whole = sheets(tmp_path, EXAMPLE.read_text())
    assert len(whole) > 3 and ["Findings" in whole[0], "Wiring" in whole[1]] == [True] * 2


def test_short_and_pages_together_are_refused(tmp_path: Path):
    result = CliRunner().invoke(main, ["job", str(EXAMPLE), "--short", "--pages", "card", "-o", str(tmp_path)])
    assert result.exit_code == 2 and "--short and --pages both choose the pages" in result.output


@pytest.mark.parametrize("status", ["as found", "proposed"])
def test_the_status_stands_on_every_sheet(tmp_path: Path, status: str):
    text = EXAMPLE.read_text().replace("\n", f"\nstatus: {status}\n", 1)
    found = sheets(tmp_path, text)
    assert all(status.upper() in sheet for sheet in found)
    assert not any("PROPOSED" in sheet or "AS FOUND" in sheet for sheet in sheets(tmp_path, EXAMPLE.read_text()))


def test_no_title_stands_at_the_foot_of_a_sheet_above_a_drawing_that_is_on_the_next(tmp_path: Path):
    found = sheets(tmp_path, (EXAMPLE.parent / "finding-out" / "half-known.yaml").read_text())
    assert any("Overview" in sheet for sheet in found) and not any("Overview, continued" in sheet for sheet in found)
    assert sum("Overview" in sheet for sheet in found) == 1
