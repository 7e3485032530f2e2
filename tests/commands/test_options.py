"""Every option does what it says: the expected words, sizes and paints are typed out here."""

from __future__ import annotations

import re
from pathlib import Path

import pypdfium2
import pytest
from commands.runs import FIRST, SOUND, WRONG, copied, run


def words_of(pdf: Path) -> str:
    """All that the pages of a PDF say."""
    return "\n".join(page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(pdf.read_bytes()))


def colourful(pdf: Path) -> int:
    """How many points of the pages are not grey: red, green and blue differ."""
    count = 0
    for page in pypdfium2.PdfDocument(pdf.read_bytes()):
        picture = page.render(scale=0.5).to_pil().convert("RGB")
        count += sum(n for n, (r, g, b) in picture.getcolors(1 << 24) if max(r, g, b) - min(r, g, b) > 60)
    return count


@pytest.mark.parametrize(("command", "name"), [
    (("job", "--pages", "wiring", FIRST), "two-way-line-at-switch.pdf"),
    (("draw", "--format", "pdf", FIRST), "two-way-line-at-switch.pdf"),
    (("handout", FIRST), "two-way-line-at-switch-handout-answers.pdf"),
    (("compare", SOUND, FIRST), "one-way-loop-in-to-two-way-line-at-switch.pdf"),
])
def test_mono_leaves_no_colour_on_any_sheet(command: tuple[object, ...], name: str, tmp_path: Path) -> None:
    assert run(*command, "-o", tmp_path / "colour").exit_code == 0
    assert run(*command, "--mono", "-o", tmp_path / "mono").exit_code == 0
    assert colourful(tmp_path / "colour" / name) > 100
    assert colourful(tmp_path / "mono" / name) < 20


@pytest.mark.parametrize(("command", "name"), [
    (("job", "--pages", "wiring", FIRST), "two-way-line-at-switch.pdf"),
    (("draw", "--format", "pdf", FIRST), "two-way-line-at-switch.pdf"),
    (("handout", FIRST), "two-way-line-at-switch-handout-answers.pdf"),
])
def test_colours_redraws_red_and_black_as_brown_and_blue(command: tuple[object, ...], name: str,
                                                         tmp_path: Path) -> None:
    assert run(*command, "-o", tmp_path / "found").exit_code == 0
    assert run(*command, "--colours", "current", "-o", tmp_path / "current").exit_code == 0
    found, current = words_of(tmp_path / "found" / name), words_of(tmp_path / "current" / name)
    assert "RD W1" in found and "BN W1" not in found
    assert "BN W1" in current and "RD W1" not in current


@pytest.mark.parametrize(("colours", "as_found"), [
    ((), True), (("--colours", "current"), True), (("--colours", "legacy"), False)])
def test_a_drawing_that_is_passed_on_says_that_its_colours_are_not_as_found(colours: tuple[str, ...], as_found: bool,
                                                                            tmp_path: Path) -> None:
    for more in ((), ("--diagram",)):
        assert run("draw", SOUND, *colours, *more, "-o", tmp_path).exit_code == 0
        (svg,) = tmp_path.glob("*.svg")
        words = re.findall(r"<text[^>]*>([^<]*)</text>", svg.read_text())
        assert ("COLOURS NOT AS FOUND" in words) is not as_found
        svg.unlink()


def test_a_colour_set_that_is_not_there_is_refused() -> None:
    done = run("job", FIRST, "--colours", "legasy")
    assert done.exit_code == 2 and "There is no colour set 'legasy'. Did you mean 'legacy'?" in done.output


@pytest.mark.parametrize(("paper", "millimetres"), [("a4", (297, 210)), ("a3", (420, 297))])
def test_paper_is_the_size_of_the_sheet(paper: str, millimetres: tuple[int, int], tmp_path: Path) -> None:
    """ISO 216: A4 is 210 mm by 297 mm, A3 297 mm by 420 mm."""
    for words, name in ((("job", "--pages", "wiring"), FIRST.stem), (("handout",), f"{FIRST.stem}-handout")):
        assert run(*words, FIRST, "--paper", paper, "-o", tmp_path).exit_code == 0
        width, height = pypdfium2.PdfDocument((tmp_path / f"{name}.pdf").read_bytes())[0].get_size()
        assert {round(width / 72 * 25.4), round(height / 72 * 25.4)} == set(millimetres)


def test_a_larger_paper_takes_a_house_on_fewer_drawings(tmp_path: Path) -> None:
    house = SOUND.parent / "bungalow.yaml"
    assert run("draw", house, "-o", tmp_path / "a4").exit_code == 0
    assert run("draw", house, "--paper", "a3", "-o", tmp_path / "a3").exit_code == 0
    a4, a3 = (sorted(p.name for p in (tmp_path / paper).iterdir()) for paper in ("a4", "a3"))
    assert len(a3) < len(a4) and a4[0] == "bungalow-1.svg"
    (drawing,) = (tmp_path / "a3").iterdir()
    assert 210 < float(re.search(r'height="([\d.]+)mm"', drawing.read_text())[1]) < 297, "no A4 sheet holds it"


def test_another_seed_asks_other_questions_and_the_same_seed_the_same(tmp_path: Path) -> None:
    name = f"{FIRST.stem}-handout.pdf"
    for folder, words in (("one", ()), ("again", ("--seed", "1")), ("other", ("--seed", "2"))):
        assert run("handout", FIRST, *words, "-o", tmp_path / folder).exit_code == 0
    one, again, other = (tmp_path / folder / name for folder in ("one", "again", "other"))
    assert one.read_bytes() == again.read_bytes()
    assert words_of(one) != words_of(other)


def test_versions_and_large_text_of_a_handout(tmp_path: Path) -> None:
    name = f"{FIRST.stem}-handout.pdf"
    for folder, words in (("one", ()), ("three", ("--versions", "3")), ("large", ("--large",))):
        assert run("handout", FIRST, *words, "-o", tmp_path / folder).exit_code == 0
    pages = {folder: len(pypdfium2.PdfDocument((tmp_path / folder / name).read_bytes()))
             for folder in ("one", "three", "large")}
    assert pages["three"] > pages["one"]
    assert (tmp_path / "large" / name).read_bytes() != (tmp_path / "one" / name).read_bytes()
    assert run("handout", FIRST, "--versions", "27", "-o", tmp_path).exit_code == 2


def test_a_diagram_instead_of_the_wiring(tmp_path: Path) -> None:
    assert run("draw", SOUND, "--diagram", "-o", tmp_path).exit_code == 0
    (file,) = tmp_path.iterdir()
    assert file.name == f"{SOUND.stem}-diagram.svg"
    assert "enclosure" not in file.read_text() and "diagram wire" in file.read_text()


def test_pages_are_those_asked_for_in_the_order_of_the_sheet(tmp_path: Path) -> None:
    assert run("job", SOUND, "-o", tmp_path / "all").exit_code == 0
    assert run("job", SOUND, "--pages", " card ", "-o", tmp_path / "card").exit_code == 0
    all_pages, card = (words_of(tmp_path / f / f"{SOUND.stem}.pdf") for f in ("all", "card"))
    assert "Cables" in all_pages and "Cables" not in card and len(card) < len(all_pages) / 3


def test_the_steps_of_a_comparison_are_printed_and_no_file_is_written(tmp_path: Path) -> None:
    done = run("compare", SOUND, SOUND, "--print", "-o", tmp_path / "out")
    assert done.exit_code == 0 and not (tmp_path / "out").exists()
    assert done.stdout.splitlines()[-1].startswith("Proven: ")
    changed = copied(SOUND, tmp_path / "changed.yaml")
    changed.write_text(SOUND.read_text().replace("blue: [SL, L1]", "blue: [SL, COM]").replace(
        "brown: [loop, COM]", "brown: [loop, L1]"))
    steps = run("compare", SOUND, changed, "--print").stdout
    assert re.match(r"  1  \S", steps) and "COM" in steps and "L1" in steps
    others = run("compare", SOUND, FIRST, "--print")
    assert others.exit_code == 0
    assert others.stdout == "These are other lights: there are no steps from one to the other.\n"


def test_a_comparison_is_called_after_both(tmp_path: Path) -> None:
    assert run("compare", SOUND, SOUND, "-o", tmp_path).exit_code == 0
    assert run("compare", SOUND, "at the switch, singles in conduit", "-o", tmp_path).exit_code in (0, 1, 2)
    assert f"{SOUND.stem}-to-{SOUND.stem}.pdf" in [p.name for p in tmp_path.iterdir()]


def test_a_problem_stands_at_its_line_and_column() -> None:
    """Counted by hand in tests/wrong/misspelt.yaml, both from 1."""
    lines = WRONG.read_text().splitlines()
    places = re.findall(r"misspelt\.yaml:(\d+):(\d+): (E\d+) .*?'([^']+)'", run("check", WRONG).stderr)
    at = {word: (int(line), int(column)) for line, column, _, word in places}
    assert at["roon"] == (6, 30) and lines[5][29:33] == "roon"
    for word in ("acessories", "two-way swich", "bron", "twin and erth"):
        line, _ = at[word]
        assert word in lines[line - 1]
    assert at["acessories"] == (3, 1) and lines[2].startswith("acessories")
    assert at["bron"] == (12, lines[11].index("bron") + 1)


def test_a_new_description_from_options_a_file_and_questions(tmp_path: Path) -> None:
    asked = ("new", "--light", "Landing", "--switch", "Hall", "--switch", "Landing", "--job", "Stair: light")
    done = run(*asked, "-o", tmp_path)
    assert done.exit_code == 0 and done.stdout == f"{tmp_path}/Stair_ light.yaml\n"
    text = (tmp_path / "Stair_ light.yaml").read_text()
    assert 'job: "Stair: light"' in text and "lights: [Landing]" in text and "switches: [Hall, Landing]" in text
    assert "loop: at the rose" in text and "join: conversion" in text and "# lengths: {feed: 9 m" in text
    again = run(*asked, "-o", tmp_path)
    assert again.exit_code == 3 and "is there already; --force writes over it." in again.stderr
    assert run(*asked, "--force", "-o", tmp_path).exit_code == 0
    printed = run(*asked, "--print", "--colours", "legacy", "--way", "7", "--size", "1.5", "--place", "Mill")
    assert printed.exit_code == 0 and "colours: legacy" in printed.stdout and "place: Mill" in printed.stdout
    assert "7: " in printed.stdout and "1.5" in printed.stdout
    full = run(*asked, "--print", "--full").stdout
    assert "accessories:" in full and "cables:" in full and "method:" not in full
    written = run("new", "--from", tmp_path / "Stair_ light.yaml", "--print")
    assert written.exit_code == 0 and written.stdout.split("accessories:")[1] == full.split("accessories:")[1]
    refused = run("new", "--light", "A", "--switch", "B", "--join", "conversion")
    assert refused.exit_code == 2 and refused.stderr and ":" not in refused.stderr.split(" ")[0]
    conduit = run("new", "--light", "A", "--switch", "B", "--wired", "singles in conduit", "--print").stdout
    assert "loop: line at the switches" in conduit and "wired: singles in conduit" in conduit
    assert "job: A light" in conduit
    both = run("new", "--light", "A", "--light", "C", "--switch", "B", "--print").stdout
    assert "job: A and other lights" in both


def test_states_to_read() -> None:
    lines = run("states", FIRST).output.splitlines()
    assert lines[0] == "Group 1" and lines[1].split() == ["Hall", "Top", "Landing", "lamp"]
    assert set(lines[2]) == {"-", " "}
    rows = {tuple(line.split()) for line in lines[3:7]}
    assert rows == {("L1", "L1", "off"), ("L2", "L1", "on"), ("L2", "L2", "off"), ("L1", "L2", "on")}
    assert lines[7] == "" and lines[8] == "Group 2"
    assert run("states", SOUND).output.splitlines() == [
        "Door  Study lamp", "----  ----------", "off   off", "on    on"]


def test_states_of_a_lamp_that_is_not_switched_and_of_none(tmp_path: Path) -> None:
    file = tmp_path / "steady.yaml"
    file.write_text(STEADY)
    assert run("states", file).output.splitlines() == ["Lamp", "----", "on"]
    file.write_text(STEADY.replace("batten lampholder", "joint box, connectors: [L, N, E]"))
    assert run("states", file).output == "No lamp and no switch is connected to the board.\n"


STEADY = """
job: A lamp
board: {ways: {1: {serves: Lights}}}
colours: current
accessories:
  Lamp: {kind: batten lampholder}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Lamp, cores: {brown: [L, L], blue: [N, N], cpc: [E, E]}}
"""


def test_the_name_used_for_a_terminal_is_the_name_printed(tmp_path: Path) -> None:
    """'C' is COM on many a switch; who wrote C finds C on the sheet."""
    file = copied(SOUND, tmp_path / "named.yaml")
    file.write_text(SOUND.read_text().replace("brown: [loop, COM]", "brown: [loop, C]"))
    assert run("draw", file, "-o", tmp_path).exit_code == 0
    drawn = re.findall(r"<text[^>]*>([^<]*)</text>", (tmp_path / "named.svg").read_text())
    assert "C" in drawn and "COM" not in drawn
    assert run("draw", SOUND, "-o", tmp_path).exit_code == 0
    drawn = re.findall(r"<text[^>]*>([^<]*)</text>", (tmp_path / f"{SOUND.stem}.svg").read_text())
    assert "COM" in drawn and "C" not in drawn


def test_the_card_has_room_for_what_is_altered_later(tmp_path: Path) -> None:
    assert run("job", SOUND, "--pages", "card", "-o", tmp_path).exit_code == 0
    said = words_of(tmp_path / f"{SOUND.stem}.pdf")
    assert "Altered since" in said and "What was altered" in said


@pytest.mark.parametrize("colours", [(), ("--colours", "legacy"), ("--colours", "current")])
def test_no_colour_set_hides_a_wrong_sleeve(colours: tuple[str, ...], tmp_path: Path) -> None:
    """A green sleeve on a switched line: in no colour set is it shown as the sleeve that is needed."""
    file = copied(SOUND, tmp_path / "sleeve.yaml")
    file.write_text(SOUND.read_text().replace("sleeved: [blue]", "sleeved: {blue: green}"))
    assert run("draw", file, *colours, "-o", tmp_path).exit_code == 0
    text = (tmp_path / "sleeve.svg").read_text()
    standing = re.findall(r'data-core="W2/2"[^>]*data-sleeve="([a-z]+)"', text)
    assert set(standing) == {"wrong"}
    assert run("draw", SOUND, *colours, "-o", tmp_path).exit_code == 0
    right = (tmp_path / f"{SOUND.stem}.svg").read_text()
    assert set(re.findall(r'data-core="W2/2"[^>]*data-sleeve="([a-z]+)"', right)) == {"fitted"}
