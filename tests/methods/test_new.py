"""`sheetgen new`: by options and by questions; both forms give the same circuit; what is refused is not written."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from method_catalogue import Combination, accepted

from sheetgen.cli import main
from sheetgen.pipeline import understood, wiring_of

COMBINATIONS = [c for c in accepted() if c.switches <= 3]
ROOMS = ("Hall", "Landing", "Attic")


def run(*arguments: str, answers: str = "") -> Result:
    return CliRunner().invoke(main, ["new", *arguments], input=answers or None)


def options(c: Combination) -> list[str]:
    rooms = [word for room in ROOMS[:c.switches] for word in ("--switch", room)]
    return ["--light", "Stairs", *rooms, "--loop", c.loop, "--join", c.join, "--wired", c.wired, "--print"]


@pytest.mark.parametrize("combination", COMBINATIONS, ids=str)
def test_every_method_can_be_started(combination: Combination):
    short, full = run(*options(combination)), run(*options(combination), "--full", "--colours", "legacy")
    assert short.exit_code == full.exit_code == 0
    for text, colours in ((short.stdout, "current"), (full.stdout, "legacy")):
        wiring = wiring_of(text)
        assert wiring.colours == colours
        assert {a.room for a in wiring.accessories if a.kind.switches} == set(ROOMS[:combination.switches])
    _, _, reading = understood(full.stdout)
    assert [c.names for c in reading.circuits if c.lamps] == [combination.names] and not reading.findings


LAID = "# Laid by a method. Once you have changed it to what is there, write 'status: as found'."


def test_the_full_form_says_what_each_cable_is():
    text = run("--light", "Stairs", "--switch", "Hall", "--switch", "Landing", "--full", "--print").stdout
    comments = [line.strip() for line in text.splitlines() if line.strip().startswith("#")]
    assert comments.pop(0) == LAID
    assert [" ".join(comments[:2]), *comments[2:]] == [
        "# Stairs: line and neutral looped at the rose; three wires between the switches, line in and switched line "
        "out at # the first switch",
        "# - feed from the board",
        "# - drop to the switch: line down, switched line back",
        "# - three wires from switch to switch, all of them line",
    ]
    assert "method:" not in text and max(map(len, text.splitlines())) <= 120


def test_it_asks_when_it_is_told_nothing():
    """Lights, switches, sheathed cable, at the switch, two strappers, legacy, name."""
    result = run("--print", answers="Landing\nHall, Landing\n1\n2\n3\n2\nStairs\n")
    assert result.exit_code == 0
    text = result.stdout[result.stdout.index("job: "):]
    assert "Number or name [1]" in result.stdout and "line carried through" in result.stdout
    (circuit,) = (c for c in understood(text)[2].circuits if c.lamps)
    assert circuit.names == ("at the switch", "two-way", "two strappers")
    assert wiring_of(text).job == "Stairs" and wiring_of(text).colours == "legacy"


def test_a_choice_is_made_by_number_or_by_name():
    words = "sheathed cable\nAt the switch\ntwo strappers\nlegacy\nStairs\n"
    named = run("--print", answers=f"Landing\nHall, Landing\n{words}")
    numbered = run("--print", answers="Landing\nHall, Landing\n1\n2\n3\n2\nStairs\n")
    assert named.exit_code == 0
    assert named.stdout[named.stdout.index("job: "):] == numbered.stdout[numbered.stdout.index("job: "):]
    wrong = run("--print", answers="Landing\nHall, Landing\nsheathed cabel\n1\n2\n3\n2\nStairs\n")
    assert "Did you mean 'sheathed cable'?" in wrong.stdout + wrong.stderr


def test_only_what_the_trade_would_wire_is_offered():
    result = run("--print", answers="Landing\nHall, Landing, Attic\n1\n1\n1\n1\n\n")
    assert "line at the switches" not in result.stdout and "in first, out last" not in result.stdout


def test_a_refused_method_is_not_written(tmp_path: Path):
    result = run("--light", "Hall", "--switch", "Hall", "--switch", "Landing", "--join", "two strappers",
                 "-o", str(tmp_path))
    assert result.exit_code == 2 and "a wide loop" in result.stderr and not list(tmp_path.iterdir())


def test_a_file_that_is_there_is_not_written_over(tmp_path: Path):
    arguments = ("--light", "Hall", "--switch", "Hall", "--job", "Hall/../light", "-o", str(tmp_path))
    assert run(*arguments).exit_code == 0
    (file,) = tmp_path.iterdir()
    assert file.suffix == ".yaml" and wiring_of(file.read_bytes()).job == "Hall/../light"
    file.write_text("mine", encoding="utf-8")
    assert run(*arguments).exit_code == 3 and file.read_text(encoding="utf-8") == "mine"
    assert run(*arguments, "--force").exit_code == 0 and file.read_text(encoding="utf-8") != "mine"


def test_a_short_description_is_written_out(tmp_path: Path):
    short = tmp_path / "short.yaml"
    short.write_text(Combination("at a joint box", "conversion", 2, False).text(2), encoding="utf-8")
    assert run("--from", str(short), "-o", str(tmp_path)).exit_code == 0
    full = wiring_of((tmp_path / "short-full.yaml").read_bytes())
    assert [c.cores for c in full.cables] == [c.cores for c in wiring_of(short.read_bytes()).cables]
    (tmp_path / "bad.yaml").write_text("job: x\nmethod: {loop: nowhere}\n", encoding="utf-8")
    bad = run("--from", str(tmp_path / "bad.yaml"), "-o", str(tmp_path))
    assert bad.exit_code == 2 and "bad.yaml:2:" in bad.stderr


def test_names_that_yaml_would_read_otherwise_come_back_as_they_were():
    for name in ("null", "Kids' room: north", "#1", "a, b", "{x}", "7", "Küche", "yes", "- dash", 'say "hi"'):
        result = run("--light", name, "--switch", name, "--job", name, "--place", name, "--full", "--print")
        wiring = wiring_of(result.stdout)
        assert (wiring.job, wiring.place) == (name, name)
        assert {a.room for a in wiring.accessories if a.kind.switches} == {name}
