"""What a method alone has laid was never found: no sheet says its colours are not as found, or asks who drew it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from commands.runs import run
from pypdfium2 import PdfDocument

from sheetgen.pipeline import wiring_of

LANDING = ("--light", "Landing", "--switch", "Hall", "--switch", "Landing", "--job", "Landing light")
MEANT = {
    "job": ("--pages", "card,wiring,connections"), "handout": (), "draw": ("--format", "pdf"),
}


def said_of(folder: Path) -> str:
    """All that the sheets of a folder say."""
    return "\n".join(page.get_textpage().get_text_bounded()
                     for file in sorted(folder.glob("*.pdf")) for page in PdfDocument(file.read_bytes()))


@pytest.mark.parametrize("full", [(), ("--full",)], ids=["short", "full"])
@pytest.mark.parametrize("command", MEANT)
def test_no_sheet_of_what_new_writes_speaks_of_what_was_found(command: str, full: tuple[str, ...],
                                                              tmp_path: Path) -> None:
    assert run("new", *LANDING, *full, "-o", tmp_path).exit_code == 0
    made = run(command, tmp_path / "Landing light.yaml", *MEANT[command], "--colours", "legacy", "-o", tmp_path)
    assert made.exit_code == 0
    words = said_of(tmp_path)
    assert "RD" in words and "BN W" not in words
    assert not re.search(r"\bas found\b", words, re.IGNORECASE) and "drawn by" not in words and "BY METHOD" not in words
    assert command == "draw" or "laid by method" in words


def test_what_was_looked_at_since_is_as_found_again(tmp_path: Path) -> None:
    assert run("new", *LANDING, "--full", "-o", tmp_path).exit_code == 0
    file = tmp_path / "Landing light.yaml"
    text = file.read_text(encoding="utf-8")
    assert text.startswith("# Laid by a method. Once you have changed it to what is there, write 'status: as found'.\n")
    file.write_text(text.replace("status: by method", "status: as found"), encoding="utf-8")
    assert run("job", file, "--short", "--colours", "legacy", "-o", tmp_path).exit_code == 0
    words = said_of(tmp_path)
    assert "AS FOUND" in words and "COLOURS NOT AS FOUND" in words and "drawn by ...." in words
    assert "NOT TRACED" not in words


def test_what_a_method_laid_in_a_house_as_found_is_not_traced_and_every_sheet_says_so(tmp_path: Path) -> None:
    file = tmp_path / "laid.yaml"
    file.write_text(LAID + "status: as found\n", encoding="utf-8")
    assert run("job", file, "-o", tmp_path).exit_code == 0
    (made,) = tmp_path.glob("*.pdf")
    sheets = [page.get_textpage().get_text_range() for page in PdfDocument(made)]
    assert len(sheets) > 2 and all("AS FOUND: CORES LAID BY METHOD, NOT TRACED" in sheet for sheet in sheets)


LAID = "job: x\nlights: [Landing]\nswitches: [Hall]\nmethod: {loop: at the rose}\n"


@pytest.mark.parametrize(("more", "laid"), [
    ("", True),
    ("accessories: {Hall switch: {kind: pull-cord switch}}\n", True),
    ("status: proposed\n", False),
    ('seen: ["Landing dead"]\n', False),
    ("accessories: {Porch: {kind: batten lampholder}}\n"
     "cables: {X: {type: t&e 1.0, from: Landing, to: Porch, cores: {BN: [SL, L], BU: [N, N], cpc: [E, E]}}}\n", False),
])
def test_only_what_a_method_alone_has_laid_is_so(more: str, laid: bool) -> None:
    assert wiring_of(LAID + more).laid is laid
