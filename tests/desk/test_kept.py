"""What is kept: steps back and forth, through a crash, beside another program, and only in the one folder."""

from __future__ import annotations

import os

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.commands.desk_folder import DeskFolder
from sheetgen.desk.desk import Desk, NotKept
from sheetgen.desk.history import History, first_line, replayed, step_line, text_line
from sheetgen.model.problems import Refused

FIRST = "job: One\n"


def at_desk(tmp_path, name: str = "one.yaml") -> Desk:
    """The description as the desk opens it."""
    return Desk(DeskFolder(tmp_path), name)


@settings(max_examples=50, deadline=None)
@given(st.lists(st.one_of(st.just(-1), st.just(1), st.text(max_size=8)), max_size=30))
def test_the_way_back_is_that_of_a_plain_list_and_the_journal_gives_it_again(steps):
    states, at = [FIRST], 0
    history, journal = History((FIRST,)), first_line("", History((FIRST,)))
    for step in steps:
        if isinstance(step, int):
            at = min(max(at + step, 0), len(states) - 1)
            history, journal = history.moved(step), journal + step_line(step)
        else:
            states, at = [*states[:at + 1], step], at + 1
            history, journal = history.with_text(step), journal + text_line(step)
        assert history.text == states[at]
    assert replayed(journal) == ("", history)


def test_a_crash_at_any_byte_loses_at_most_the_step_that_was_being_written():
    history = History((FIRST,))
    texts = ["job: Two\n", "job: Three\n"]
    lines = [first_line("mark", history), *map(text_line, texts)]
    whole = b"".join(lines)
    for cut in range(len(whole) + 1):
        kept = replayed(whole[:cut])
        ends = [sum(map(len, lines[:i + 1])) for i in range(len(lines))]
        done = sum(end <= cut for end in ends)
        assert (kept[1].text if kept else None) == [None, FIRST, *texts][done]


def test_what_was_not_saved_is_there_again_after_the_program_was_killed(tmp_path):
    (tmp_path / "one.yaml").write_text(FIRST, encoding="utf-8")
    desk = at_desk(tmp_path)
    desk.change("job: Two\n")
    desk.change("job: Three\n")
    desk.move(-1)
    again = at_desk(tmp_path)  # nothing was closed
    assert (again.text, again.history.can_redo, again.is_saved) == ("job: Two\n", True, False)
    assert "Taken up where it was left" in again.notice
    again.move(1)
    again.save()
    assert (tmp_path / "one.yaml").read_text(encoding="utf-8") == "job: Three\n"
    assert [p.name for p in tmp_path.iterdir()] == ["one.yaml"]


def test_a_file_changed_by_another_program_is_noticed_and_neither_text_is_lost(tmp_path):
    file = tmp_path / "one.yaml"
    file.write_text(FIRST, encoding="utf-8")
    desk = at_desk(tmp_path)
    desk.change("job: Mine\n")
    assert not desk.look()
    file.write_text("job: Theirs\n", encoding="utf-8")
    assert desk.look()
    desk.save()
    assert file.read_text(encoding="utf-8") == "job: Theirs\n"
    after_a_crash = at_desk(tmp_path)
    assert after_a_crash.text == "job: Theirs\n"
    after_a_crash.move(-1)
    assert after_a_crash.text == "job: Mine\n"
    desk.take_theirs()
    assert (desk.text, desk.history.can_undo) == ("job: Theirs\n", True)
    desk.move(-1)
    file.write_text("job: Theirs again\n", encoding="utf-8")
    assert desk.look()
    desk.keep_mine()
    assert file.read_text(encoding="utf-8") == "job: Mine\n" and not desk.elsewhere


def test_a_file_saved_with_the_same_words_is_no_change(tmp_path):
    file = tmp_path / "one.yaml"
    file.write_text(FIRST, encoding="utf-8")
    desk = at_desk(tmp_path)
    os.utime(file, ns=(1, 1))
    assert not desk.look()


def test_a_byte_order_mark_stays_and_a_new_file_is_only_there_when_saved(tmp_path):
    (tmp_path / "one.yaml").write_bytes(b"\xef\xbb\xbfjob: One\n")
    desk = at_desk(tmp_path)
    desk.change("job: Two\n")
    desk.save()
    assert (tmp_path / "one.yaml").read_bytes() == b"\xef\xbb\xbfjob: Two\n"
    new = at_desk(tmp_path, "Landing light.yaml")
    assert DeskFolder(tmp_path).names() == ("one.yaml",)
    new.change("job: Landing lamp\n")
    assert DeskFolder(tmp_path).names() == ("Landing light.yaml", "one.yaml")  # only in its journal, and not lost
    new.move(-1)
    assert new.text == "job: Landing light\n" and not (tmp_path / "Landing light.yaml").exists()
    new.save()
    assert (tmp_path / "Landing light.yaml").read_text(encoding="utf-8") == "job: Landing light\n"


@pytest.mark.parametrize("name", [
    "../one.yaml", "/etc/passwd", "a/b.yaml", "..yaml", ".one.yaml", "one.txt", "one.yaml\0", "con\n.yaml", "", ".yaml",
    "a\\b.yaml", "C:one.yaml", "x" * 130 + ".yaml",
])
def test_a_name_never_leads_out_of_the_folder(tmp_path, name):
    assert not DeskFolder(tmp_path).may_be(name)


def test_a_link_never_leads_out_of_the_folder(tmp_path):
    inside, outside = tmp_path / "inside", tmp_path / "outside"
    inside.mkdir()
    outside.mkdir()
    (outside / "secret.yaml").write_text("job: Secret\n", encoding="utf-8")
    (inside / "link.yaml").symlink_to(outside / "secret.yaml")
    (inside / ".new.yaml.desk").symlink_to(outside / "journal")
    folder = DeskFolder(inside)
    assert folder.names() == () and not folder.may_be("link.yaml")
    with pytest.raises(Refused):
        Desk(folder, "link.yaml")
    with pytest.raises((NotKept, Refused)):
        Desk(folder, "new.yaml").change("job: x\n")
    assert not (outside / "journal").exists()


def test_a_file_of_a_hundred_megabytes_is_refused_unread(tmp_path):
    with open(tmp_path / "huge.yaml", "wb") as file:
        file.truncate(100_000_000)
    with pytest.raises(Refused, match="E004"):
        at_desk(tmp_path, "huge.yaml")


def test_a_folder_that_cannot_be_written_is_said(tmp_path, monkeypatch):
    desk = at_desk(tmp_path)
    monkeypatch.setattr(os, "replace", _refuses)
    with pytest.raises(NotKept, match=r"one\.yaml"):
        desk.change("job: Two\n")


def _refuses(*_words):
    raise PermissionError(13, "Permission denied")


def test_what_is_listed_of_a_folder_and_what_may_be_a_description(tmp_path):
    """Files that end so, and those of which there is only a journal yet; nothing hidden, no folder, no long name."""
    for name in ("b.yaml", "A.YML", "notes.txt", ".hidden.yaml", ".new.yaml.desk", ".notes.txt.desk"):
        (tmp_path / name).write_bytes(b"job: One\n")
    (tmp_path / "folder.yaml").mkdir()
    (tmp_path / ".other.yaml.desk").mkdir()
    folder = DeskFolder(tmp_path)
    assert folder.names() == ("A.YML", "b.yaml", "new.yaml")
    longest = "x" * 115 + ".yaml"  # 120 letters
    assert folder.may_be(longest) and not folder.may_be(f"x{longest}")
    assert not folder.may_be("\u00e9" * 58 + ".yaml") and folder.may_be("\u00e9" * 57 + ".yaml"), "letters of two bytes"
    assert folder.may_be("not there yet.yml")
    assert not any(map(folder.may_be, ("folder.yaml", "a:b.yaml", "yaml", ".yaml")))
    assert folder.read("nothing.yaml") is None and folder.stamp("nothing.yaml") is None
    folder.append(".b.yaml.desk", b"one")
    folder.append(".b.yaml.desk", b"two")
    assert folder.read(".b.yaml.desk") == b"onetwo"
    folder.write(".b.yaml.desk", b"three")
    folder.write("b.yaml", b"job: Two\n")
    assert (folder.read(".b.yaml.desk"), folder.read("b.yaml")) == (b"three", b"job: Two\n")
    folder.remove("b.yaml")
    folder.remove("b.yaml")
    assert sorted(p.name for p in tmp_path.iterdir()) == [
        ".b.yaml.desk", ".hidden.yaml", ".new.yaml.desk", ".notes.txt.desk", ".other.yaml.desk", "A.YML", "folder.yaml",
        "notes.txt"]


def test_a_journal_that_is_too_large_is_none_of_ours(tmp_path, monkeypatch):
    monkeypatch.setattr("sheetgen.commands.desk_folder.MOST_JOURNAL", 5)
    for name, size in (("a.yaml", 5), ("b.yaml", 6)):
        (tmp_path / f".{name}.desk").write_bytes(b"x" * size)
    folder = DeskFolder(tmp_path)
    assert folder.read(".a.yaml.desk") == b"xxxxx" and folder.read(".b.yaml.desk") == b""


def test_a_link_that_leads_out_is_refused_by_name(tmp_path):
    (tmp_path / "in").mkdir()
    (tmp_path / "out.yaml").write_text("job: Out\n", encoding="utf-8")
    (tmp_path / "in" / "link.yaml").symlink_to(tmp_path / "out.yaml")
    (tmp_path / "in" / "one.yaml").write_text(FIRST, encoding="utf-8")
    (tmp_path / "in" / "inside.yaml").symlink_to(tmp_path / "in" / "one.yaml")
    assert DeskFolder(tmp_path / "in").read("inside.yaml") == FIRST.encode()
    for name in ("link.yaml", "../out.yaml"):
        with pytest.raises(Refused) as refused:
            DeskFolder(tmp_path / "in").read(name)
        assert [(p.code, p.message) for p in refused.value.problems] == [("E006", f"'{name}' leads out of the folder.")]
