"""The arguments and options that commands share."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

import click

from sheetgen.model.problems import nearest
from sheetgen.model.style import BOTH

Command = TypeVar("Command", bound=Callable[..., object])

files_argument = click.argument("files", nargs=-1, required=True, type=click.Path(path_type=Path),
                                metavar="FILE|FOLDER...")
file_argument = click.argument("file", type=click.Path(path_type=Path), metavar="FILE")


def known_set(ctx: click.Context, param: click.Parameter, value: str | None) -> str:
    """The name of a colour set, a file under styles/colours; read only when the option is given. "" is as found."""
    if value is None:
        return ""
    from sheetgen.read.style_from_yaml import load_sets

    if value == BOTH:
        raise click.BadParameter("Only a handout is for a class that meets both: `sheetgen handout --colours both`. "
                                 f"Give one of them here: {' or '.join(sorted(load_sets()))}.", ctx, param)
    if value not in load_sets():
        raise click.BadParameter(f"There is no colour set '{value}'. {nearest(value, load_sets())}", ctx, param)
    return value


def known_set_or_both(ctx: click.Context, param: click.Parameter, value: str | None) -> str:
    """Likewise, or "both"."""
    return BOTH if value == BOTH else known_set(ctx, param, value)


colours_option = click.option(
    "--colours", callback=known_set, metavar="SET",
    help="Redraw in this colour set (`sheetgen list colours`), by what each core joins. Default: as found.")


def look_options(command: Command, colours: Callable[[Command], Command] = colours_option) -> Command:
    """--colours, --mono, --paper: how a drawing looks."""
    for option in (
        click.option("--paper", type=click.Choice(["a4", "a3"]), default="a4", show_default=True, help="Sheet size."),
        click.option("--mono", is_flag=True, help="For a black-and-white printer: line patterns instead of colours."),
        colours,
    ):
        command = option(command)
    return command


output_option = click.option(
    "-o", "--output", "folder", type=click.Path(path_type=Path), default=Path("output"), show_default=True,
    help="Folder to write into.",
)
