"""One file and one index line make an accessory, a colour set, a join, a loop or a device: each tried for real."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from sheetgen import pipeline
from sheetgen.catalogue import accessories, devices, methods
from sheetgen.catalogue.accessories import switches
from sheetgen.catalogue.devices.device_type import DeviceType
from sheetgen.catalogue.methods import at_rose, two_strappers
from sheetgen.cli import main
from sheetgen.judge.figures.devices import limit_of
from sheetgen.model.accessory import Position, SwitchKind
from sheetgen.model.wiring import Board
from sheetgen.read import style_from_yaml

EXAMPLES = Path(__file__).parents[1] / "examples"


def run(*words: object) -> Result:
    done = CliRunner().invoke(main, [str(w) for w in words])
    assert done.exception is None or isinstance(done.exception, SystemExit), done.exception
    return done


def every_command(file: Path, folder: Path) -> str:
    """What `check` says of it; `job` and `screen` are written, and it is compared with another."""
    for command in ("job", "screen"):
        done = run(command, file, "-o", folder / command)
        assert done.exit_code == 0, done.output + done.stderr
    assert run("compare", file, EXAMPLES / "two-way-conversion.yaml", "-o", folder / "compare").exit_code == 0
    done = run("check", file)
    assert done.exit_code in (0, 1), done.output + done.stderr
    return done.output


@pytest.fixture
def styles(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A folder of styles of one's own, with everything read of the usual one forgotten."""
    folder = tmp_path / "styles"
    shutil.copytree(style_from_yaml.styles_folder(), folder)
    monkeypatch.setattr(style_from_yaml, "styles_folder", lambda: folder)
    forgotten = (style_from_yaml.load_sets, style_from_yaml._load, pipeline.style_of)
    for cached in forgotten:
        cached.cache_clear()
    yield folder
    for cached in forgotten:
        cached.cache_clear()


def test_a_colour_set(styles: Path, tmp_path: Path) -> None:
    legacy = (styles / "colours" / "legacy.yaml").read_text(encoding="utf-8")
    (styles / "colours" / "club.yaml").write_text(
        legacy.replace("name: legacy", "name: club").replace("RD", "VT").replace("title: legacy", "title: club"),
        encoding="utf-8")
    made = run("new", "--light", "Hall", "--switch", "Hall", "--colours", "club", "--print")
    assert made.exit_code == 0 and "colours: club" in made.output
    file = tmp_path / "club.yaml"
    file.write_text(made.output, encoding="utf-8")
    every_command(file, tmp_path)
    screen = next((tmp_path / "screen").iterdir()).read_text(encoding="utf-8")
    assert "All club" in screen
    compared = run("compare", EXAMPLES / "two-way-conversion.yaml", "at the rose, club", "-o", tmp_path / "c")
    assert compared.exit_code == 0, compared.stderr
    assert run("draw", file, "--colours", "club", "-o", tmp_path / "d").exit_code == 0


def test_a_join(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    club = replace(two_strappers.JOIN, name="club join", also=(), briefly=" the club's way")
    monkeypatch.setattr(methods, "JOINS", tuple(club if j is two_strappers.JOIN else j for j in methods.JOINS))
    text = ("job: Club\nmethod: {loop: at the switch, join: club join}\nlights: [Hall]\nswitches: [Hall, Top]\n")
    file = tmp_path / "club.yaml"
    file.write_text(text, encoding="utf-8")
    every_command(file, tmp_path)
    _, _, reading = pipeline.understood(text)
    assert reading.circuits[0].names == ("at the switch", "two-way", "club join")


def test_two_wires_exchanged_in_a_join_of_ones_own_are_named(monkeypatch: pytest.MonkeyPatch) -> None:
    club = replace(two_strappers.JOIN, name="club join", also=(), briefly=" the club's way")
    monkeypatch.setattr(methods, "JOINS", tuple(club if j is two_strappers.JOIN else j for j in methods.JOINS))
    full = pipeline.written_out(
        "job: Club\nmethod: {loop: line at the switches, join: club join, wired: singles in conduit}\n"
        "lights: [Hall]\nswitches: [Hall, Top]\n")
    first = next(line for line in full.splitlines() if "[L, COM]" in line)
    strap = next(line for line in full.splitlines() if "[L1, L1]" in line)
    exchanged = full.replace(first, first.replace("[L, COM]", "[L, L1]")).replace(
        strap, strap.replace("[L1, L1]", "[COM, L1]"))
    _, _, reading = pipeline.understood(exchanged)
    assert "two-way the club's way, but COM and L1 are exchanged at Hall switch" in reading.circuits[0].method


def test_a_loop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    club = replace(at_rose.LOOP, name="at the club", also=(), says="looped at the club")
    monkeypatch.setattr(methods, "LOOPS", tuple(club if loop is at_rose.LOOP else loop for loop in methods.LOOPS))
    text = "job: Club\nmethod: {loop: at the club}\nlights: [Hall]\nswitches: [Hall]\n"
    file = tmp_path / "club.yaml"
    file.write_text(text, encoding="utf-8")
    every_command(file, tmp_path)
    _, _, reading = pipeline.understood(text)
    assert reading.circuits[0].names[0] == "at the club"


def test_a_device(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    club = DeviceType("Club 77", (7,), (r"\bclub\s*77\b",), "the club's own", amps={7: 35})
    monkeypatch.setattr(devices, "CATALOGUE", (*devices.CATALOGUE, club))
    file = tmp_path / "club.yaml"
    text = (EXAMPLES / "one-way-loop-in.yaml").read_text(encoding="utf-8")
    assert "device: type B 6 A" in text
    file.write_text(text.replace("device: type B 6 A", "device: club 77 7 A"), encoding="utf-8")
    every_command(file, tmp_path)
    (way,) = pipeline.wiring_of(file.read_bytes()).board.ways
    limit = limit_of(way, Board(earthing="TN-C-S"))
    assert limit is not None and limit.table == pytest.approx(0.95 * 230 / 35, abs=0.006)  # BS 7671: Cmin x U0 / Ia
    assert "Club 77" in run("list", "devices").output


def test_an_accessory_with_a_timer(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def build(options):
        kind = switches.one_gang("one-way", name="time switch")
        return replace(kind, switches=(SwitchKind(
            (Position("idle"), Position("triggered", (("COM", "L1"),))), what="timer", by_hand=False),))

    entry = accessories.Entry("time switch", build, ("run-back timer",), (), "a timer in place of a switch")
    monkeypatch.setattr(accessories, "CATALOGUE", (*accessories.CATALOGUE, entry))
    monkeypatch.setitem(accessories._SPELLINGS, "time switch", entry)
    text = (EXAMPLES / "one-way-loop-in.yaml").read_text(encoding="utf-8")
    file = tmp_path / "timer.yaml"
    assert "kind: one-way switch" in text
    file.write_text(text.replace("kind: one-way switch", "kind: time switch"), encoding="utf-8")
    every_command(file, tmp_path)
    _, _, reading = pipeline.understood(file.read_bytes())
    assert all("never lit" not in circuit.method for circuit in reading.circuits)
    assert "time switch" in run("list", "accessories").output
