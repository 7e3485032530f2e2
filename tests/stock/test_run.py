"""A run over a stock: what changed is made, what did not is left; the register says what was, is and has changed."""

from __future__ import annotations

import csv
import io
import os
import time
from pathlib import Path

import pytest
from commands.runs import BORROWED, SOUND, copied, files_in, run
from pdfminer.high_level import extract_text
from stock.stocks import COTTAGE, NOW_NONE, WAS_100, hall, here, make_undrawn, rows, stock, three

import sheetgen.commands.stock
import sheetgen.commands.stock_run
from sheetgen.pipeline import Look
from sheetgen.stock.making import SheetOrder

INDEX = ["index-changes.csv", "index-problems.csv", "index.csv", "index.html", "index.pdf"]


@pytest.fixture(autouse=True)
def in_this_process(monkeypatch: pytest.MonkeyPatch, request: pytest.FixtureRequest) -> None:
    """No process is begun, and no sheet drawn but where a test asks for it."""
    monkeypatch.setattr(sheetgen.commands.stock, "pool", here)
    if not request.node.get_closest_marker("usefixtures"):
        monkeypatch.setattr(sheetgen.commands.stock_run, "make", make_undrawn)


@pytest.fixture
def drawn() -> None:
    """Whole sheets are made."""


def changes(folder: Path) -> list[list[str]]:
    return list(csv.reader((folder / "index-changes.csv").open()))[1:]


@pytest.mark.usefixtures("drawn")
def test_sheets_lie_beside_their_descriptions_and_are_those_of_job(tmp_path: Path) -> None:
    homes = three(tmp_path / "homes")
    done = stock(homes)
    assert done.exit_code == 0
    assert done.stderr == "3 written, 1 with a danger.\n"
    assert files_in(homes) == ["10 Sorrel Row/landing.pdf", "10 Sorrel Row/landing.yaml", "2 Sorrel Row/study.pdf",
                               "2 Sorrel Row/study.yaml", "farm.pdf", "farm.yaml", *INDEX]
    assert files_in(tmp_path)[:2] == [".homes.sqlite.lock", "homes.sqlite"]
    assert run("job", homes / "farm.yaml", "-o", tmp_path / "out").exit_code == 0
    assert (tmp_path / "out/farm.pdf").read_bytes() == (homes / "farm.pdf").read_bytes()


def test_the_index_as_csv(tmp_path: Path) -> None:
    homes = three(tmp_path / "homes")
    hall(homes, "hall", "report: {number: =1+1, date: 2021-03-14, next due: March 2026}\nplace: Flat 3\n"
                        "board: {where: Porch}\nstatus: proposed\ndrawn: {by: A. Fitter, on: 2 May 2021}\n")
    assert stock(homes).exit_code == 0
    assert (homes / "index.csv").read_text().splitlines() == [
        "file,dwelling,place,board,circuits,drawn on,drawn by,status,dangers,put right,notes,no cpc at,mixed colours,"
        "RCD,report,next due,overdue,sheet",
        "2 Sorrel Row/study.yaml,Study light,\"3 Sorrel Row, ground floor\",,1,2026-02-02,A. Fitter,,0,0,0,,no,30 mA,,"
        ",no,2 Sorrel Row/study.pdf",
        "10 Sorrel Row/landing.yaml,Landing light between two circuits,12 Curlew Terrace,,2,2026-05-07,C. Wright,,1,0,"
        "3,,no,30 mA,,,no,10 Sorrel Row/landing.pdf",
        "farm.yaml,Sitting room and extension lights,\"Lark Rise Farm, ground floor\",,1,2026-07-01,C. Wright,,0,2,2,,"
        "yes,none,,,no,farm.pdf",
        "hall.yaml,hall,Flat 3,Porch,1,2021-05-02,A. Fitter,proposed,0,0,0,,no,not known,'=1+1,2026-03-31,yes,hall.pdf",
    ]


def test_the_index_as_pdf_says_the_same_and_that_it_is_no_inspection(tmp_path: Path) -> None:
    homes = three(tmp_path / "homes")
    hall(homes, "hall", "lamp: nonsense\n")
    assert stock(homes).exit_code == 2
    text = " ".join(extract_text(io.BytesIO((homes / "index.pdf").read_bytes())).split())
    for said in ("Index of homes", "3 dwellings with 4 circuits, 1 of them with a danger and none with a report that "
                 "is overdue. 1 description could not be understood.", "This index is no inspection record",
                 "12 Curlew",
                 "takes its line from circuit 5", "as of 2026-11-26", "This is the first run", "hall.yaml"):
        assert said in text, said


def test_the_index_of_a_large_stock_comes_in_parts(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    homes = tmp_path / "homes"
    for n in range(5):
        hall(homes, f"hall {n}")
    with monkeypatch.context() as patched:
        patched.setattr("sheetgen.stock.index.pages.VOLUME", 2)
        stock(homes)
    parts = [extract_text(homes / name) for name in ("index.pdf", "index-2.pdf", "index-3.pdf")]
    for part, (text, mine) in enumerate(zip(parts, ("01", "23", "4"), strict=True), 1):
        assert f"The stock, part {part} of 3" in text and "no inspection record" in text
        assert [n for n in "01234" if f"hall {n}.pdf" in text] == list(mine)
        assert ("Since the run before" in text) == (part == 1)
    stock(homes)
    assert [name for name in files_in(homes) if name.startswith("index") and name.endswith("pdf")] == ["index.pdf"]


def test_what_did_not_change_is_left_and_what_did_is_made(tmp_path: Path) -> None:
    homes = three(tmp_path / "homes")
    assert stock(homes).exit_code == 0
    before = {name: (homes / name).stat().st_mtime_ns for name in files_in(homes) if name.endswith("e.pdf")}
    again = stock(homes)
    assert again.exit_code == 0 and again.stderr == "0 written, 3 unchanged, 1 with a danger.\n"
    assert {name: (homes / name).stat().st_mtime_ns for name in before} == before
    assert changes(homes) == []
    copied(SOUND, homes / "10 Sorrel Row/landing.yaml")
    third = stock(homes)
    assert third.stderr == "1 written, 2 unchanged.\n"
    assert changes(homes) == [
        ["10 Sorrel Row/landing.yaml", "cured", "danger", "Landing lamp takes its line from circuit 5 (Downstairs "
         "lights) and returns its neutral to circuit 6 (Upstairs lights)."],
        *(["10 Sorrel Row/landing.yaml", "cured", "note", says] for says in (
            "The black core of W6 is connected at neither end, in Landing and Top.",
            "Conductors of circuit 5 (Downstairs lights) and circuit 6 (Upstairs lights) end in Landing and Landing "
            "lamp.",
            "The red core of W4 is connected at neither end, in Hall and Top."))]
    register = tmp_path / "homes.sqlite"
    assert rows(register, "SELECT count(*) FROM state") == [(4,)], "what stayed as it was has one state"
    assert rows(register, "SELECT dangers FROM state JOIN dwelling ON dwelling.id = state.dwelling "
                          "WHERE path LIKE '10%' ORDER BY run") == [(1,), (0,)]


def test_new_findings_are_told_from_those_that_stand(tmp_path: Path) -> None:
    homes = tmp_path / "homes"
    path = copied(BORROWED, homes / "landing.yaml")
    stock(homes)
    text = path.read_text()
    path.write_text(text.replace("sleeved: [BK]", "note: seen from below").replace("two-way switch", "2-way"))
    stock(homes)
    assert changes(homes) == [["landing.yaml", "new", "put right",
                               "The black core of W2 is a switched line and is not marked at Hall rose SL and Hall "
                               "light L1."]]
    assert "Standing as before: 4, notes counted." in (homes / "index.html").read_text()


def test_a_sheet_that_is_gone_or_cut_short_is_made_again(tmp_path: Path) -> None:
    homes = tmp_path / "homes"
    hall(homes, "one"), hall(homes, "two"), hall(homes, "three")
    stock(homes)
    whole = (homes / "one.pdf").read_bytes()
    (homes / "one.pdf").unlink()
    (homes / "two.pdf").write_bytes((homes / "two.pdf").read_bytes()[:-7])
    assert stock(homes).stderr == "2 written, 1 unchanged.\n"
    assert (homes / "one.pdf").read_bytes() == whole and (homes / "two.pdf").read_bytes().endswith(b"%%EOF\n")


@pytest.mark.usefixtures("drawn")
def test_another_look_or_another_program_makes_all_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    homes = tmp_path / "homes"
    hall(homes)
    stock(homes)
    found = (homes / "hall.pdf").read_bytes()
    assert stock(homes, "--mono").stderr == "1 written.\n"
    assert (homes / "hall.pdf").read_bytes() != found
    for place in ("sheetgen.stock.making.program_mark", "sheetgen.commands.stock_run.program_mark"):
        monkeypatch.setattr(place, lambda: "another")
    hall(homes, "other")
    assert stock(homes, "--mono").stderr == "2 written.\n"
    assert rows(tmp_path / "homes.sqlite", "SELECT count(*) FROM state") == [(2,)], "nothing that is kept changed"


def test_all_that_a_sheet_depends_on_is_in_its_mark() -> None:
    looks = (Look(), Look(mono=True), Look("legacy"))
    orders = [SheetOrder(text, look, name) for text in (b"a", b"b") for look in looks
              for name in ("hall.yaml", "porch.yaml")]
    assert len({order.mark for order in orders}) == 12


def test_a_machine_with_another_program_makes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sheetgen.commands.stock_run.program_mark", lambda: "another")
    hall(tmp_path / "homes")
    done = stock(tmp_path / "homes")
    assert done.exit_code == 3
    assert done.stderr.splitlines()[0] == (
        f"{tmp_path}/homes/hall.yaml: it was made by another version of the program. Install the same on every machine "
        "of the cluster.")
    assert not (tmp_path / "homes/hall.pdf").exists()


def test_what_is_not_understood_is_named_every_time_and_its_old_sheet_with_it(tmp_path: Path) -> None:
    homes = tmp_path / "homes"
    hall(homes, "good")
    bad = hall(homes, "bad")
    stock(homes)
    bad.write_text(bad.read_text().replace("loop:", "lop:"))
    for _ in range(2):
        done = stock(homes)
        assert done.exit_code == 2
        assert f"{bad}:4:10: E201 'lop' is not known here. Did you mean 'loop'?" in done.stderr
        assert done.stderr.endswith("0 written, 1 unchanged, 1 not understood.\n")
        page = (homes / "index.html").read_text()
        assert "its sheet is of an earlier text" in page and "Did you mean &#39;loop&#39;?" in page
        assert (homes / "index-problems.csv").read_text().splitlines()[1:] == [
            "bad.yaml,4,10,E201 'lop' is not known here.,Did you mean 'loop'?"]
    assert stock(homes, "--ask", "not understood").stdout.startswith("bad.yaml  4  E201")
    bad.write_text(bad.read_text().replace("lop:", "loop:"))
    assert stock(homes).exit_code == 0
    assert changes(homes) == [], "its findings are as they were when it was understood last"


def test_what_is_gone_stays_in_the_register_and_may_come_back(tmp_path: Path) -> None:
    homes = tmp_path / "homes"
    hall(homes, "stays")
    moves = hall(homes, "moves")
    stock(homes)
    text = moves.read_text()
    moves.unlink()
    stock(homes)
    assert changes(homes) == [["moves.yaml", "not there any more", "", ""]]
    assert rows(tmp_path / "homes.sqlite", "SELECT path FROM now") == [("stays.yaml",)]
    assert rows(tmp_path / "homes.sqlite", "SELECT path, gone FROM dwelling ORDER BY path") == [
        ("moves.yaml", 2), ("stays.yaml", None)]
    moves.write_text(text)
    assert stock(homes).stderr == "1 written, 1 unchanged.\n"
    assert rows(tmp_path / "homes.sqlite", "SELECT count(*) FROM now") == [(2,)]


def test_no_file_that_is_not_ours_is_written_over(tmp_path: Path) -> None:
    homes = tmp_path / "homes"
    hall(homes, "hall"), hall(homes, "porch"), hall(homes, "index"), hall(homes, "Index-12")
    (homes / "hall.pdf").write_bytes(b"%PDF-1.4 the tenancy agreement\n%%EOF\n")
    run("job", homes / "porch.yaml", "-o", homes)
    done = stock(homes)
    assert done.exit_code == 3
    assert (f"{homes}/hall.pdf is there already and is no sheet of this program. Move it, or write the sheets "
            "elsewhere with -o.\n") in done.stderr
    for name in ("index", "Index-12"):
        assert (f"{homes}/{name}.yaml: E005 Its file would be called {name}.pdf, as the index of the stock. Give it "
                "another name.\n") in done.stderr
    assert done.stderr.endswith("1 written, 2 not understood, 1 could not be written.\n")
    assert (homes / "hall.pdf").read_bytes().startswith(b"%PDF-1.4 the tenancy")
    assert "hall.yaml" in (homes / "index-problems.csv").read_text()
    elsewhere = stock(homes, "-o", tmp_path / "out")
    assert elsewhere.exit_code == 2 and (tmp_path / "out/hall.pdf").exists() and (tmp_path / "out.sqlite").exists()


@pytest.mark.usefixtures("drawn")
def test_the_same_stock_gives_the_same_bytes(tmp_path: Path) -> None:
    for where in ("a", "b"):
        homes = tmp_path / where / "homes"
        hall(homes, "hall"), hall(homes, "porch", switches="[Hall, Porch]")
        stock(homes)
    for name in files_in(tmp_path / "a/homes"):
        assert (tmp_path / "a/homes" / name).read_bytes() == (tmp_path / "b/homes" / name).read_bytes(), name


@pytest.mark.parametrize(("ask", "answer"), [
    ("danger", "10 Sorrel Row/landing.yaml  Landing light between two circuits  Landing lamp takes its line from "
               "circuit 5 (Downstairs lights) and returns its neutral to circuit 6 (Upstairs lights).  Isolate circuit "
               "5 (Downstairs lights) and circuit 6 (Upstairs lights) before work here, and feed the lamp's line and "
               "neutral from one circuit. Its line leaves circuit 5 at Hall light COM, by the red single W3: "
               "take that off there before another line is brought in. The line of circuit 6 is at Landing loop: the "
               "free black core of W6 can take it to Top. For two-way switching use the three cores "
               "between the switches: W4 has them, its red core free.\n"),
    ("overdue", "late.yaml  late  R 7  31/12/2025\n"),
    ("no date", "10 Sorrel Row/landing.yaml  Landing light between two circuits\n2 Sorrel Row/study.yaml  Study light\n"
                "farm.yaml  Sitting room and extension lights\n"),
    ("no cpc", "bare.yaml  bare  Hall, Hall switch\n"),
    ("mixed colours", "farm.yaml  Sitting room and extension lights\n"),
    ("no rcd", "farm.yaml  Sitting room and extension lights  7  Downstairs lights  none\n"),
])
def test_questions_to_the_register(ask: str, answer: str, asked: Path) -> None:
    done = stock(asked, "--ask", ask)
    assert (done.exit_code, done.stdout) == (0, answer)


@pytest.fixture(scope="module")
def asked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A stock with something for every question."""
    homes = three(tmp_path_factory.mktemp("stock") / "homes")
    board = "board: {ways: {1: {rcd: 30 mA, device: type B 6 A}}}\nreport: "
    hall(homes, "late", f"{board}{{number: R 7, next due: 31/12/2025}}\n")
    hall(homes, "in time", f"{board}{{number: R 8, next due: November 2026}}\n")
    (homes / "bare.yaml").write_text(
        f"job: bare\n{board}{{next due: 2027-01}}\ncolours: legacy\naccessories:\n"
        "  Hall: {kind: ceiling rose}\n  Hall switch: {kind: one-way switch}\ncables:\n"
        "  W1: {type: twin 1.0, from: way 1, to: Hall, cores: {RD: [L, loop], BK: [N, N]}}\n"
        "  W2: {type: twin 1.0, from: Hall, to: Hall switch, cores: {RD: [loop, COM], BK: [SL, L1]}, sleeved: [BK]}\n")
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(sheetgen.commands.stock, "pool", here)
        patched.setattr(sheetgen.commands.stock_run, "make", make_undrawn)
        assert stock(homes).exit_code == 0
    return homes


def test_a_question_of_another_day(asked: Path) -> None:
    done = run("stock", asked, "--ask", "overdue", "--today", "2026-12-01", "--format", "csv")
    assert done.stdout == ("file,dwelling,report,next due\nlate.yaml,late,R 7,31/12/2025\n"
                           "in time.yaml,in time,R 8,November 2026\n")


def test_a_report_is_not_overdue_on_the_day_it_is_due(asked: Path) -> None:
    assert run("stock", asked, "--ask", "overdue", "--today", "2025-12-31").stdout == ""
    assert run("stock", asked, "--ask", "overdue", "--today", "2026-01-01").stdout.startswith("late.yaml")


def test_what_cannot_be_asked(asked: Path, tmp_path: Path) -> None:
    assert "Did you mean 'overdue'?" in stock(asked, "--ask", "overdeu").stderr
    assert "'soon' is not understood as a date. Write it as in 2026-03-14." in stock(asked, "--since", "soon").stderr
    done = stock(tmp_path, "--ask", "danger")
    assert done.exit_code == 2 and f"There is no register {tmp_path}.sqlite." in done.stderr


def test_what_changed_since_a_day(tmp_path: Path) -> None:
    homes = tmp_path / "homes"
    copied(BORROWED, homes / "landing.yaml"), hall(homes)
    run("stock", homes, "--today", "2026-01-10")
    copied(SOUND, homes / "landing.yaml")
    run("stock", homes, "--today", "2026-02-10")
    copied(BORROWED, homes / "hall.yaml")
    run("stock", homes, "--today", "2026-03-10")
    since = {day: run("stock", homes, "--since", day).stderr for day in ("2026-01-01", "2026-02-01", "2026-03-01",
                                                                        "2026-04-01")}
    assert since == {
        "2026-01-01": "4 new findings, 0 cured, 0 standing as before.\n",
        "2026-02-01": "4 new findings, 4 cured, 0 standing as before.\n",
        "2026-03-01": "4 new findings, 0 cured, 0 standing as before.\n",
        "2026-04-01": "0 new findings, 0 cured, 4 standing as before.\n",
    }
    assert run("stock", homes, "--ask", "danger", "--since", "2026-03-01").stdout.startswith("hall.yaml  Landing light")
    assert run("stock", homes, "--ask", "danger", "--since", "2026-04-01").stdout == ""


@pytest.mark.skipif(os.name != "posix", reason="names that are no text")
def test_a_name_that_is_no_text_is_kept_as_escapes(tmp_path: Path) -> None:
    homes = tmp_path / "homes"
    path = hall(homes)
    os.rename(path, os.fsencode(homes) + b"/h\xff.yaml")
    assert stock(homes).exit_code == 0
    assert rows(tmp_path / "homes.sqlite", "SELECT path FROM now") == [("h\\xff.yaml",)]
    assert stock(homes).exit_code == 0


def test_an_empty_folder_is_refused(tmp_path: Path) -> None:
    done = stock(tmp_path)
    assert done.exit_code == 2 and "E002 No description lies in this folder" in done.stderr


def test_an_unchanged_run_is_quick(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    homes = tmp_path / "homes"
    for n in range(8):
        hall(homes, f"h{n}")
    stock(homes)
    monkeypatch.setattr("sheetgen.commands.stock_run.make", lambda order: pytest.fail("made again"))
    begun = time.process_time()
    assert stock(homes).stderr == "0 written, 8 unchanged.\n"
    assert time.process_time() - begun < 2


def test_numbers_and_table_of_what_changed_agree_and_what_is_worse_is_not_cured(tmp_path: Path) -> None:
    homes = tmp_path / "homes"
    homes.mkdir()
    (homes / "cottage.yaml").write_text(COTTAGE)
    (homes / "other.yaml").write_text(COTTAGE)
    stock(homes)
    (homes / "cottage.yaml").write_text(
        COTTAGE.replace("rcd: 100 mA", "rcd: none").replace("black: [SL, L1]", "black: [loop, L1]"))
    (homes / "other.yaml").write_text(COTTAGE.replace("rcd: 100 mA", "rcd: 30 mA"))
    stock(homes)
    text = " ".join(extract_text(io.BytesIO((homes / "index.pdf").read_bytes())).split())
    for said in ("2 dwellings with 2 circuits, 1 of them with a danger", "1 new finding, 1 changed finding and 0 cured "
                 "findings;", "Beside these 1 note came, changed or went: it stands in index-changes.csv."):
        assert said in text, said
    assert changes(homes) == [
        ["cottage.yaml", "new", "put right", "Parlour lamp is on in no setting: no line reaches it."],
        ["cottage.yaml", "changed", "danger", f"{NOW_NONE} Before: {WAS_100}"],
        ["other.yaml", "cured", "note", WAS_100.removeprefix("note: ")],
    ]
