"""The index as one HTML file: search, sort, filter; without a script it is a table. Nothing is loaded from anywhere."""

from __future__ import annotations

import base64
import hashlib
from dataclasses import dataclass
from importlib.resources import files
from urllib.parse import quote

from jinja2 import Environment, StrictUndefined
from markupsafe import Markup

from sheetgen.model.words import RECORD
from sheetgen.stock.index.index import HEAD, NO_INSPECTION, Index, cells
from sheetgen.stock.register.reading import IndexLine

HTML = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)
FILTERS = (
    ("danger", "Danger"), ("right", "Put right"), ("overdue", "Report overdue"), ("nodate", "No next date"),
    ("nocpc", "No cpc"), ("mixed", "Mixed colours"), ("norcd", "No RCD"), ("new", "Changed since the run before"),
)
NUMBERS = ("Circuits", "Dangers", "Put right", "Notes")


@dataclass(frozen=True)
class Shown:
    """One row: its words, what sorts them where that is not the words, what filters it, where its sheet is."""

    cells: tuple[str, ...]
    sorts: tuple[str, ...]
    tags: str
    link: str


def index_to_html(index: Index) -> str:
    """The whole file."""
    script = _read("index.js")
    digest = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
    changed = {n.path for n in (*index.since.new, *index.since.changed, *index.since.cured)} | set(index.since.added)
    shown = [_shown(index, line, line.path in changed and not index.since.first) for line in index.lines]
    used = {tag for row in shown for tag in row.tags.split()}
    return HTML.from_string(_read("index.html")).render(
        index=index, head=HEAD, numbers=NUMBERS, rows=shown, care=NO_INSPECTION, record=RECORD,
        filters=[f for f in FILTERS if f[0] in used], digest=digest, script=Markup(script),
        style=Markup(_read("index.css")),
    )


def _read(name: str) -> str:
    return files("sheetgen.stock.index").joinpath(name).read_text(encoding="utf-8")


def _shown(index: Index, line: IndexLine, changed: bool) -> Shown:
    sorts = {HEAD.index("Drawn on"): line.drawn_day, HEAD.index("Next due"): line.due_day}
    words = cells(index, line)
    tags = {
        "danger": line.dangers, "right": line.put_right, "overdue": index.overdue(line), "nodate": not line.due_day,
        "nocpc": line.no_cpc, "mixed": line.mixed_colours, "new": changed,
        "norcd": any(word in line.rcd for word in ("none", "not known")),
    }
    return Shown(words, tuple(sorts.get(i, "") for i in range(len(words))), " ".join(t for t, on in tags.items() if on),
                 f"./{quote(line.sheet)}" if line.sheet else "")
