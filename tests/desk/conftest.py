"""A desk that runs for the tests of this folder, and Chromium to sit at it."""

from __future__ import annotations

import os
import shutil
import socket
import threading
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
import uvicorn

from sheetgen.commands.desk_folder import DeskFolder
from sheetgen.desk.app import application

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or "/usr/bin/chromium"
REQUIRED = os.environ.get("SHEETGEN_REQUIRE_CHROMIUM") == "1"
ARGS = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
        "--disable-background-networking", "--disable-component-update", "--disable-sync"]
GIVEN_UP = ("htmx:afterRequest", "htmx:sendAbort")  # how a request that gave way to a newer one is noted
TOKEN = "only-for-the-tests"


@dataclass
class Running:
    """A desk that answers: where, over which folder, and the code where it is shared."""

    folder: Path
    port: int
    code: str = ""

    @property
    def host(self) -> str:
        """Its name in an address."""
        return f"127.0.0.1:{self.port}"

    def address(self, name: str) -> str:
        """The page of a description."""
        return f"http://{self.host}/{TOKEN}/at/{name}/"


def run(folder: Path, share: bool = False) -> Iterator[Running]:
    """A desk over a folder, until the test is done."""
    listening = socket.socket()
    listening.bind(("127.0.0.1", 0))
    port = listening.getsockname()[1]
    page, code = application(DeskFolder(folder), [f"127.0.0.1:{port}", f"localhost:{port}"], {TOKEN}, share)
    server = uvicorn.Server(uvicorn.Config(page, log_level="error", access_log=False, ws="none", http="h11"))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.01)
    yield Running(folder, port, code)
    server.should_exit = True
    thread.join(10)


@pytest.fixture(scope="session")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    """A desk over a folder of its own."""
    yield from run(tmp_path_factory.mktemp("desk"))


@pytest.fixture
def shared(tmp_path: Path) -> Iterator[Running]:
    """A desk that lets others in who type the code."""
    yield from run(tmp_path, share=True)


@pytest.fixture(scope="module")
def browser():
    """Chromium, started once; gone before another module of tests starts its own."""
    if not REQUIRED and not os.path.exists(CHROMIUM):
        pytest.skip("no Chromium here; SHEETGEN_REQUIRE_CHROMIUM=1 requires it")
    sync_api = pytest.importorskip("playwright.sync_api")
    with sync_api.sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGS)
        yield started
        started.close()


@pytest.fixture
def sit_down(browser, desk):
    """Opens the page of a description; it may ask nobody else for anything and may report no error."""
    wrong: list[str] = []
    opened = []

    def at(name: str, **how):
        context = browser.new_context(**{"viewport": {"width": 1300, "height": 900}, **how})
        opened.append(context)
        page = context.new_page()
        page.set_default_timeout(120_000)  # a busy machine is no fault
        page.on("pageerror", lambda error: wrong.append(str(error)))
        page.on("console", lambda message: wrong.append(message.text) if message.type in ("error", "warning")
                and not message.text.startswith(GIVEN_UP) else None)
        page.on("request", lambda request: wrong.append(request.url)
                if not request.url.startswith((f"http://{desk.host}/", "data:")) else None)
        page.goto(desk.address(name))
        page.wait_for_selector("body[data-ready]")
        return page

    yield at
    for context in opened:
        context.close()
    assert wrong == []
