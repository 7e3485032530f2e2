"""The register: tables that say what they hold, moved forward from earlier versions, whole dwellings or nothing."""

from __future__ import annotations

import contextlib
import sqlite3
from dataclasses import replace
from pathlib import Path

import pytest
from commands.runs import BORROWED, SOUND
from stock.stocks import rows

from sheetgen.model.problems import Mark, Problem
from sheetgen.pipeline import Look, job_of
from sheetgen.stock.dwelling import Dwelling
from sheetgen.stock.job_to_dwelling import job_to_dwelling
from sheetgen.stock.register import NotARegister, Reader, Register, opening

LANDING = job_to_dwelling(job_of(BORROWED.read_bytes(), Look()))
STUDY = job_to_dwelling(job_of(SOUND.read_bytes(), Look()))


def kept(path: Path, dwelling: Dwelling, name: str = "a.yaml", mark: str = "m") -> None:
    """One whole run that keeps one dwelling."""
    with Register(path) as register:
        register.begin("2026-11-26", "p", "as found")
        register.known(name)
        register.keep(name, mark, dwelling, "a.pdf", 100)
        register.end()


def test_what_is_kept_of_a_dwelling_is_what_its_description_says() -> None:
    assert (LANDING.job, LANDING.place, LANDING.drawn_by, LANDING.drawn_day, LANDING.earthing) == (
        "Landing light between two circuits", "12 Curlew Terrace", "C. Wright", "2026-05-07", "TN-C-S")
    assert [(w.number, w.serves, w.device, w.rcd) for w in LANDING.ways] == [
        ("5", "Downstairs lights", "type B 6 A", "30 mA"), ("6", "Upstairs lights", "type B 6 A", "30 mA")]
    assert LANDING.rcd == "30 mA"
    assert replace(LANDING, ways=(LANDING.ways[0], replace(LANDING.ways[1], rcd="none"))).rcd == (
        "circuit 5 30 mA; circuit 6 none")
    assert [(c.name, c.type, c.size, c.colours, c.begins, c.ends, c.length, c.cores) for c in LANDING.cables[:3]] == [
        ("W1", "twin and earth", "1.0 mm²", "legacy", "way 5", "Hall rose", None, 3),
        ("W2", "twin and earth", "1.0 mm²", "legacy", "Hall rose", "Hall", None, 3),
        ("W3", "unsheathed single", "1.0 mm²", "legacy", "Hall", "Hall", None, 1)]
    assert {(a.name, a.room) for a in LANDING.accessories} >= {
        ("Hall rose", "Hall"), ("Landing", "Landing"), ("Hall", "Hall"), ("Top", "Landing")}
    assert not any(a.name.startswith("way") for a in LANDING.accessories)


def test_any_program_can_ask_it(tmp_path: Path) -> None:
    path = tmp_path / "r.sqlite"
    kept(path, LANDING)
    assert rows(path, "SELECT path, gravity, count(*) FROM finding_now GROUP BY gravity") == [
        ("a.yaml", "danger", 1), ("a.yaml", "note", 3)]
    assert rows(path, "SELECT sum(length), count(*) FROM cable WHERE type = 'twin and earth'") == [(None, 4)]
    tables = rows(path, "SELECT name, sql FROM sqlite_master WHERE type = 'table'")
    assert {name for name, _ in tables} == {
        "run", "dwelling", "state", "way", "circuit", "finding", "cable", "accessory", "note", "problem"}
    assert "why a description could not be understood" in dict(tables)["problem"], "the tables say what they hold"


def test_a_state_is_new_only_where_something_changed(tmp_path: Path) -> None:
    path = tmp_path / "r.sqlite"
    for dwelling in (LANDING, LANDING, STUDY, STUDY, LANDING):
        kept(path, dwelling)
    assert rows(path, "SELECT run, job FROM state ORDER BY id") == [
        (1, LANDING.job), (3, STUDY.job), (5, LANDING.job)]
    assert rows(path, "SELECT job FROM now") == [(LANDING.job,)]


def test_of_two_alike_findings_one_may_be_cured_and_one_stand(tmp_path: Path) -> None:
    path, danger = tmp_path / "r.sqlite", LANDING.findings[0]
    kept(path, replace(LANDING, findings=(danger, replace(danger, says="The same again."))))
    kept(path, replace(LANDING, findings=(replace(danger, says="Said in other words."),)))
    with Reader(path) as reader:
        since = reader.since(2)
    assert [n.says for n in since.cured] == ["The same again."]
    assert (since.new, since.standing) == ((), 1)


def test_a_dwelling_is_kept_whole_or_not_at_all(tmp_path: Path) -> None:
    path = tmp_path / "r.sqlite"
    kept(path, STUDY)
    broken = replace(LANDING, accessories=(replace(LANDING.accessories[0], room=None),))  # type: ignore[arg-type]
    with pytest.raises(NotARegister, match=r"NOT NULL constraint failed: accessory\.room"):
        kept(path, broken, mark="other")
    assert rows(path, "SELECT job, mark FROM now JOIN dwelling USING (path)") == [(STUDY.job, "m")]
    assert rows(path, "SELECT count(*) FROM finding") == [(len(STUDY.findings),)]


def test_problems_come_back_as_they_were(tmp_path: Path) -> None:
    problems = (Problem(Mark(3, 4), "E101", "Wrong.", "Put right."), Problem(Mark(), "E105", "The file is empty."))
    with Register(tmp_path / "r.sqlite") as register:
        register.begin("2026-11-26", "p", "as found")
        register.keep_problems("a.yaml", "m", problems)
        assert register.problems("a.yaml") == problems
        known = register.known("a.yaml")
        assert known is not None and not known.understood
        register.keep_trouble("a.yaml", "It takes too long.")
        assert register.known("a.yaml") is None, "it is tried again"


def test_an_earlier_version_is_moved_forward_and_keeps_what_it_holds(tmp_path: Path,
                                                                     monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "r.sqlite"
    kept(path, LANDING)
    step = "ALTER TABLE dwelling ADD COLUMN landlord TEXT NOT NULL DEFAULT 'not given';\nUPDATE dwelling SET mark = '';"
    monkeypatch.setattr(opening, "STEPS", (*opening.STEPS, step))
    with pytest.raises(NotARegister, match=r"is of an earlier version\. `sheetgen stock FOLDER` moves it forward"):
        Reader(path)
    Register(path).__exit__(None, None, None)
    assert rows(path, "SELECT landlord, mark FROM dwelling") == [("not given", "")]
    assert rows(path, "PRAGMA user_version") == [(2,)]
    monkeypatch.undo()
    for use in (Reader, Register):
        with pytest.raises(NotARegister, match="is of a later version than this program"):
            use(path)


def test_a_step_that_fails_leaves_the_register_as_it_was(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "r.sqlite"
    kept(path, LANDING)
    before = path.read_bytes()
    monkeypatch.setattr(opening, "STEPS", (*opening.STEPS, "DROP TABLE note;\nDROP TABLE landlord;"))
    with pytest.raises(NotARegister, match="no such table: landlord"):
        Register(path)
    assert path.read_bytes() == before


def test_what_is_no_register_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "other.sqlite"
    with contextlib.closing(sqlite3.connect(path)) as base:
        base.execute("CREATE TABLE recipe (name TEXT)")
        base.commit()
    before = path.read_bytes()
    for use in (Register, Reader):
        with pytest.raises(NotARegister, match="is a database of something else"):
            use(path)
    assert path.read_bytes() == before
    (tmp_path / "text").write_text("not a database at all, but long enough to be taken for one" * 20)
    with pytest.raises(NotARegister, match="file is not a database"):
        Register(tmp_path / "text")
    with pytest.raises(NotARegister, match="cannot be used as a register"):
        Register(tmp_path / "nowhere" / "r.sqlite")
