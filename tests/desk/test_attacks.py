"""What a page elsewhere, a guesser or a careless program may try: each is refused and changes nothing."""

from __future__ import annotations

import socket
from http.client import HTTPConnection
from pathlib import Path
from urllib.parse import urlencode

import pytest
from desk.conftest import TOKEN, Running

TEXT = "job: Attacked\ncolours: current\n"
FORM = "application/x-www-form-urlencoded"


def ask(desk: Running, method: str, path: str, fields: dict[str, str] | None = None, **headers: str):
    """One request: its status, headers and body."""
    connection = HTTPConnection("127.0.0.1", desk.port, timeout=120)
    sent = {"Host": desk.host, "Content-Type": FORM, **{k.replace("_", "-"): v for k, v in headers.items()}}
    connection.request(method, path, urlencode(fields) if fields is not None else None, sent)
    answer = connection.getresponse()
    body = answer.read().decode("utf-8", "replace")
    connection.close()
    return answer.status, dict(answer.getheaders()), body


@pytest.fixture
def attacked(desk) -> Path:
    """A description that must stay as it is."""
    file = desk.folder / "attacked.yaml"
    file.write_text(TEXT, encoding="utf-8")
    yield file
    assert file.read_text(encoding="utf-8") == TEXT
    status, _, body = ask(desk, "GET", f"/{TOKEN}/at/attacked.yaml/")
    assert status == 200 and "job: Attacked" in body


CHANGE = {"do": "head", "field": "job", "value": "Taken", "version": "1"}
OTHERS = [
    {"Origin": "http://evil.example"}, {"Origin": "null"}, {"Origin": "https://127.0.0.1"}, {"Origin": ""},
    {"Origin": "http://127.0.0.1:1"}, {}, {"Origin": "{own}", "Sec-Fetch-Site": "cross-site"},
    {"Origin": "{own}", "Sec-Fetch-Site": "same-site"}, {"Origin": "{own}", "Host": "evil.example"},
    {"Origin": "http://evil.example", "Host": "evil.example"},
]


@pytest.mark.parametrize("headers", OTHERS, ids=str)
def test_a_page_elsewhere_changes_nothing_even_if_it_knew_the_token(desk, attacked, headers):
    sent = {k: v.replace("{own}", f"http://{desk.host}") for k, v in headers.items()}
    status, _, _ = ask(desk, "POST", f"/{TOKEN}/at/attacked.yaml/change", CHANGE, **sent)
    assert status in (403, 421)


def test_without_the_token_nothing_is_shown(desk, attacked):
    own = f"http://{desk.host}"
    for path in ("/", "/at/attacked.yaml/", "//at/attacked.yaml/", f"/{TOKEN[:-1]}/", f"/{TOKEN}x/", "/static/desk.css",
                 f"/%2e/{TOKEN}/", f"/x/{TOKEN}/at/attacked.yaml/"):
        status, _, body = ask(desk, "GET", path)
        assert status in (403, 404) and "Attacked" not in body, path
        assert ask(desk, "POST", f"{path.rstrip('/')}/change", CHANGE, Origin=own)[0] in (403, 404)


def test_another_name_for_this_machine_is_refused(desk):
    names = ("evil.example", f"evil.example:{desk.port}", "127.0.0.1", f"0.0.0.0:{desk.port}", f"[::1]:{desk.port}")
    for host in names:
        assert ask(desk, "GET", f"/{TOKEN}/", Host=host)[0] == 421
    assert ask(desk, "GET", f"/{TOKEN}/", Host=f"localhost:{desk.port}")[0] == 200


@pytest.mark.parametrize("name", ["../secret.yaml", "%2e%2e%2fsecret.yaml", "..%5csecret.yaml", "%2fetc%2fpasswd",
                                  "secret.yaml%00.yaml", ".hidden.yaml", "....//secret.yaml",
                                  "attacked.yaml%2f..%2fx.yaml"])
def test_path_tricks_find_nothing(desk, attacked, name):
    (desk.folder.parent / "secret.yaml").write_text("job: Secret\n", encoding="utf-8")
    (desk.folder / ".hidden.yaml").write_text("job: Secret\n", encoding="utf-8")
    for path in (f"/{TOKEN}/at/{name}/", f"/{TOKEN}/at/{name}/sheet/file", f"/{TOKEN}/static/{name}"):
        status, _, body = ask(desk, "GET", path)
        assert status >= 400 and "Secret" not in body and "root:" not in body, path


def test_no_upload_is_larger_than_a_description(desk, attacked):
    own, path = f"http://{desk.host}", f"/{TOKEN}/at/attacked.yaml/change"
    assert ask(desk, "POST", path, CHANGE, Origin=own, Content_Length="100000000")[0] == 413
    with socket.create_connection(("127.0.0.1", desk.port), timeout=120) as raw:  # in parts, without saying how many
        raw.sendall(f"POST {path} HTTP/1.1\r\nHost: {desk.host}\r\nOrigin: {own}\r\nContent-Type: {FORM}\r\n"
                    "Transfer-Encoding: chunked\r\n\r\n".encode())
        part = b"10000\r\n" + b"x" * 0x10000 + b"\r\n"
        try:
            for _ in range(40):  # 2.6 MB
                raw.sendall(part)
            raw.sendall(b"0\r\n\r\n")
        except ConnectionError:
            pass  # it hung up, as it may
        assert raw.recv(100).startswith(b"HTTP/1.1 413")


def test_every_answer_forbids_what_the_page_does_not_need(desk):
    _, headers, _ = ask(desk, "GET", f"/{TOKEN}/")
    policy = headers["content-security-policy"]
    assert "default-src 'none'" in policy and "unsafe" not in policy and "frame-ancestors 'none'" in policy
    assert headers["referrer-policy"] == "no-referrer" and headers["x-content-type-options"] == "nosniff"
    assert headers["cache-control"] == "no-store"
    assert not any(name.lower().startswith("access-control") for name in headers)


@pytest.mark.parametrize("method", ["PUT", "DELETE", "PATCH", "OPTIONS", "TRACE"])
def test_other_ways_of_asking_are_refused(desk, method):
    assert ask(desk, method, f"/{TOKEN}/at/attacked.yaml/change", CHANGE, Origin=f"http://{desk.host}")[0] in (403, 405)


@pytest.mark.parametrize("fields", [
    {}, {"do": "nothing of the kind", "version": "1"}, {"do": "head", "field": "../x", "value": "1", "version": "1"},
    {"do": "land", "chosen": "[", "pressed": "{}", "version": "1"}, {"do": "cable", "name": "W1", "version": "1"},
    {"do": "head", "field": "job", "value": "x", "version": "99"}, {"do": "head", "field": "job", "value": "x"},
    {"do": "circuit", "circuit": "-1", "lights": "a", "switches": "b", "version": "1"},
    {"do": "add accessory", "kind": "no such thing", "version": "1", "stands": "[]", "hand": "{}", "chosen": "9"},
])
def test_a_form_that_no_page_sends_is_answered_and_does_nothing(desk, attacked, fields):
    status, _, body = ask(desk, "POST", f"/{TOKEN}/at/attacked.yaml/change", fields, Origin=f"http://{desk.host}")
    assert status == 200 and 'class="mistake"' in body


def test_a_file_of_a_hundred_megabytes_is_named_and_not_read(desk):
    with open(desk.folder / "huge.yaml", "wb") as file:
        file.truncate(100_000_000)
    status, _, body = ask(desk, "GET", f"/{TOKEN}/at/huge.yaml/")
    assert status == 200 and "too much for a description" in body
    (desk.folder / "huge.yaml").unlink()


def test_shared_a_phone_is_let_in_by_the_code_alone_and_guessing_ends(shared):
    own = f"http://{shared.host}"
    (shared.folder / "house.yaml").write_text(TEXT, encoding="utf-8")
    assert ask(shared, "GET", "/at/house.yaml/")[0] == 404
    status, _, body = ask(shared, "GET", "/")
    assert status == 200 and "Type the code" in body and shared.code not in body
    status, headers, _ = ask(shared, "POST", "/code", {"code": f" {shared.code[:4]} {shared.code[4:]} "}, Origin=own)
    assert status == 303 and TOKEN not in headers["location"]
    assert "house.yaml" in ask(shared, "GET", headers["location"])[2]
    wrong = f"{(int(shared.code) + 1) % 10 ** 8:08d}"
    for _ in range(5):
        assert ask(shared, "POST", "/code", {"code": wrong}, Origin=own)[0] == 403
    assert ask(shared, "POST", "/code", {"code": shared.code}, Origin=own)[0] == 403
    assert ask(shared, "POST", "/code", {"code": shared.code}, Origin="http://evil.example")[0] == 403


def test_not_shared_there_is_no_door(desk):
    assert ask(desk, "POST", "/code", {"code": "1"}, Origin=f"http://{desk.host}")[0] == 403


def test_every_sheet_comes_by_its_button_and_none_of_a_text_that_is_not_understood(desk):
    example = (Path(__file__).parents[2] / "examples" / "two-way-conversion.yaml").read_text(encoding="utf-8")
    (desk.folder / "sheets.yaml").write_text(example, encoding="utf-8")
    (desk.folder / "empty.yaml").write_text("job: Nothing yet\n", encoding="utf-8")
    (desk.folder / "wrong.yaml").write_text(example.replace("two-way switch", "two-way swich"), encoding="utf-8")
    _, _, page = ask(desk, "GET", f"/{TOKEN}/at/sheets.yaml/")
    begins = {"job": "%PDF", "short": "%PDF", "survey": "%PDF", "screen": "<!DOCTYPE html>", "file": example}
    for kind, begin in begins.items():
        assert f'id="sheet-{kind}"' in page
        status, headers, body = ask(desk, "GET", f"/{TOKEN}/at/sheets.yaml/sheet/{kind}")
        assert status == 200 and body.startswith(begin), kind
        shown = "inline" if begin == "%PDF" else "attachment"
        assert headers["content-disposition"].startswith(shown)
    assert ask(desk, "GET", f"/{TOKEN}/at/empty.yaml/sheet/survey")[2].startswith("%PDF")
    status, _, body = ask(desk, "GET", f"/{TOKEN}/at/wrong.yaml/sheet/job")
    assert status == 422 and "Did you mean 'two-way switch'?" in body
    assert ask(desk, "GET", f"/{TOKEN}/at/sheets.yaml/sheet/other")[0] == 404
