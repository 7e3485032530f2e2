"""index.html: search, sort and filter; whatever stands in a description is only text; nothing is loaded."""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Iterator
from html.parser import HTMLParser
from urllib.parse import unquote

import pytest

from sheetgen.stock.index.index import Index
from sheetgen.stock.index.page import index_to_html
from sheetgen.stock.register.reading import IndexLine, Noticed, NotUnderstood, Since

EVIL = "<script>alert(1)</script>\"'&<img src=x onerror=alert(2)>"
CHROMIUM = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)


def line(number: int, **more: object) -> IndexLine:
    """A dwelling of the index, sound unless it is said otherwise."""
    facts: dict[str, object] = {
        "path": f"row/{number}.yaml", "job": f"Lights {number}", "place": f"{number} Sorrel Row", "board_where": "Hall",
        "circuits": number % 12, "drawn_on": f"{1 + number % 28} May 2024",
        "drawn_day": f"2024-05-{1 + number % 28:02d}",
        "drawn_by": "A. Fitter", "status": "as found", "dangers": 0, "put_right": 0, "notes": 1, "no_cpc": "",
        "mixed_colours": False, "rcd": "30 mA", "report_number": "", "report_due": "2027-01-01",
        "due_day": "2027-01-01", "sheet": f"row/{number}.pdf"}
    return IndexLine(**{**facts, **more})  # type: ignore[arg-type]


def index(*lines: IndexLine, **more: object) -> Index:
    facts: dict[str, object] = {"stock": "homes", "today": "2026-11-26", "dangers": (), "not_understood": (),
                                "troubles": (), "since": Since((), (), 7, (), ())}
    return Index(lines=lines, **{**facts, **more})  # type: ignore[arg-type]


class Elements(HTMLParser):
    """Every element with its attributes."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str | None]]] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))


def test_what_stands_in_a_description_is_only_text() -> None:
    words = dict.fromkeys(("path", "job", "place", "drawn_on", "drawn_by", "no_cpc", "rcd", "report_number",
                           "report_due", "sheet"), EVIL)
    noticed = (Noticed(EVIL, EVIL, "danger", EVIL),)
    page = index_to_html(index(
        line(1, **words), stock=EVIL, dangers=noticed, since=Since(noticed, noticed, 0, (EVIL,), (EVIL,)),
        not_understood=(NotUnderstood(EVIL, (), EVIL),), troubles=((EVIL, EVIL),)))
    elements = Elements(page).found
    assert [tag for tag, _ in elements].count("script") == 1 and "img" not in [tag for tag, _ in elements]
    assert not any(name.startswith("on") for _, attributes in elements for name in attributes)
    assert page.count("&lt;script&gt;alert(1)") > 10
    (link,) = [a["href"] for tag, a in elements if tag == "a"]
    assert link is not None and link.startswith("./") and unquote(link) == f"./{EVIL}"


def test_nothing_is_loaded_but_sheets_that_are_asked_for() -> None:
    sheets = ("a b/#1?.pdf", "javascript:alert(1).pdf", "")
    page = index_to_html(index(*(line(n, sheet=sheet) for n, sheet in enumerate(sheets))))
    for tag, attributes in Elements(page).found:
        assert "src" not in attributes
        if "href" in attributes:
            assert tag == "a" or attributes["href"] == "data:,"
    assert re.findall(r'<a href="([^"]*)"', page) == ["./a%20b/%231%3F.pdf", "./javascript%3Aalert%281%29.pdf"]
    assert "default-src 'none'" in page


def test_without_a_script_all_is_there() -> None:
    page = index_to_html(index(
        line(1, dangers=2, report_due="March 2025", due_day="2025-03-31"), line(2, rcd="none"),
        since=Since((Noticed("row/1.yaml", "Lights 1", "danger", "It is live."),
                     Noticed("row/1.yaml", "Lights 1", "note", "It is old.")), (), 7,
                    ("row/2.yaml",), ("row/3.yaml",))))
    body = re.sub(r"<[^>]+>", " ", page.split("</style>")[1].split("<script>")[0])
    text = " ".join(body.split())
    for said in ("2 dwellings with 3 circuits, 1 of them with a danger and 1 with a report that is overdue.",
                 "This index is no inspection record", "1 Sorrel Row 1 2 May 2024 A. Fitter as found 2",
                 "March 2025, overdue row/1.pdf", "New findings: 1. Changed: 0. Cured: 0. "
                 "Notes that came, changed or went: 1, not listed. Standing as before: 7, notes counted.",
                 "It is live.",
                 "row/2.yaml", "row/3.yaml", "not an inspection report or certificate"):
        assert said in text, said
    assert "It is old." not in text, "notes are counted"


@pytest.fixture(scope="module")
def shown(tmp_path_factory: pytest.TempPathFactory) -> Iterator[object]:
    """The index of 230 dwellings in a browser."""
    if CHROMIUM is None:
        if os.environ.get("SHEETGEN_REQUIRE_CHROMIUM"):
            pytest.fail("Chromium is asked for and not there")
        pytest.skip("no Chromium")
    from playwright.sync_api import sync_playwright

    path = tmp_path_factory.mktemp("index") / "index.html"
    lines = [line(n, dangers=int(n % 23 == 0), put_right=n % 4, no_cpc="Hall" if n % 46 == 0 else "",
                  due_day="" if n == 5 else f"2026-{1 + n % 12:02d}-01", report_due="" if n == 5 else "given")
             for n in range(1, 231)]
    path.write_text(index_to_html(index(*lines)))
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        page = browser.new_page(viewport={"width": 1300, "height": 800})
        said: list[str] = []
        page.on("console", lambda message: said.append(message.text))
        page.on("pageerror", lambda error: said.append(str(error)))
        page.goto(path.as_uri())
        yield page
        assert said == []
        browser.close()


def first(page, column: int, number: int = 3) -> list[str]:
    return page.eval_on_selector_all("#table tbody tr", f"rows => rows.slice(0, {number}).map("
                                     f"row => row.cells[{column}].textContent)")


def test_pages_of_the_table(shown) -> None:
    assert shown.locator("#found").text_content() == "230 of 230 dwellings"
    assert shown.locator("#table tbody tr").count() == 200
    shown.get_by_role("button", name="After").click()
    assert shown.locator("#where").text_content() == "201 to 230 of 230"
    assert first(shown, 0, 1) == ["201 Sorrel Row"]
    assert shown.get_by_role("button", name="After").is_disabled()
    shown.get_by_role("button", name="Before", exact=True).click()


def test_search_and_filter(shown) -> None:
    search = shown.get_by_label("Search")
    search.fill("sorrel 11 row/11")
    assert shown.locator("#found").text_content() == "11 of 230 dwellings"  # 11, 110 to 119
    search.fill("")
    shown.get_by_label("Danger", exact=True).check()
    assert shown.locator("#found").text_content() == "10 of 230 dwellings"
    shown.get_by_label("No cpc", exact=True).check()
    assert shown.locator("#found").text_content() == "5 of 230 dwellings"
    assert first(shown, 0) == ["46 Sorrel Row", "92 Sorrel Row", "138 Sorrel Row"]
    shown.get_by_label("Danger", exact=True).uncheck()
    shown.get_by_label("No cpc", exact=True).uncheck()
    shown.get_by_label("No next date", exact=True).check()
    assert first(shown, 0) == ["5 Sorrel Row"]
    shown.get_by_label("No next date", exact=True).uncheck()


def test_sort(shown) -> None:
    head = shown.get_by_role("button", name="Circuits")
    head.click()
    assert first(shown, 1) == ["0", "0", "0"]
    head.press("Enter")
    assert first(shown, 1) == ["11", "11", "11"]
    assert shown.locator("th[aria-sort]").get_attribute("aria-sort") == "descending"
    shown.get_by_role("button", name="Next due").click()
    assert first(shown, 0) != ["5 Sorrel Row"] and first(shown, 0)[0] == "12 Sorrel Row"
    shown.get_by_role("button", name="Next due").click()
    assert first(shown, 0)[0] == "11 Sorrel Row", "what is not given is last, either way"
    shown.get_by_role("button", name="Dwelling").click()
    assert first(shown, 0) == ["1 Sorrel Row", "2 Sorrel Row", "3 Sorrel Row"]


def test_it_can_be_used_by_everybody(shown) -> None:
    from axe_core_python.sync_playwright import Axe

    found = Axe().run(shown)["violations"]
    assert not found, [(v["id"], [n["html"] for n in v["nodes"][:3]]) for v in found]
