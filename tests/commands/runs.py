"""What the tests of the commands share: running them in this process, and descriptions to run them on."""

from __future__ import annotations

from pathlib import Path

from click.testing import CliRunner, Result

from sheetgen.cli import main

ROOT = Path(__file__).parents[2]
FIRST = ROOT / "examples" / "two-way-line-at-switch.yaml"
SOUND = ROOT / "examples" / "one-way-loop-in.yaml"
BORROWED = ROOT / "examples" / "landing-borrowed-neutral.yaml"
WRONG = ROOT / "tests" / "wrong" / "misspelt.yaml"


def run(*words: object) -> Result:
    """A command run in this process."""
    return CliRunner().invoke(main, [str(word) for word in words])


def copied(example: Path, to: Path) -> Path:
    """A copy of a description, in folders made for it."""
    to.parent.mkdir(parents=True, exist_ok=True)
    to.write_bytes(example.read_bytes())
    return to


def files_in(folder: Path) -> list[str]:
    """Every file below a folder, hidden ones too, as names relative to it."""
    return sorted(str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file())


def chain_of_switches(number: int) -> str:
    """A lamp behind that many one-way switches in a row, wired in singles."""
    names = [f"S{i}" for i in range(1, number + 1)]
    before = [("way 1", "L"), *((name, "L1") for name in names)]
    after = [*((name, "COM") for name in names), ("Lamp", "L")]
    cables = [
        f"  W{n}: {{type: single 1.0, from: {a}, to: {b}, cores: {{brown: [{x}, {y}]}}}}"
        for n, ((a, x), (b, y)) in enumerate(zip(before, after, strict=True), 1)
    ]
    return "\n".join([
        "job: A chain", "board: {ways: {1: {serves: Lights}}}", "colours: current", "accessories:",
        *(f"  {name}: {{kind: one-way switch}}" for name in names), "  Lamp: {kind: batten lampholder}", "cables:",
        *cables, "  W99: {type: single 1.0, from: way 1, to: Lamp, cores: {blue: [N, N]}}", "",
    ])
