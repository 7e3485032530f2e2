"""The forms of the check, and names that would operate a terminal or a spreadsheet."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest
from commands.runs import BORROWED, ROOT, SOUND, WRONG, copied, run

from sheetgen.commands.saying import csv_text, json_text, printable

HEAD = ["file", "gravity", "rule", "says", "setting", "means", "cure", "accessory", "terminal", "core", "clause"]
OLD = ROOT / "examples" / "old-meets-new.yaml"


def rows_of(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


def test_the_check_to_read_tells_the_setting_the_meaning_the_cure_and_the_clause() -> None:
    lines = run("check", BORROWED).stdout.splitlines()
    assert lines[0] == f"{BORROWED}: 4 findings"
    assert lines[1] == ("  danger: Landing lamp takes its line from circuit 5 (Downstairs lights) and returns its "
                        "neutral to circuit 6 (Upstairs lights).")
    assert lines[2] == "      Seen with Hall landing at L1, Top at L1"
    assert lines[3].startswith("      With circuit 6 (Upstairs lights) isolated")
    assert lines[4].startswith("      Cure: Isolate circuit 5 (Downstairs lights) and circuit 6 (Upstairs lights)")
    assert lines[5].startswith("      Clause: BS 7671 314.4")
    assert lines[6].startswith("  note: ")
    assert run("check", SOUND).stdout == f"{SOUND}: nothing found\n"
    assert run("check", ROOT / "examples" / "joint-boxes.yaml").stdout.splitlines()[0].endswith(": one finding")


def test_the_check_as_csv_has_a_line_for_each_finding_and_each_file_not_checked() -> None:
    done = run("check", BORROWED, WRONG, SOUND, "--format", "csv")
    assert done.exit_code == 2
    assert next(csv.reader(io.StringIO(done.stdout))) == HEAD
    rows = rows_of(done.stdout)
    assert [(Path(row["file"]), row["gravity"]) for row in rows] == [
        (BORROWED, "danger"), *[(BORROWED, "note")] * 3, (WRONG, "not checked")]
    assert rows[0]["setting"] == "Hall landing at L1, Top at L1"
    assert rows[0]["rule"] == "borrowed_neutral" and rows[0]["says"].startswith("Landing lamp takes its line")
    assert rows[0]["cure"] and rows[0]["means"] and rows[0]["clause"].startswith("BS 7671 314")
    assert not any(rows[4][column] for column in HEAD[2:])


def test_the_check_as_json_names_every_file() -> None:
    done = run("check", BORROWED, WRONG, SOUND, "--format", "json")
    files = json.loads(done.stdout)["files"]
    assert [(Path(f["file"]), f["checked"], len(f["findings"])) for f in files] == [
        (BORROWED, True, 4), (WRONG, False, 0), (SOUND, True, 0)]
    first = files[0]["findings"][0]
    assert first["gravity"] == "danger" and first["setting"] == "Hall landing at L1, Top at L1"
    assert set(first) == {*HEAD[1:]}


def test_only_findings_of_one_gravity() -> None:
    done = run("check", BORROWED, OLD, SOUND, "--only", "danger")
    assert done.exit_code == 1
    assert done.stdout.startswith(f"{BORROWED}: one finding\n  danger: ") and str(OLD) not in done.stdout
    assert "note:" not in done.stdout and "put right:" not in done.stdout
    right = run("check", BORROWED, OLD, "--only", "put right", "--format", "csv")
    assert right.exit_code == 1  # there is a danger, though it is not asked for
    assert {row["gravity"] for row in rows_of(right.stdout)} == {"put right"}
    none = run("check", BORROWED, "--only", "put right")
    assert none.stdout == "Nothing to put right was found in what was checked.\n"
    assert run("check", SOUND, "--only", "danger").stdout == "No danger was found in what was checked.\n"
    assert run("check", SOUND, "--only", "note").stdout == "Nothing to note was found in what was checked.\n"
    assert run("check", WRONG, "--only", "danger").stdout == ""
    assert run("check", BORROWED, "--only", "dangerous").exit_code == 2


@pytest.mark.parametrize("name", [
    "=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "  =1", "\uff1d1", "\n=1", "\r=1",
])
def test_a_cell_that_a_spreadsheet_would_work_out_is_made_harmless(name: str) -> None:
    (row,) = csv.reader([csv_text([(name, "Hall", 7)]).rstrip("\n")])
    assert row[0].startswith("'") and row[1:] == ["Hall", "7"]
    assert "\n" not in row[0] and "\t" not in row[0]


def test_what_is_harmless_stays_as_it_is() -> None:
    assert csv_text([("Hall; Top=L2, (rear)", "a-b", "", 0.5, -1)]) == '"Hall; Top=L2, (rear)",a-b,,0.5,-1\n'


@pytest.mark.parametrize("form", ["csv", "text", "json"])
@pytest.mark.parametrize("bad", ["=cmd|'/C calc'!A0", "+Door", "-Door", "@Door", "\tDoor"])
def test_names_in_states_and_check_cannot_be_formulas(form: str, bad: str, tmp_path: Path) -> None:
    file = tmp_path / "named.yaml"
    text = SOUND.read_text().replace("Study:", f"{json.dumps(bad)}:").replace("to: Study", f"to: {json.dumps(bad)}")
    text = text.replace("from: Study", f"from: {json.dumps(bad)}").replace("job: Study light", "job: Light")
    file.write_text(text)
    for command in ("states", "check"):
        done = run(command, file, "--format", form)
        if done.exit_code == 2:  # a name that the format itself refuses
            assert command == "states" or run("states", file).exit_code == 2
            continue
        assert "\t" not in done.stdout
        if form == "csv":
            for row in csv.reader(io.StringIO(done.stdout)):
                assert not any(cell[:1] in "=+-@\t" for cell in row if cell)


@pytest.mark.parametrize(("text", "shown"), [
    ("Hall", "Hall"), ("a\nb", "a\\nb"), ("\x1b[2J", "\\x1b[2J"), ("\x9b2J", "\\x9b2J"), ("\u202eabc", "\\u202eabc"),
    ("\x00", "\\x00"), ("\u2028", "\\u2028"), ("caf\u00e9 \u4e2d \U0001f4a1", "caf\u00e9 \u4e2d \U0001f4a1"),
    ("6\u00a0A", "6\u00a0A"), ("\udcff", "\\udcff"), ("\ufeff", "\\ufeff"), ("a\tb", "a\\tb"),
])
def test_what_is_no_letter_is_shown_as_an_escape(text: str, shown: str) -> None:
    assert printable(text) == shown


def test_json_says_the_same_and_holds_no_control() -> None:
    value = {"na\x9bme": ["\x1b", "\u202e\n\x7f", "caf\u00e9 6\u00a0A", "\U000e0001"]}
    said = json_text(value)
    assert json.loads(said) == value
    assert all(c.isprintable() or c in "\n\u00a0" for c in said) and "caf\u00e9 6\u00a0A" in said


CONTROL = "Do\x1b[2J\x07or\x9b5m\nline\u202etwo"


@pytest.mark.parametrize("words", [
    ("check",), ("check", "--format", "csv"), ("check", "--format", "json"), ("states",), ("states", "--format", "csv"),
    ("states", "--format", "json"), ("job",), ("new", "--print", "--from"), ("compare", "--print"),
    ("draw",), ("screen",), ("handout",),
])
def test_no_control_character_of_a_file_reaches_the_terminal(words: tuple[str, ...], tmp_path: Path) -> None:
    bad = json.dumps(CONTROL).replace("\\u001b", "\\x1b")
    text = OLD.read_text()
    name = next(line.strip().split(":")[0] for line in text.split("accessories:\n")[1].splitlines())
    file = copied(OLD, tmp_path / "old\x1b[2J\nname.yaml")
    file.write_text(text.replace(name, bad))
    output = ("-o", tmp_path / "out") if words[0] in ("job", "draw", "screen", "handout") else ()
    others = (SOUND,) if words[0] == "compare" else ()
    done = run(*words, file, *others, *output)
    assert done.output and done.exit_code in (0, 1, 2)
    assert all(c.isprintable() or c in "\n\u00a0" for c in done.output), done.output
    assert "\nline" not in done.output and "\nname" not in done.output


def test_a_word_of_the_command_line_is_shown_the_same_way() -> None:
    said = run("jo\x07\nb").output
    assert "There is no command 'jo\\x07\\nb'. Did you mean 'job'?" in said
