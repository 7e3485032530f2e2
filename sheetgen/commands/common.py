"""What the commands share: reading a description, saying what is wrong with it, writing a file whole or not at all."""

from __future__ import annotations

import os
import re
import tempfile
from collections.abc import Callable, Sequence
from pathlib import Path

import click

from sheetgen.model.problems import Mark, Problem, Refused, nearest

UNDERSTOOD, DANGER, NOT_UNDERSTOOD = 0, 1, 2  # exit statuses

files_argument = click.argument("files", nargs=-1, required=True, type=click.Path(path_type=Path), metavar="FILE...")
file_argument = click.argument("file", type=click.Path(path_type=Path), metavar="FILE")


class ColourSetName(click.ParamType):
    """The name of a colour set: a file under styles/colours. Read only when the option is given."""

    name = "SET"

    def convert(self, value: str, param: click.Parameter | None, ctx: click.Context | None) -> str:
        """The name, or a message with the nearest one."""
        from sheetgen.read.style_from_yaml import load_sets

        if value not in load_sets():
            self.fail(f"There is no colour set '{value}'. {nearest(value, load_sets())}", param, ctx)
        return value


def look_options(command: Callable) -> Callable:
    """--colours, --mono, --paper: how a drawing looks."""
    for option in (
        click.option("--paper", type=click.Choice(["a4", "a3"]), default="a4", show_default=True, help="Sheet size."),
        click.option("--mono", is_flag=True, help="For a black-and-white printer: line patterns instead of colours."),
        click.option("--colours", type=ColourSetName(),
                     help="Redraw in this colour set, legacy or current, by what each core joins. Default: as found."),
    ):
        command = option(command)
    return command


output_option = click.option(
    "-o", "--output", "folder", type=click.Path(path_type=Path, file_okay=False), default=Path("output"),
    show_default=True, help="Folder to write into.",
)


def read_file(path: Path) -> bytes:
    """The bytes of a description file; Refused where there is none."""
    try:
        return path.read_bytes()
    except FileNotFoundError:
        hint = ""
        if path.parent.is_dir():
            others = sorted(p.name for p in path.parent.glob("*.y*ml"))
            hint = nearest(path.name, others) if others else ""
        raise Refused([Problem(Mark(), "E001", "There is no such file.", hint)]) from None
    except IsADirectoryError:
        raise Refused([Problem(Mark(), "E002", "This is a folder.", "Name a description file in it.")]) from None
    except OSError as error:
        raise Refused([Problem(Mark(), "E003", f"The file cannot be opened: {error.strerror}.")]) from None


def each_file(paths: Sequence[Path], act: Callable[[Path, bytes], int]) -> int:
    """Run `act` on every file; say all problems of a file that cannot be understood and go on. The worst status."""
    worst = UNDERSTOOD
    for path in paths:
        try:
            worst = max(worst, act(path, read_file(path)))
        except Refused as refused:
            say_problems(path, refused)
            worst = NOT_UNDERSTOOD
    return worst


def say_problems(path: Path, refused: Refused) -> None:
    """Every problem on a line of its own, on standard error."""
    for problem in refused.problems:
        click.echo(problem.text(str(path)), err=True)


def write_whole(folder: Path, name: str, data: bytes) -> Path:
    """Write a file whole or not at all, inside the folder, made if it is missing."""
    target = folder / safe_name(name)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        handle, temporary = tempfile.mkstemp(dir=folder, prefix=".", suffix=".part")
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(data)
            os.chmod(temporary, 0o666 & ~_umask())
            os.replace(temporary, target)
        except BaseException:
            os.unlink(temporary)
            raise
    except OSError as error:
        raise click.ClickException(f"{target} cannot be written: {error.strerror}.") from None
    return target


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def safe_name(name: str) -> str:
    """A file name without anything that leads out of a folder."""
    return re.sub(r"[^\w.+ -]", "_", name).lstrip(".") or "sheet"
