"""`sheetgen desk` as it is started: where it listens, what it prints, and that a kill loses nothing."""

from __future__ import annotations

import os
import re
import signal
import socket
import subprocess
import sys
from http.client import HTTPConnection
from pathlib import Path
from urllib.parse import urlencode, urlsplit

import pytest
from commands.runs import run

ROOT = Path(__file__).parents[2]


def started(folder: Path, *words: str) -> tuple[subprocess.Popen, str]:
    """The program over a folder, and the address that it printed."""
    process = subprocess.Popen(
        [sys.executable, "-m", "sheetgen", "desk", *words, "--no-browser"], cwd=folder, text=True,
        env={**os.environ, "PYTHONPATH": str(ROOT), "PYTHONUNBUFFERED": "1"}, stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT)
    line = process.stdout.readline()
    address = re.search(r"http://127\.0\.0\.1:\d+/\S+", line)
    assert address, line + process.stdout.read()
    return process, address[0]


def ask(address: str, method: str = "GET", rest: str = "", fields: dict[str, str] | None = None) -> str:
    """The body of an answer."""
    parts = urlsplit(address)
    connection = HTTPConnection(parts.netloc, timeout=60)
    connection.request(method, parts.path + rest, urlencode(fields) if fields else None, {
        "Origin": f"http://{parts.netloc}", "Content-Type": "application/x-www-form-urlencoded"})
    answer = connection.getresponse()
    assert answer.status == 200
    return answer.read().decode()


def test_it_listens_on_this_machine_alone_and_a_kill_loses_nothing(tmp_path):
    process, address = started(tmp_path, "house.yaml")
    port = urlsplit(address).port
    with pytest.raises(OSError), socket.create_connection(("127.0.0.2", port), timeout=2):
        pass
    assert "house.yaml" in ask(address)
    change = {"do": "head", "field": "place", "value": "Rosehip Cottage", "version": "1"}
    assert "Rosehip Cottage" in ask(address, "POST", "change", change)
    process.kill()
    process.wait(10)
    assert not (tmp_path / "house.yaml").exists()
    process, again = started(tmp_path, "house.yaml")
    assert again != address
    page = ask(again)
    assert "place: Rosehip Cottage" in page and "Taken up where it was left" in page
    process.send_signal(signal.SIGINT)
    assert process.wait(10) == 0


@pytest.mark.parametrize(("words", "said"), [
    (["notes.txt"], "a plain name that ends in .yaml"), (["no/such/house.yaml"], "There is no folder no/such"),
])
def test_what_cannot_be_a_description_is_refused(tmp_path, monkeypatch, words, said):
    monkeypatch.chdir(tmp_path)
    result = run("desk", "--no-browser", *words)
    assert result.exit_code == 2 and said in result.output
    assert list(tmp_path.iterdir()) == []


def test_the_program_starts_without_the_page():
    code = ("import sys, sheetgen.cli, sheetgen.commands.job; "
            "print([m for m in ('starlette', 'uvicorn') if m in sys.modules])")
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
