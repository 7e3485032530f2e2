"""`sheetgen compare`: what it writes and prints, the facts of both sides, exit statuses."""

from __future__ import annotations

import io
import re
from hashlib import sha256
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from pdfminer.high_level import extract_text

from sheetgen.cli import main
from sheetgen.pipeline import Look
from sheetgen.pipeline.comparison import comparison_of, comparison_sheet

EXAMPLES = Path(__file__).parent.parent.parent / "examples"
ONE_WAY, TWO_WAY = str(EXAMPLES / "one-way-loop-in.yaml"), str(EXAMPLES / "two-way-conversion.yaml")


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, ["compare", *arguments])


def test_the_steps_are_printed():
    result = run(TWO_WAY, "at the switch, two strappers", "--print")
    assert result.exit_code == 0
    lines = result.stdout.splitlines()
    assert lines[0] == "  1  Take out W1, twin and earth, from circuit 2 to Stairs."
    assert lines[-1].startswith("Proven: the same terminals are joined")


def test_a_sheet_is_written_whole_and_the_same_each_time(tmp_path: Path):
    assert run(TWO_WAY, "at the switch", "-o", str(tmp_path), "--mono").exit_code == 0
    (file,) = tmp_path.iterdir()
    assert file.name == "two-way-conversion-to-at-the-switch.pdf"
    first = file.read_bytes()
    assert run(TWO_WAY, "at the switch", "-o", str(tmp_path), "--mono").exit_code == 0 and file.read_bytes() == first
    text = extract_text(io.BytesIO(first))
    for words in ("Side by side", "Compared", "What to change", "Proven.", "Prove the indicator"):
        assert words in text


def test_facts_of_both_sides():
    text = Path(TWO_WAY).read_bytes()
    from sheetgen.pipeline.comparison import wanted_of

    comparison = comparison_of(text, wanted_of("at the switch, two strappers", text), Look())
    facts = {fact.what: (fact.before, fact.after) for fact in comparison.facts}
    assert facts["Line and neutral part at"] == ("Stairs", "Bottom")
    assert facts["Switched line goes out at switch"] == ("Bottom", "Top")
    assert facts["Joints in connectors"] == ("0", "2")
    assert facts["At Bottom"] == ("permanent line, switched line and cpc", "permanent line, neutral and cpc")
    assert facts["Cables"][0] == "2 twin and earth 1.0 mm², 13 m; 1 three-core and earth 1.0 mm², 5 m"
    assert facts["Noticed"] == ("none", "none")


def test_what_to_change_stands_below_what_differs_where_all_of_it_fits_and_the_head_names_both(tmp_path: Path):
    assert run(TWO_WAY, "legacy", "-o", str(tmp_path)).exit_code == 0
    (file,) = tmp_path.iterdir()
    sheets = extract_text(io.BytesIO(file.read_bytes())).split("\f")[:-1]
    assert len(sheets) == 2 and "Side by side" in sheets[0]
    assert "Compared \N{MIDDLE DOT} What to change" in sheets[1] and "First make it dead" in sheets[1]


def test_circuits_of_other_lights_are_compared_without_steps():
    other = (EXAMPLES / "two-strappers-conduit.yaml").read_bytes()
    comparison = comparison_of(Path(EXAMPLES / "loop-at-switch.yaml").read_bytes(), other, Look())
    assert comparison.change is None and len(comparison.facts) > 8
    pdf, proven = comparison_sheet((EXAMPLES / "loop-at-switch.yaml").read_bytes(), other, Look())
    assert proven and "What to change" not in extract_text(io.BytesIO(pdf))


def test_what_cannot_be_read_is_said_and_nothing_is_written(tmp_path: Path):
    bad = tmp_path / "bad.yaml"
    bad.write_text("job: x\ncables:\n", encoding="utf-8")
    for before, after in ((str(bad), "at the rose"), (TWO_WAY, str(bad)), (TWO_WAY, str(tmp_path / "none.yaml")),
                          (TWO_WAY, "at the roze"), (TWO_WAY, "at the rose, two strappers")):
        result = run(before, after, "-o", str(tmp_path / "out"))
        assert result.exit_code == 2 and result.stderr, (before, after)
    assert not (tmp_path / "out").exists()


def test_the_wanted_circuit_has_its_own_name_board_lamps_and_mark(tmp_path: Path):
    after = tmp_path / "anew.yaml"
    text = Path(ONE_WAY).read_text(encoding="utf-8")
    for old, new in (("type B 6 A", "BS 3036 5 A"), ("rcd: 30 mA", "rcd: none"), ("lamp: 10 W", "lamp: 15 W"),
                     ("job: Study light", "job: Study anew\nstatus: proposed")):
        assert old in text
        text = text.replace(old, new)
    after.write_text(text, encoding="utf-8")
    assert run(ONE_WAY, str(after), "-o", str(tmp_path)).exit_code == 0
    said = extract_text(io.BytesIO((tmp_path / "one-way-loop-in-to-anew.pdf").read_bytes()))
    first, second = (sha256(data).hexdigest()[:8] for data in (Path(ONE_WAY).read_bytes(), after.read_bytes()))
    assert f"before: one-way-loop-in.yaml {first}, after: anew.yaml" in said and second in said
    assert "after: PROPOSED" in said and "Study anew" in said
    facts = {f.what: (f.before, f.after) for f in comparison_of(Path(ONE_WAY).read_bytes(), text, Look()).facts}
    assert facts["At the board"] == ("circuit 2: type B 6 A, RCD 30 mA", "circuit 2: BS 3036 5 A, no RCD")
    assert facts["Loads"] == ("10 W", "15 W")


def test_what_a_method_leaves_open_stays_as_it_was_found():
    from sheetgen.pipeline.comparison import wanted_of

    text = Path(ONE_WAY).read_bytes()
    facts = {f.what: (f.before, f.after) for f in comparison_of(text, wanted_of("at the switch", text), Look()).facts}
    assert facts["At the board"] == ("circuit 2: type B 6 A, RCD 30 mA",) * 2
    assert facts["Loads"] == ("10 W", "10 W")


def test_two_way_is_answered_with_the_ways_of_joining_switches():
    result = run(TWO_WAY, "two-way", "--print")
    assert result.exit_code == 2
    assert ("Say how the switches are joined: 'conversion', 'in first, out last', 'two strappers' or 'line carried "
            "through'.") in result.stderr


def test_it_is_said_where_nothing_is_to_be_changed(tmp_path: Path):
    lines = run(ONE_WAY, "current", "--print").stdout.splitlines()
    assert lines[0] == "Nothing is to be changed." and lines[1].startswith("Proven: ") and len(lines) == 2
    assert run(ONE_WAY, "current", "-o", str(tmp_path)).exit_code == 0
    (sheet,) = tmp_path.iterdir()
    assert "Nothing is to be changed." in extract_text(io.BytesIO(sheet.read_bytes()))


@pytest.mark.parametrize("name", ["bungalow", "two-strappers-conduit"])
def test_a_colour_set_alone_keeps_the_wiring_of_one_circuit_or_of_several(name: str):
    lines = run(str(EXAMPLES / f"{name}.yaml"), "legacy", "--print").stdout.splitlines()
    if name == "two-strappers-conduit":  # in red and black already
        assert lines[0] == "Nothing is to be changed." and lines[1].startswith("Proven: ")
    else:
        assert lines[0] == "No conductor is to be moved." and lines[2].startswith("Proven: ")
        assert lines[1].endswith(" stay in current (brown, blue) colours. The wanted circuit is in legacy (red, "
                                 "black): --renew replaces what is in others.")


def test_the_colours_asked_for_are_not_there_without_renewing(tmp_path: Path):
    lines = run(TWO_WAY, "legacy", "--print").stdout.splitlines()
    assert lines[:2] == ["No conductor is to be moved.",
                         "W1, W2 and W3 stay in current (brown, blue) colours. The wanted circuit is in legacy (red, "
                         "black): --renew replaces what is in others."]
    assert run(TWO_WAY, "legacy", "-o", str(tmp_path)).exit_code == 0
    (sheet,) = tmp_path.iterdir()
    text = " ".join(extract_text(io.BytesIO(sheet.read_bytes())).split())
    assert "Nothing is to be changed" not in text and f"No conductor is to be moved. {lines[1]}" in text
    renewed = run(TWO_WAY, "legacy", "--renew", "--print").stdout
    assert "The wanted circuit is in" not in renewed and "Take out W1" in renewed


@pytest.mark.parametrize(("colours", "sleeve"), [("current", "brown"), ("legacy", "red")])
def test_a_sleeve_is_put_on_in_the_colours_asked_for(colours: str, sleeve: str):
    """A sleeve of today's brown marks a line on a black core of old as well."""
    lines = run(str(EXAMPLES / "old-meets-new.yaml"), colours, "--print").stdout.splitlines()
    assert lines[0] == f"  1  Put a {sleeve} sleeve on W2 BK at both ends."
    assert any(line.startswith("Proven: ") for line in lines)


def test_a_colour_set_alone_renews_the_cables_of_a_house_one_for_one():
    """As many are run as are taken out, and each is laid in red and black."""
    bungalow = EXAMPLES / "bungalow.yaml"
    lines = run(str(bungalow), "legacy", "--renew", "--print").stdout.splitlines()
    run_anew = [line for line in lines if re.match(r" +[0-9]+  Run W", line)]
    cables = re.findall(r"^  W[0-9]+:", bungalow.read_text(encoding="utf-8"), re.MULTILINE)
    assert len(run_anew) == len(cables) == len([line for line in lines if "Take out W" in line]) > 10
    assert all(re.search(r": .*\bRD on ", line) and not re.search(r"\bBN on ", line) for line in run_anew)
    assert lines[-1].startswith("Proven: ")


def test_what_is_run_anew_is_of_a_size_that_is_sold():
    """Nobody sells 1/.044: its 0.98 mm2 gives way to 1.0 mm2 (arithmetic)."""
    lines = run(str(EXAMPLES / "old-meets-new.yaml"), "current", "--renew", "--print").stdout.splitlines()
    assert lines[2].startswith("  3  Run W5, twin and earth 1.0 mm², cpc 1.0 mm², from circuit 7 to Sitting room: BN ")
    assert not any("Run W" in line and ".044" in line for line in lines)


def test_a_method_for_several_circuits_is_refused_with_what_to_choose():
    result = run(str(EXAMPLES / "joint-boxes.yaml"), "at the rose", "--print")
    assert result.exit_code == 2
    assert "A method is compared with one circuit, and here are 2 (the lights Kitchen; Pantry)." in result.stderr
    assert "A colour set alone, current or legacy, goes for all of them." in result.stderr
    words = run(str(EXAMPLES / "joint-boxes.yaml"), "two-way", "--print").stderr
    assert "E412" in words and "E411" not in words
