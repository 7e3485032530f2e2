"""Files appear whole or not at all, whatever stops the run, and inside the folder asked for."""

from __future__ import annotations

import errno
import os
import signal
import stat
import subprocess
import sys
from pathlib import Path

import pytest
from commands.runs import ROOT, SOUND, copied, files_in, run

from sheetgen.commands.writing import OutputFolder, _part, _tidy, safe_name
from sheetgen.many.attempt import NotWritten

KILLED = """
import os, signal
from pathlib import Path
from sheetgen.commands.writing import OutputFolder
os.replace = lambda *_: os.kill(os.getpid(), signal.SIGKILL)
OutputFolder(Path({folder!r})).write("hall.pdf", b"half of it")
"""
WRITER = """
import sys
from pathlib import Path
from sheetgen.commands.writing import OutputFolder
for number in range(200):
    OutputFolder(Path({folder!r})).write("hall.pdf", {letter!r} * 200_000)
"""


def python(code: str) -> subprocess.Popen[bytes]:
    return subprocess.Popen([sys.executable, "-c", code], cwd=ROOT, stderr=subprocess.PIPE)


def test_what_a_killed_run_left_is_taken_away_by_the_next(tmp_path: Path) -> None:
    killed = python(KILLED.format(folder=str(tmp_path)))
    killed.communicate()
    assert killed.returncode == -signal.SIGKILL
    (left,) = files_in(tmp_path)
    assert left.endswith(".part") and left.startswith(".")
    mine = copied(SOUND, tmp_path / ".mine.part")
    assert run("job", SOUND, "-o", tmp_path, "--pages", "card").exit_code == 0
    assert files_in(tmp_path) == [mine.name, f"{SOUND.stem}.pdf"]


def test_two_runs_into_one_folder_leave_one_whole_file(tmp_path: Path) -> None:
    writers = [python(WRITER.format(folder=str(tmp_path), letter=letter)) for letter in (b"a", b"b")]
    for writer in writers:
        _, said = writer.communicate()
        assert writer.returncode == 0, said.decode()
    assert files_in(tmp_path) == ["hall.pdf"]
    assert (tmp_path / "hall.pdf").read_bytes() in (b"a" * 200_000, b"b" * 200_000)


def test_two_commands_at_once_write_what_one_does(tmp_path: Path) -> None:
    words = [sys.executable, "-m", "sheetgen", "job", str(SOUND), "--pages", "card", "-o"]
    both = [subprocess.Popen([*words, str(tmp_path / "both")], cwd=ROOT, stdout=subprocess.DEVNULL) for _ in range(2)]
    assert [command.wait() for command in both] == [0, 0]
    subprocess.run([*words, str(tmp_path / "one")], cwd=ROOT, check=True, stdout=subprocess.DEVNULL)
    name = f"{SOUND.stem}.pdf"
    assert files_in(tmp_path / "both") == [name]
    assert (tmp_path / "both" / name).read_bytes() == (tmp_path / "one" / name).read_bytes()


def test_a_full_disk_is_said_and_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    old = tmp_path / f"{SOUND.stem}.pdf"
    old.write_bytes(b"the sheet of last year")

    def full(handle: int, data: bytes) -> int:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "write", full)
    done = run("job", SOUND, "-o", tmp_path)
    assert done.exit_code == 3
    assert done.stderr == f"{old} cannot be written: No space left on device.\n"
    assert files_in(tmp_path) == [old.name] and old.read_bytes() == b"the sheet of last year"


def test_a_disk_that_is_full_in_the_middle_of_a_file(tmp_path: Path) -> None:
    """The system itself refuses: no file of this process may be longer than 1,000 bytes. It keeps nothing compiled."""
    code = ("import resource, signal, sys; resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000)); "
            "from sheetgen.cli import main; main()")
    words = [sys.executable, "-B", "-c", code, "job", str(SOUND), "-o", str(tmp_path / "out")]
    done = subprocess.run(words, cwd=ROOT, capture_output=True, text=True)
    assert done.returncode == 3
    assert done.stderr == f"{tmp_path}/out/{SOUND.stem}.pdf cannot be written: File too large.\n"
    assert files_in(tmp_path) == []


@pytest.mark.parametrize("command", ["job", "draw", "handout", "screen"])
def test_a_folder_that_cannot_be_is_said(command: str, tmp_path: Path) -> None:
    file = copied(SOUND, tmp_path / "file")
    for folder in (file, file / "within"):
        done = run(command, SOUND, "-o", folder)
        assert done.exit_code == 3, done.output
        assert done.stderr.startswith(f"{folder}/{SOUND.stem}") and "cannot be written: " in done.stderr
        assert len(done.stderr.splitlines()) == 1


def test_a_comparison_and_a_new_description_that_cannot_be_written(tmp_path: Path) -> None:
    file = copied(SOUND, tmp_path / "file")
    for words in (("compare", SOUND, SOUND), ("new", "--from", SOUND)):
        done = run(*words, "-o", file / "within")
        assert done.exit_code == 3 and "cannot be written: Not a directory." in done.stderr


def test_every_file_and_its_folder_are_on_the_disk_before_the_run_ends(tmp_path: Path,
                                                                      monkeypatch: pytest.MonkeyPatch) -> None:
    settled: list[str] = []
    right, moved = os.fsync, os.replace

    def fsync(handle: int) -> None:
        settled.append("folder" if stat.S_ISDIR(os.fstat(handle).st_mode) else "file")
        right(handle)

    def replace(before: str, after: Path) -> None:
        settled.append("named")
        moved(before, after)

    monkeypatch.setattr(os, "fsync", fsync)
    monkeypatch.setattr(os, "replace", replace)
    OutputFolder(tmp_path).write("hall.pdf", b"whole")
    assert settled == ["file", "named", "folder"]


def test_a_file_is_never_seen_in_part(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Before all is written there is no file of the name, though many pieces are written."""
    right, seen = os.write, []

    def write(handle: int, data: bytes) -> int:
        seen.append(sorted(p.name for p in tmp_path.iterdir() if not p.name.startswith(".")))
        return right(handle, bytes(data)[:1000])

    monkeypatch.setattr(os, "write", write)
    path = OutputFolder(tmp_path).write("hall.pdf", b"x" * 10_500)
    assert len(seen) == 11 and seen == [[]] * 11
    assert path.read_bytes() == b"x" * 10_500


@pytest.mark.parametrize(("mask", "mode"), [(0o027, 0o640), (0o022, 0o644), (0, 0o666)])
def test_a_file_may_be_read_by_whom_the_system_lets(mask: int, mode: int, tmp_path: Path) -> None:
    before = os.umask(mask)
    try:
        path = OutputFolder(tmp_path).write("hall.pdf", b"whole")
    finally:
        os.umask(before)
    assert stat.S_IMODE(path.stat().st_mode) == mode


def test_nothing_leads_out_of_the_folder(tmp_path: Path) -> None:
    out = tmp_path / "out"
    for name in ("../hall.pdf", "/hall.pdf", "a/../../hall.pdf"):
        OutputFolder(out).write(name, b"whole")
    assert all(name.startswith("out/") for name in files_in(tmp_path))
    (tmp_path / "elsewhere").mkdir()
    (out / "linked").symlink_to(tmp_path / "elsewhere")
    with pytest.raises(NotWritten, match="leads out of the folder asked for"):
        OutputFolder(out).write("linked/hall.pdf", b"whole")
    assert files_in(tmp_path / "elsewhere") == []


def test_a_link_is_replaced_not_followed(tmp_path: Path) -> None:
    kept = tmp_path / "kept.txt"
    kept.write_text("mine")
    (tmp_path / "out").mkdir()
    (tmp_path / "out/hall.pdf").symlink_to(kept)
    OutputFolder(tmp_path / "out").write("hall.pdf", b"whole")
    assert kept.read_text() == "mine" and (tmp_path / "out/hall.pdf").read_bytes() == b"whole"


@pytest.mark.parametrize(("name", "safe"), [
    ("hall", "hall"), ("../../etc/passwd", "_.._etc_passwd"), ("..", "sheet"), ("flat:1", "flat_1"),
    ("a\nb\x1b[2J", "a_b_[2J"), ("\U0001f4a1", "\U0001f4a1"), ("\u202egnp", "_gnp"), ("a\u2028b", "a_b"), ("", "sheet"),
    ("flat 1, rear", "flat 1, rear"), ('<"|?*\\>', "_______"), (".hidden", "hidden"),
    ("Xmas lights.yaml", "Xmas lights.yaml"),
])
def test_names_of_files(name: str, safe: str) -> None:
    assert safe_name(name) == safe


def test_what_another_run_is_writing_now_is_left_to_it(tmp_path: Path) -> None:
    """It is locked; what was left half-written by a run that is gone is not."""
    left = tmp_path / ".sheetgen-left.part"
    left.write_bytes(b"half")
    with _part(tmp_path) as (_, part):
        _tidy(tmp_path)
        assert [str(path) for path in tmp_path.iterdir()] == [part]
    assert not list(tmp_path.iterdir())
