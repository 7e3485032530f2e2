"""sheetgen desk [FILE]: a page on this machine on which a description is written by choosing."""

from __future__ import annotations

import contextlib
import socket
import sys
import webbrowser
from pathlib import Path
from urllib.parse import quote

import click

from sheetgen.commands.saying import complain, say

WARNING = (
    "Shared on this network without encryption: whoever is on it and has the code can read and change the descriptions "
    "in this folder. Share only on a network of your own, and stop with Ctrl+C when done."
)


@click.command(name="desk", short_help="Open a page to write a description by choosing.")
@click.argument("file", required=False, type=click.Path(path_type=Path))
@click.option("--share", is_flag=True, help="Let a phone on the same network in, with a code to type.")
@click.option("--port", type=click.IntRange(0, 65535), default=0, help="The port; default: a free one.")
@click.option("--no-browser", "quiet", is_flag=True, help="Print the address without opening it.")
def command(file: Path | None, share: bool, port: int, quiet: bool) -> None:
    """Open a page in the browser on which a description is written by choosing, with the drawing beside it.

    FILE is made when it is saved, if it is not there yet. Without FILE the descriptions in this folder are listed. Only
    the folder of FILE, or this one, is read and written; nothing leaves this machine. Stop with Ctrl+C.
    """
    from sheetgen.commands.desk_folder import DeskFolder
    from sheetgen.desk.app import application
    from sheetgen.desk.guard import new_token

    folder = DeskFolder(_folder(file))
    name = _name(file, folder)
    here = _listening("127.0.0.1", port)
    port = int(here.getsockname()[1])
    sockets, hosts = [here], [f"127.0.0.1:{port}", f"localhost:{port}"]
    address = _own_address() if share else ""
    if share and not address:
        complain("This machine is on no network that a phone could be on, so nothing is shared.")
        sys.exit(3)
    if address:
        sockets.append(_listening(address, port))
        hosts.append(f"{address}:{port}")
    token = new_token()
    page, code = application(folder, hosts, {token}, share=bool(address))
    url = f"http://127.0.0.1:{port}/{token}/" + (f"at/{quote(name, safe='')}/" if name else "")
    say(f"Open {url}")
    if address:
        say(f"On a phone open http://{address}:{port}/ and type the code {code}")
        complain(WARNING)
    say("Stop with Ctrl+C.")
    if not quiet:
        webbrowser.open(url)
    _serve(page, sockets)


def _serve(page: object, sockets: list[socket.socket]) -> None:
    import uvicorn

    config = uvicorn.Config(
        page, log_level="error", access_log=False, ws="none", http="h11", loop="asyncio", server_header=False,  # type: ignore[arg-type]
        limit_concurrency=100, timeout_keep_alive=30, timeout_graceful_shutdown=2)
    with contextlib.suppress(KeyboardInterrupt):  # which is how it is meant to be stopped
        uvicorn.Server(config).run(sockets=sockets)


def _folder(file: Path | None) -> Path:
    folder = file.parent if file and not file.is_dir() else file or Path()
    if not folder.is_dir():
        complain(f"There is no folder {folder}.")
        sys.exit(2)
    return folder


def _name(file: Path | None, folder: object) -> str:
    from sheetgen.commands.desk_folder import DeskFolder

    assert isinstance(folder, DeskFolder)
    if file is None or file.is_dir():
        return ""
    if not folder.may_be(file.name):
        complain(f"{file}: A description's file has a plain name that ends in .yaml.")
        sys.exit(2)
    return file.name


def _listening(address: str, port: int) -> socket.socket:
    made = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    if sys.platform != "win32":
        made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        made.bind((address, port))
        made.listen(100)  # a browser that is quicker than the page waits
    except OSError as error:
        complain(f"Port {port} cannot be used: {error.strerror or error}. Leave --port out for a free one.")
        sys.exit(3)
    return made


def _own_address() -> str:
    """This machine's address on its network; "" where it is on none. Nothing is sent to find it out."""
    probe = socket.socket(socket.AF_INET, socket.SOCK_DGRAM)
    try:
        probe.connect(("192.0.2.1", 9))  # an address for documentation (RFC 5737): it only picks the way out
        found = str(probe.getsockname()[0])
    except OSError:
        return ""
    finally:
        probe.close()
    return "" if found.startswith(("127.", "0.")) else found
