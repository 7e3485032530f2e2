"""What an index says, however it is written: the dwellings as they are, what changed, what could not be made."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from sheetgen.model.words import count, joined
from sheetgen.stock.register.asking import find_ask
from sheetgen.stock.register.reading import IndexLine, Noticed, NotUnderstood, Reader, Since

NO_INSPECTION = (
    "This index is no inspection record: it says what the wiring sheets say, and they are only as true as the "
    "descriptions. No dwelling was inspected or tested for it."
)
HEAD = ("Dwelling", "Circuits", "Drawn on", "by", "Status", "Dangers", "Put right", "Notes", "No cpc at",
        "Mixed colours", "RCD", "Report", "Next due", "Sheet")


@dataclass(frozen=True)
class Index:
    """An index on a day. `today` is an ISO date."""

    stock: str  # name of the folder
    today: str
    lines: tuple[IndexLine, ...]
    dangers: tuple[Noticed, ...]
    since: Since
    not_understood: tuple[NotUnderstood, ...]
    troubles: tuple[tuple[str, str], ...]  # (path, why it could not be made)

    def overdue(self, line: IndexLine) -> bool:
        """Whether its next report was due before today."""
        return bool(line.due_day) and line.due_day < self.today

    def summary(self) -> str:
        """The whole stock in a sentence or two."""
        circuits = sum(line.circuits for line in self.lines)
        with_danger = sum(line.dangers > 0 for line in self.lines)
        overdue = sum(map(self.overdue, self.lines))
        parts = [f"{count(len(self.lines), 'dwelling')} with {count(circuits, 'circuit')}",
                 f"{with_danger or 'none'} of them with a danger", f"{overdue or 'none'} with a report that is overdue"]
        left = [count(len(self.not_understood), "description") + " could not be understood"] * bool(self.not_understood)
        left += [count(len(self.troubles), "dwelling") + " could not be made"] * bool(self.troubles)
        return f"{joined(parts)}." + (f" {joined(left)}." if left else "")


def index_of(reader: Reader, stock: str, today: date, run: int) -> Index:
    """The index as the register stands; what changed is told since that run."""
    danger = find_ask("danger")
    assert danger is not None
    rows = reader.ask(danger, today.isoformat())
    return Index(
        stock, today.isoformat(), tuple(sorted(reader.lines(), key=_as_people_count)),
        tuple(Noticed(str(path), str(job), "danger", str(says)) for path, job, says, _ in rows),
        reader.since(run), tuple(reader.not_understood()), tuple(reader.troubles()),
    )


def _as_people_count(line: IndexLine) -> tuple[tuple[bool, int, str], ...]:
    """'2 Sorrel Row' before '10 Sorrel Row'."""
    return tuple((not digits, int(digits or 0), word) for digits, word in re.findall(r"(\d+)|(\D+)", line.path))


def cells(index: Index, line: IndexLine) -> tuple[str, ...]:
    """A dwelling as a row under HEAD, in words."""
    due = line.report_due + (", overdue" if index.overdue(line) else "")
    return (line.place or line.job, str(line.circuits), line.drawn_on, line.drawn_by, line.status,
            str(line.dangers or ""), str(line.put_right or ""), str(line.notes or ""), line.no_cpc,
            "yes" if line.mixed_colours else "", line.rcd, line.report_number, due, line.sheet)


def tables(index: Index) -> dict[str, list[tuple[object, ...]]]:
    """The rows of each CSV file, by the end of its name: '' the dwellings, '-changes', '-problems'."""
    dwellings: list[tuple[object, ...]] = [(
        "file", "dwelling", "place", "board", "circuits", "drawn on", "drawn by", "status", "dangers", "put right",
        "notes", "no cpc at", "mixed colours", "RCD", "report", "next due", "overdue", "sheet")]
    for x in index.lines:
        dwellings.append((
            x.path, x.job, x.place, x.board_where, x.circuits, x.drawn_day or x.drawn_on, x.drawn_by, x.status,
            x.dangers, x.put_right, x.notes, x.no_cpc, "yes" if x.mixed_colours else "no", x.rcd, x.report_number,
            x.due_day or x.report_due, "yes" if index.overdue(x) else "no", x.sheet))
    return {"": dwellings, "-changes": list(_changes(index.since)), "-problems": list(_problems(index))}


def _changes(since: Since) -> Iterable[tuple[object, ...]]:
    yield "file", "change", "gravity", "finding"
    for path in since.added:
        yield path, "new dwelling", "", ""
    for path in since.gone:
        yield path, "not there any more", "", ""
    for word, found in since.by_word:
        for noticed in found:
            yield noticed.path, word, noticed.gravity, noticed.told


def _problems(index: Index) -> Iterable[tuple[object, ...]]:
    yield "file", "line", "column", "problem", "instead"
    for found in index.not_understood:
        for p in found.problems:
            yield found.path, p.at.line, p.at.column, f"{p.code} {p.message}", p.hint
    for path, why in index.troubles:
        yield path, 0, 0, why, ""


def beside(folder: Path, ending: str) -> Path:
    """A file beside a folder that bears its name: homes.sqlite beside homes/."""
    folder = folder.absolute()
    return folder.with_name(folder.name + ending)
