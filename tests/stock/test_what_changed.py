"""What is different between two descriptions: told once, in the words of a sheet; nothing where only the order is."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
import yaml
from commands.runs import BORROWED, SOUND, WRONG, files_in, run
from pdfminer.high_level import extract_text
from stock.stocks import COTTAGE, NOW_NONE, WAS_100

TEXT = BORROWED.read_text()


def told(tmp_path: Path, *pairs: tuple[str, str]) -> list[str]:
    """The lines of what is different once these are replaced."""
    text = TEXT
    for was, now in pairs:
        assert was in text
        text = text.replace(was, now)
    (tmp_path / "new.yaml").write_text(text)
    done = run("changes", BORROWED, tmp_path / "new.yaml")
    assert done.exit_code == 0, done.stderr
    return done.stdout.splitlines()


def test_every_part_in_its_order(tmp_path: Path) -> None:
    assert told(tmp_path, ("C. Wright, on: 2026-05-07", "A. Fitter, on: 2026-10-01"),
                ("6: {serves: Upstairs lights, device: type B 6 A, rcd: 30 mA}",
                 "6: {serves: Upstairs lights, device: BS 3036 5 A, rcd: none}"),
                ("{kind: two-way switch, room: Landing}", "{kind: two-way switch, room: Top, note: stiff}"),
                (", sleeved: [BK]}", ", length: 4 m}"), ("Landing:   {kind: ceiling rose, room: Landing, lamp: 8 W}",
                                                        "Landing:   {kind: ceiling rose, room: Landing, lamp: 10 W}"),
                ) == [
        "Description",
        "    drawn by: C. Wright -> A. Fitter",
        "    drawn on: 2026-05-07 -> 2026-10-01",
        "Board",
        "  way 6",
        "    device: type B 6 A -> BS 3036 5 A",
        "    RCD: 30 mA -> none",
        "Accessories",
        "  Top",
        "    room: Landing -> Top",
        "    note: not given -> stiff",
        "Cables",
        "  W2",
        "    length: not given -> 4 m",
        "    core BK: Hall rose SL, red sleeve – Hall light L1, red sleeve -> Hall rose SL – Hall light L1",
        "Lamps and loads",
        "  Landing lamp",
        "    load: 8 W -> 10 W",
        "Findings",
        "  new: put right: The black core of W2 is a switched line and is not marked at Hall rose SL and Hall light "
        "L1.",
        "  new: note: There is no RCD for circuit 6 (Upstairs lights).",
    ]


def test_what_works_a_lamp_and_what_is_cured(tmp_path: Path) -> None:
    lines = told(tmp_path, ("W3: {type: unsheathed single 1.0, in: the box, from: Hall, to: Hall, cores: "
                            "{RD: [light.COM, landing.COM]}}", "W7: {type: single 1.0, from: way 6, to: Hall, cores: "
                            "{RD: [L, landing.COM]}}"))
    assert lines[:8] == [
        "Cables",
        "  W3",
        "    unsheathed single 1.0 mm², Hall – Hall -> not there",
        "  W7",
        "    not there -> single 1.0 mm², way 6 – Hall",
        "Lamps and loads",
        "  Landing lamp",
        "    ways: circuit 5 (Downstairs lights) and circuit 6 (Upstairs lights) -> circuit 6 (Upstairs lights)",
    ]
    assert lines[8].startswith("    wired: Borrowed neutral: ")
    assert lines[9] == "Findings"
    assert ("  not any more: danger: Landing lamp takes its line from circuit 5 (Downstairs lights) and returns its "
            "neutral to circuit 6 (Upstairs lights).") in lines


def test_another_name_is_told_once(tmp_path: Path) -> None:
    assert told(tmp_path, ("Hall rose", "Hall light"), ("  W5:", "  W9:")) == [
        "Accessories", "  Hall light", "    name: Hall rose -> Hall light",
        "  Hall light lamp", "    name: Hall rose lamp -> Hall light lamp",
        "Cables", "  W9", "    name: W5 -> W9",
    ]


def test_the_order_makes_no_difference(tmp_path: Path) -> None:
    content = yaml.load(TEXT, yaml.BaseLoader)
    for part in ("accessories", "cables"):
        content[part] = dict(reversed(content[part].items()))
    (tmp_path / "new.yaml").write_text(yaml.safe_dump(content, sort_keys=False))
    done = run("changes", BORROWED, tmp_path / "new.yaml")
    assert (done.exit_code, done.stdout) == (0, "The two descriptions say the same.\n")


def test_as_csv_and_as_a_page(tmp_path: Path) -> None:
    (tmp_path / "new.yaml").write_text(TEXT.replace("place: 12 Curlew Terrace", "place: '=12'"))
    assert run("changes", BORROWED, tmp_path / "new.yaml", "--format", "csv").stdout == (
        "part,name,what,before,after\nDescription,,place,12 Curlew Terrace,'=12\n")
    done = run("changes", BORROWED, tmp_path / "new.yaml", "--format", "pdf", "-o", tmp_path / "out")
    assert files_in(tmp_path / "out") == ["landing-borrowed-neutral-to-new-changes.pdf"]
    assert done.stdout == f"{tmp_path}/out/landing-borrowed-neutral-to-new-changes.pdf\n"
    data = (tmp_path / "out/landing-borrowed-neutral-to-new-changes.pdf").read_bytes()
    text = " ".join(extract_text(io.BytesIO(data)).split())
    for said in ("What is different", "1 difference.", "12 Curlew Terrace", "landing-borrowed-neutral.yaml"):
        assert said in text


@pytest.mark.parametrize("files", [(WRONG, SOUND), (SOUND, WRONG)])
def test_what_is_not_understood_is_said_of_its_own_file(files: tuple[Path, Path], tmp_path: Path) -> None:
    done = run("changes", *files, "--format", "pdf", "-o", tmp_path)
    assert done.exit_code == 2 and done.stdout == "" and files_in(tmp_path) == []
    assert all(line.startswith(f"{WRONG}:") for line in done.stderr.splitlines())


def test_an_rcd_that_was_taken_out_cured_nothing_and_a_lamp_without_line_is_worked_by_nothing(tmp_path: Path) -> None:
    old, new = tmp_path / "old.yaml", tmp_path / "new.yaml"
    old.write_text(COTTAGE)
    new.write_text(COTTAGE.replace("rcd: 100 mA", "rcd: none").replace("black: [SL, L1]", "black: [loop, L1]"))
    lines = run("changes", old, new).stdout.splitlines()
    at = lines.index("Findings")
    assert lines[at + 1:] == [
        f"  changed: danger: {NOW_NONE} Before: {WAS_100}",
        "  new: put right: Parlour lamp is on in no setting: no line reaches it.",
    ]
    assert "    worked by: Door -> nothing" in lines and "    on: in 1 of 2 settings -> in no setting" in lines
    back = run("changes", new, old).stdout.splitlines()
    assert f"  changed: {WAS_100} Before: danger: {NOW_NONE}" in back


def test_an_rcd_that_was_fitted_cured_something(tmp_path: Path) -> None:
    old, new = tmp_path / "old.yaml", tmp_path / "new.yaml"
    old.write_text(COTTAGE)
    new.write_text(COTTAGE.replace("rcd: 100 mA", "rcd: 30 mA"))
    assert f"  not any more: {WAS_100}" in run("changes", old, new).stdout.splitlines()
