"""Hands at the page: what a person does there, done by the controls alone; and an example built anew by them.

`Browser` works the page in Chromium. `Reader` sends what the page's own markup says that its controls send, so that
many examples can be built in little time.
"""

from __future__ import annotations

import json
from dataclasses import dataclass, field, replace
from html.parser import HTMLParser
from http.client import HTTPConnection
from urllib.parse import quote, urlencode

from sheetgen.model.description import DescriptionText
from sheetgen.model.problems import Mark
from sheetgen.model.wiring import Wiring
from sheetgen.pipeline import wiring_of
from sheetgen.read.text_to_description import text_to_description

VOID = ("input", "meta", "link", "br", "img")
PRESSED = """([end, name]) => [...document.querySelectorAll('#hand .terminal')].find(b => {
  const pressed = JSON.parse(JSON.parse(b.getAttribute('hx-vals')).pressed);
  return pressed[0] === end && pressed[1] === name;
}).id"""


class Browser:
    """A person at Chromium, whose actions are counted: a field filled in, a choice made, a button pressed."""

    def __init__(self, page):
        self.page, self.actions = page, 0

    def _version(self) -> str:
        return self.page.input_value("#view [name=version]")

    def settled(self) -> None:
        """The page has answered everything it asked."""
        self.page.wait_for_function("() => !document.querySelector('#desk.htmx-request, #desk .htmx-request')")

    def _changes(self, act) -> None:
        self.actions += 1
        before = self._version()
        act()
        self.page.wait_for_function("v => document.querySelector('#view [name=version]').value !== v", arg=before)
        self.settled()

    def tell(self, control: str, value: str) -> None:
        """A fact filled in or chosen; it is taken as soon as the field is left."""
        where = self.page.locator(f"#{control}")
        if where.evaluate("e => e.tagName") == "SELECT":
            self._changes(lambda: where.select_option(value))
        else:
            self._changes(lambda: (where.fill(value), where.blur()))

    def write(self, control: str, value: str) -> None:
        """A field of a form, sent with its button."""
        self.actions += 1
        where = self.page.locator(f"#{control}")
        if where.evaluate("e => e.tagName") == "SELECT":
            where.select_option(value)
        else:
            where.fill(value)

    def press(self, control: str) -> None:
        """A button that changes the description."""
        self._changes(lambda: self.page.click(f"#{control}"))

    def unfold(self, control: str) -> None:
        """Something folded away."""
        if not self.page.evaluate("id => document.getElementById(id).open", control):
            self.actions += 1
            self.page.click(f"#{control} > summary")

    def chosen(self) -> str:
        """The core that is chosen."""
        return json.loads(self.page.input_value("[name=chosen]:checked"))[1]

    def choose(self, number: int) -> None:
        """A core."""
        self.actions += 1
        self.page.check(f"#core-{number}")

    def land(self, end: str, terminal: str) -> None:
        """The core that is chosen on a terminal."""
        self.press(self.page.evaluate(PRESSED, [end, terminal]))

    def holds(self, control: str) -> str:
        """What a field holds."""
        return self.page.input_value(f"#{control}")

    def text(self) -> str:
        """The description."""
        return self.page.input_value("#text")


@dataclass
class Element:
    """An element of the page."""

    tag: str
    attrs: dict[str, str]
    parent: Element | None = None
    inner: list[Element] = field(default_factory=list)
    words: str = ""

    def all(self):
        """It and all within it."""
        yield self
        for element in self.inner:
            yield from element.all()

    def within(self, tag: str) -> Element | None:
        """The nearest one of that tag around it."""
        return self if self.tag == tag else self.parent.within(tag) if self.parent else None


class _Tree(HTMLParser):
    def __init__(self, text: str):
        super().__init__()
        self.root = self.at = Element("root", {})
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        made = Element(tag, {k: v or "" for k, v in attrs}, self.at)
        self.at.inner.append(made)
        if tag not in VOID:
            self.at = made

    def handle_endtag(self, tag):
        if tag not in VOID and (closed := self.at.within(tag)) and closed.parent:
            self.at = closed.parent

    def handle_data(self, data):
        self.at.words += data


class Reader:
    """Reads the page's markup and sends what its controls send."""

    def __init__(self, host: str, path: str):
        self.connection, self.host, self.path = HTTPConnection(host, timeout=60), host, path
        self.typed: dict[str, str] = {}
        self._take(self._send("GET", path, None))

    def _send(self, method: str, path: str, fields: dict[str, str] | None) -> str:
        headers = {"Origin": f"http://{self.host}", "Content-Type": "application/x-www-form-urlencoded"}
        self.connection.request(method, path, urlencode(fields) if fields else None, headers)
        answer = self.connection.getresponse()
        body = answer.read().decode()
        assert answer.status == 200, (path, fields, answer.status, body)
        return body

    def _take(self, html: str) -> None:
        self.root = _Tree(html).root
        self.by_id = {e.attrs["id"]: e for e in self.root.all() if "id" in e.attrs}
        mistake = "".join(e.words for e in self.by_id["mistake"].all()).strip()
        assert not mistake, mistake

    def value(self, element: Element) -> str:
        """What a control holds."""
        if element.attrs.get("id") in self.typed:
            return self.typed[element.attrs["id"]]
        if element.tag == "select":
            options = [e for e in element.all() if e.tag == "option"]
            chosen = next((o for o in options if "selected" in o.attrs), options[0])
            return chosen.attrs.get("value", chosen.words)
        return element.words.removeprefix("\n") if element.tag == "textarea" else element.attrs.get("value", "")

    def _does(self, element: Element, form: Element | None) -> None:
        sends_itself = "hx-post" in element.attrs or "hx-get" in element.attrs
        sender = element if form is None or sends_itself else form
        fields = {e.attrs["name"]: self.value(e) for e in self.by_id["view"].all() if "name" in e.attrs}
        fields |= {e.attrs["name"]: self.value(e) for e in self.root.all()
                   if e.attrs.get("type") == "radio" and "checked" in e.attrs}
        if form is not None:
            fields |= {e.attrs["name"]: self.value(e) for e in form.all() if "name" in e.attrs}
        elif "name" in element.attrs:
            fields[element.attrs["name"]] = self.value(element)
        fields |= json.loads(sender.attrs.get("hx-vals", "{}"))
        self.typed.clear()
        if "hx-get" in sender.attrs:
            self._take(self._send("GET", f"{sender.attrs['hx-get']}?{urlencode(fields, quote_via=quote)}", None))
        else:
            self._take(self._send("POST", sender.attrs["hx-post"], fields))

    def tell(self, control: str, value: str) -> None:
        """A fact filled in or chosen."""
        self.write(control, value)
        self._does(self.by_id[control], None)

    def write(self, control: str, value: str) -> None:
        """A field of a form."""
        element = self.by_id[control]
        if element.tag == "select":
            options = [e.attrs.get("value", e.words) for e in element.all() if e.tag == "option"]
            assert value in options, (control, value)
        self.typed[control] = value

    def press(self, control: str) -> None:
        """A button."""
        self._does(self.by_id[control], self.by_id[control].within("form"))

    def unfold(self, control: str) -> None:
        """Something folded away."""

    def chosen(self) -> str:
        """The core that is chosen."""
        return json.loads(next(e.attrs["value"] for e in self.root.all()
                               if e.attrs.get("type") == "radio" and "checked" in e.attrs))[1]

    def choose(self, number: int) -> None:
        """A core."""
        for element in self.root.all():
            if element.attrs.get("type") == "radio":
                element.attrs.pop("checked", None)
        self.by_id[f"core-{number}"].attrs["checked"] = ""

    def land(self, end: str, terminal: str) -> None:
        """The core that is chosen on a terminal."""
        for element in self.root.all():
            if "terminal" in element.attrs.get("class", "").split() and [end, terminal] == json.loads(
                    json.loads(element.attrs["hx-vals"])["pressed"]):
                self._does(element, None)
                return
        raise AssertionError(f"no terminal {terminal} at end {end}")

    def holds(self, control: str) -> str:
        """What a field holds."""
        return self.value(self.by_id[control])

    def text(self) -> str:
        """The description."""
        return self.value(self.by_id["text"])


Hands = Browser | Reader


def rebuild(hands: Hands, wanted: str) -> None:
    """The description built anew from nothing by the controls of the page."""
    content = text_to_description(wanted).content
    written = wanted_values(wanted)
    _head(hands, content, written)
    for name in content.accessories:
        _accessory(hands, name, written["accessories"][name])
    for circuit in content.circuits:
        _circuit(hands, circuit, content)
    for name in content.cables:
        _cable(hands, name, written["cables"][name])


def wanted_values(text: str) -> dict:
    """The values of a description as text, by a reader of YAML that is not the project's."""
    import yaml

    return yaml.load(text, yaml.BaseLoader)


def _head(hands: Hands, content: DescriptionText, written: dict) -> None:
    hands.tell("job-job", content.job)
    hands.tell("job-place", content.place)
    if content.colours:
        hands.tell("job-colours", content.colours)
    hands.unfold("job-more")
    hands.tell("job-by", content.drawn.by)
    hands.tell("job-on", content.drawn.on)
    board = written.get("board", {})
    for key, control in (("where", "job-where"), ("earthing", "job-earthing"), ("ze", "job-ze")):
        if key in board:
            hands.tell(control, board[key])
    for number, way in board.get("ways", {}).items():
        for key, value in {"number": number, **way}.items():
            hands.write(f"new-way-{key}", value)
        hands.press("new-way-add")


def words(value: object) -> str:
    """A value as a person types it into a field."""
    if isinstance(value, dict):
        return ", ".join(f"{k}: {v}" for k, v in value.items())
    return ", ".join(value) if isinstance(value, list) else str(value)


def _accessory(hands: Hands, name: str, written: dict) -> None:
    at_once = ("kind", "room", "lamp", "blocks", "gangs", "loop", "class", "on", "terminals")
    if set(written) & set(at_once[3:]):
        hands.unfold("new-accessory-more")
    for key in at_once:
        if key in written:
            hands.write(f"new-{key}", words(written[key]))
    if name != written.get("room"):
        hands.write("new-name", name)
    hands.press("new-accessory-add")
    for key, value in written.items():
        if key not in at_once:
            hands.tell(f"accessory-{key}", words(value))


def _circuit(hands: Hands, circuit, content: DescriptionText) -> None:
    hands.unfold("new-circuit-fold")
    hands.unfold("new-circuit-more")
    method = circuit.method or content.method
    facts = {"lights": words(circuit.lights), "switches": words(circuit.switches), "name": circuit.name,
             "size": circuit.size or content.size, "loop": method.loop, "join": method.join}
    for key, value in (circuit.lengths.model_dump() if circuit.lengths else {}).items():
        facts[f"length-{key}"] = f"{value} m" if value is not None else ""
    for key, value in facts.items():
        if value:
            hands.write(f"new-circuit-{key}", value)
    hands.press("new-circuit-add")


def _cable(hands: Hands, name: str, written: dict) -> None:
    single = "single" in written["type"]
    cores, kind = written["cores"], written["type"]
    if "cpc" in cores and "and earth" not in kind:  # 'three-core' with its cpc listed is one with earth
        kind = kind.replace("core ", "core and earth ")
    if hands.holds("new-type") != kind:
        hands.write("new-type", kind)
    if hands.holds("new-from") != written["from"]:
        hands.write("new-from", written["from"])
    hands.write("new-to", written["to"])
    for key in ("length", "method"):
        if key in written:
            hands.write(f"new-{key}", written[key])
    if single or "colours" in written or "in" in written:
        hands.unfold("new-cable-more")
    for key in ("colours", "in"):
        if key in written:
            hands.write(f"new-{key}", written[key])
    if single:
        hands.write("new-core", next(iter(cores)).removesuffix(" 1").removesuffix(" 2"))
    hands.press("new-cable-add")
    if hands.holds("cable-name") != name:
        hands.unfold("cable-more")
        hands.tell("cable-name", name)
    for word, (here, there) in cores.items():
        if word.endswith((" 1", " 2")):
            hands.unfold("cable-more")
            hands.tell("core-name-0", word)
        if word == "cpc" and here == there == "E":
            hands.press("both-e")
            continue
        hands.land("0", here)
        hands.land("1", there)
    _sleeves(hands, written)


def _sleeves(hands: Hands, written: dict) -> None:
    names = list(written["cores"])
    given = written.get("sleeved", [])
    for core in given:
        number = names.index(core)
        if isinstance(given, dict):  # of a colour that is said
            hands.unfold("cable-more")
            hands.write(f"one-sleeve-{number}-colour", given[core])
            hands.press(f"one-sleeve-{number}-put")
        else:
            hands.press(f"sleeve-{number}")
    for core in written.get("bare", []):
        hands.press(f"sleeve-{names.index(core)}")


def bare(text: str) -> Wiring:
    """The wiring of a text without the places of things in it."""
    wiring = wiring_of(text)
    return replace(
        wiring, accessories=tuple(replace(a, at=Mark()) for a in wiring.accessories),
        cables=tuple(replace(c, at=Mark()) for c in wiring.cables),
        board=replace(wiring.board, ways=tuple(replace(w, at=Mark()) for w in wiring.board.ways)))
