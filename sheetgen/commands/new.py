"""sheetgen new: a starting description from a method, by a few questions or by options."""

from __future__ import annotations

import sys
from pathlib import Path
from textwrap import wrap
from typing import TypedDict, Unpack

import click

from sheetgen.catalogue import methods
from sheetgen.commands.common import known_set
from sheetgen.commands.reading import read_file
from sheetgen.commands.run import FAILED, NOT_UNDERSTOOD, Done, status_alone
from sheetgen.commands.saying import complain, printable, say
from sheetgen.commands.writing import OutputFolder, safe_name
from sheetgen.model.problems import Refused, nearest

TO_TEACH = "To be taught with this warning it is written by --bad-practice."
WIRED = ("sheathed cable", "singles in conduit")


class Asked(TypedDict):
    """What a starting description is made of; None is not said."""

    job: str | None
    place: str
    lights: tuple[str, ...]
    switches: tuple[str, ...]
    loop: str | None
    join: str | None
    wired: str | None
    colours: str | None
    size: str
    way: str


@click.command(name="new", short_help="Write a starting description from a wiring method.")
@click.option("--job", help="What the sheet is to be called.")
@click.option("--place", default="", help="The house or flat.")
@click.option("--light", "lights", multiple=True, help="The room of a light; again for each light in parallel.")
@click.option("--switch", "switches", multiple=True,
              help="The room of a switch; again for each, first to last. Hall.stairs is a gang of a plate in the hall.")
@click.option("--loop", type=click.Choice([loop.name for loop in methods.LOOPS]), help="Where line and neutral loop.")
@click.option("--join", type=click.Choice([join.name for join in methods.JOINS]), help="How the switches are joined.")
@click.option("--wired", type=click.Choice(WIRED), help="Default: sheathed cable.")
@click.option("--colours", callback=known_set, metavar="SET", help="A colour set; default: current.")
@click.option("--size", default="", help="Size of the conductors: 1.0, 1.5, 3/.029.")
@click.option("--way", default="1", show_default=True, help="The way of the board that feeds it.")
@click.option("--bad-practice", is_flag=True,
              help="To be taught: write it though the trade refuses it, for `sheetgen handout --bad-practice` alone.")
@click.option("--full", is_flag=True, help="Write out every accessory, cable and core, with comments, to be edited.")
@click.option("--from", "source", type=click.Path(path_type=Path), metavar="FILE",
              help="Write out this short description in full, instead of starting one.")
@click.option("--print", "show", is_flag=True, help="Print it instead of writing a file.")
@click.option("-o", "--output", "folder", type=click.Path(path_type=Path, file_okay=False), default=Path(),
              show_default="here", help="Folder to write into.")
@click.option("--force", is_flag=True, help="Write over a file that is there.")
def command(source: Path | None, show: bool, folder: Path, force: bool, full: bool, bad_practice: bool,
            **asked: Unpack[Asked]) -> None:
    """Write a starting description, NAME.yaml.

    Without --light and --switch it asks a few questions. The short form names the method; --full writes the same
    circuit out core by core. Both give the same sheet. What is refused as bad practice --bad-practice writes all the
    same, in the short form, which nothing but a handout takes.

    Exit status 2: the trade would not wire it so; the reason is said and nothing is written. 3: the file is there
    already, or could not be written.
    """
    if bad_practice and (full or source):
        raise click.UsageError("Written out core by core nothing would keep it from being taken for a job: leave "
                               "--full or --from out, or --bad-practice.")
    if not source and not (asked["lights"] and asked["switches"]):
        asked = _questions(asked)

    def make() -> Done:
        if source:
            text, name = _written_out(source), f"{source.stem}-full"
        else:
            try:
                text, name = _text(asked, full, bad_practice), _called(asked)
            except Refused as refused:
                for problem in refused.problems:
                    hint = TO_TEACH if problem.code == "E404" and problem.hint else problem.hint
                    complain(f"{problem.message} {hint}".strip())
                return Done(status=NOT_UNDERSTOOD)
        if show:
            click.echo("\n".join(map(printable, text.split("\n"))), nl=False)
            return Done()
        file = folder / safe_name(f"{name}.yaml")
        if file.exists() and not force:
            complain(f"{file} is there already; --force writes over it.")
            return Done(status=FAILED)
        say(str(OutputFolder(folder).write(f"{safe_name(name)}.yaml", text.encode())))
        return Done()

    sys.exit(status_alone(str(source or "new"), make))


def _written_out(source: Path) -> str:
    from sheetgen.pipeline import written_out

    return written_out(read_file(source))


def _text(asked: Asked, full: bool, bad_practice: bool) -> str:
    """The description, short or in full, once it is understood; else Refused. Bad practice says so at its head."""
    from sheetgen.pipeline import wiring_of, written_out

    text = _short(asked)
    wiring = wiring_of(text, bad_practice)
    if full:
        return written_out(text)
    lines = [line for why in wiring.bad_practice for line in wrap(f"Bad practice, to be taught only: {why}", 116)]
    return "".join(f"# {line}\n" for line in lines) + text


def _questions(asked: Asked) -> Asked:
    """What was not given by options, asked for."""
    lights = asked["lights"] or _rooms("Rooms with a light (in parallel; commas between)", "Landing")
    switches = asked["switches"] or _rooms("Rooms with a switch for it, first to last", "Hall, Landing")
    wired = asked["wired"] or _choose("Wired in", WIRED)
    conduit = wired == WIRED[1]
    joins = [j for j in methods.JOINS if not j.refuses(len(switches), conduit)]
    pairs = [(loop, join) for loop in methods.LOOPS for join in joins
             if not methods.refusal(loop, join, len(switches), conduit)]
    loops = [loop.name for loop in methods.LOOPS if any(loop is known for known, _ in pairs)]
    loop = asked["loop"] or _choose("Line and neutral loop", loops)
    fitting = [join.name for known, join in pairs if known.name == loop]
    usual = methods.usual_join(len(switches), conduit).name
    join = asked["join"] or (_choose("The switches are joined by", fitting, usual) if len(fitting) > 1 else "")
    colours = asked["colours"] or _choose("Colours", _sets(), "current")
    job = asked["job"] or click.prompt("The sheet is called", default=_name(lights))
    return {**asked, "job": job, "lights": lights, "switches": switches, "wired": wired, "loop": loop, "join": join,
            "colours": colours}


def _sets() -> tuple[str, ...]:
    from sheetgen.read.style_from_yaml import load_sets

    return tuple(load_sets())


def _choose(question: str, choices: list[str] | tuple[str, ...], usual: str = "") -> str:
    """One of a numbered list, by its number or its name."""
    click.echo(f"{question}:")
    for number, choice in enumerate(choices, 1):
        click.echo(f"  {number}  {choice}")
    default = choices.index(usual) + 1 if usual in choices else 1

    def chosen(word: str) -> str:
        if word.strip().isdecimal() and 1 <= int(word[:9]) <= len(choices):
            return choices[int(word) - 1]
        named = [choice for choice in choices if choice.casefold() == word.strip().casefold()]
        if not named:
            raise click.BadParameter(f"'{printable(word)}' is neither a number from 1 to {len(choices)} nor one of the "
                                     f"names. {nearest(word, choices)}")
        return named[0]

    answer: str = click.prompt("Number or name", value_proc=chosen, default=str(default))
    return answer


def _rooms(question: str, example: str) -> tuple[str, ...]:
    words = click.prompt(question, default=example)
    return tuple(word.strip() for word in words.split(",") if word.strip())


def _name(lights: tuple[str, ...]) -> str:
    return f"{lights[0]} light" if len(lights) == 1 else f"{lights[0]} and other lights"


def _called(asked: Asked) -> str:
    return asked["job"] or _name(asked["lights"])


def _short(asked: Asked) -> str:
    """The short description of what was asked for; the join is said even where it is the usual one."""
    from sheetgen.model.description import DescriptionText
    from sheetgen.read.description_to_text import description_to_text

    job = _called(asked)
    number, conduit = len(asked["switches"]), asked["wired"] == WIRED[1]
    method = {
        "loop": asked["loop"] or ("line at the switches" if conduit else "at the rose"),
        "switching": methods.switching_of(number),
        "join": asked["join"] or methods.usual_join(number, conduit).name,
        "wired": asked["wired"] or WIRED[0],
    }
    content = DescriptionText.model_validate({
        "job": job, "place": asked["place"], "colours": asked["colours"] or "current", "method": method,
        "board": {"ways": {asked["way"]: {"serves": job}}}, "size": asked["size"],
        "lights": list(asked["lights"]), "switches": list(asked["switches"]),
    })
    return description_to_text(content) + HINTS


HINTS = """
# Where you know them, say how long each stretch is; the sheet then says how much cable it takes and what it drops:
# lengths: {feed: 9 m, drop: 4 m, switches: 5 m, lights: 4 m, on: 6 m}
# Another circuit of the same job stands in a list: circuits: [{way: 1, lights: [Porch], switches: [Hall]}]
"""
