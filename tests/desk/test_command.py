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
from types import SimpleNamespace
from urllib.parse import urlencode, urlsplit

import pytest
from commands.runs import run

from sheetgen.commands import desk
from sheetgen.commands.desk_folder import DeskFolder

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


@pytest.mark.parametrize(("address", "status", "said"), [
    ("192.0.2.7", 0, "Open http://127.0.0.1:PORT/TOKEN/at/new%20house.yaml/\n"
     "On a phone open http://192.0.2.7:PORT/ and type the code CODE\n"
     "Shared on this network without encryption: whoever is on it and has the code can read and change the "
     "descriptions in this folder. Share only on a network of your own, and stop with Ctrl+C when done.\n"
     "Stop with Ctrl+C.\n"),
    ("", 3, "This machine is on no network that a phone could be on, so nothing is shared.\n"),
    ("203.0.113.9", 3,
     "Port PORT cannot be used: Cannot assign requested address. Leave --port out for a free one.\n"),
])
def test_what_is_said_of_sharing(tmp_path, monkeypatch, address: str, status: int, said: str):
    """The addresses are for documentation (RFC 5737); what listens on the first of them stands in for it here."""
    made = desk._listening
    opened, served = [], []
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(desk, "_own_address", lambda: address)
    monkeypatch.setattr(desk, "_listening", lambda at, port: made("127.0.0.3" if at == "192.0.2.7" else at, port))
    monkeypatch.setattr(desk.webbrowser, "open", opened.append)
    monkeypatch.setattr(desk, "_serve", lambda page, sockets: served.extend(s.getsockname() for s in sockets))
    result = run("desk", "--share", "new house.yaml")
    assert result.exit_code == status
    ports = {str(port) for _, port in served}
    told = re.sub(r"(?<=[: ])\d{4,5}(?=[/ ])", "PORT", result.output)
    told = re.sub(r"(?<=the code )\d\S*", "CODE", re.sub(r"(?<=PORT/)[\w-]{16,}(?=/)", "TOKEN", told))
    assert told == said
    assert [at for at, _ in served] == (["127.0.0.1", "127.0.0.3"] if status == 0 else []) and len(ports) <= 1
    assert opened == ([result.output.split()[1]] if status == 0 else [])


@pytest.mark.parametrize(("words", "folder", "at"), [
    ((), "", ""), (("rooms",), "rooms", ""), (("rooms/attic.yaml",), "rooms", "at/attic.yaml/")])
def test_which_folder_the_page_is_over(tmp_path, monkeypatch, words: tuple[str, ...], folder: str, at: str):
    (tmp_path / "rooms").mkdir()
    over = []

    def application(folder: DeskFolder, *_, **__) -> tuple[str, str]:
        over.append(folder.folder)
        return "page", "code"

    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("sheetgen.desk.app.application", application)
    monkeypatch.setattr(desk, "_serve", lambda page, sockets: None)
    result = run("desk", "--no-browser", *words)
    assert result.exit_code == 0 and over == [tmp_path / folder]
    assert re.fullmatch(rf"Open http://127\.0\.0\.1:\d+/[\w-]+/{at}\nStop with Ctrl\+C\.\n", result.output)


def test_how_it_is_served(monkeypatch):
    """Nothing of the program is told to whoever asks, and nobody can hold it up for long."""
    import uvicorn

    given = {}
    monkeypatch.setattr(uvicorn, "Config", lambda page, **words: given.update(words) or page)
    monkeypatch.setattr(uvicorn, "Server", lambda config: SimpleNamespace(run=lambda sockets: given.update(at=sockets)))
    desk._serve("page", ["a socket"])
    assert given == {"log_level": "error", "access_log": False, "ws": "none", "http": "h11", "loop": "asyncio",
                     "server_header": False, "limit_concurrency": 100, "timeout_keep_alive": 30,
                     "timeout_graceful_shutdown": 2, "at": ["a socket"]}


def test_the_program_starts_without_the_page():
    code = ("import sys, sheetgen.cli, sheetgen.commands.job; "
            "print([m for m in ('starlette', 'uvicorn') if m in sys.modules])")
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


@pytest.mark.parametrize(("found", "address"), [
    ("192.0.2.7", "192.0.2.7"), ("127.0.0.1", ""), ("0.0.0.0", ""), (None, "")])
def test_the_address_of_this_machine_on_its_network(monkeypatch, found: str | None, address: str):
    """Asked of the system, by a socket to an address for documentation; nothing is sent."""
    asked, closed = [], []

    def connect(where: tuple[str, int]) -> None:
        asked.append(where)
        if found is None:
            raise OSError("no network")

    probe = SimpleNamespace(connect=connect, getsockname=lambda: (found, 5), close=lambda: closed.append(True))
    monkeypatch.setattr(desk.socket, "socket", lambda *kind: probe)
    assert desk._own_address() == address
    assert asked == [("192.0.2.1", 9)] and closed == [True]
