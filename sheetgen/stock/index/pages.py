"""The index as pages to print: the stock in a table, its dangers, what changed, what could not be understood."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.model.page import Block, Info, Page, Table, Words
from sheetgen.model.words import count, joined
from sheetgen.pipeline import Look, style_of
from sheetgen.print.pdf import pages_to_pdf
from sheetgen.stock.index.index import HEAD, NO_INSPECTION, Index, cells
from sheetgen.stock.register.reading import IndexLine, Noticed

SHARES = (2.6, 0.75, 1.05, 1.05, 0.9, 0.8, 0.7, 0.6, 1.5, 0.8, 1.2, 0.9, 1.3, 2.4)
VOLUME = 5000  # dwellings in one file: what is more takes much memory, and is no file that anybody prints
MOST_CHANGES = 400  # listed on paper; index-changes.csv has all


def index_to_pdf(index: Index) -> Iterator[bytes]:
    """The file; of a large stock several, one after another. The first holds all that is not the table of dwellings.

    Notes are counted, not listed: each stands on the sheet of its dwelling.
    """
    style = style_of(Look())
    info = Info(f"Index of {index.stock}", drawn_on=index.today, record=f"as of {index.today}")
    parts = max(1, -(-len(index.lines) // VOLUME))
    for part in range(parts):
        lines = index.lines[part * VOLUME:(part + 1) * VOLUME]
        title = f"The stock, part {part + 1} of {parts}" if parts > 1 else "The stock"
        pages = (_table(index, lines, title), *(_else(index) if part == 0 else ()))
        yield pages_to_pdf(pages, style, info)


def _table(index: Index, lines: tuple[IndexLine, ...], title: str) -> Page:
    rows = tuple(cells(index, line) for line in lines)
    tones = tuple("danger" if line.dangers else "" for line in lines)
    table: list[Block] = [Table(HEAD, rows, SHARES, tones)] if rows else []
    return Page("stock", title, (Words(index.summary()), Words(NO_INSPECTION, "caution", "Care."), *table))


def _else(index: Index) -> Iterator[Page]:
    if index.dangers:
        yield Page("dangers", "Dangers", (_findings(index.dangers),), follows=True)
    yield Page("changes", "Since the run before", tuple(_changes(index)), follows=True)
    if index.not_understood or index.troubles:
        yield Page("problems", "Not understood, not made", tuple(_problems(index)), follows=True)


def _findings(found: tuple[Noticed, ...]) -> Table:
    return Table(("Dwelling", "What was noticed", "File"), tuple((n.job, n.says, n.path) for n in found), (2, 5, 2.4))


def _changes(index: Index) -> Iterator[Block]:
    since = index.since
    if since.first:
        yield Words("This is the first run: there is nothing to compare with.")
        return
    listed = [(word, n) for word, found in since.by_word for n in found if n.grave]
    said = [count(sum(word == each for each, _ in listed), f"{word} finding") for word, found in since.by_word
            if found or word != "changed"]
    yield Words(f"{joined(said)}; {count(since.standing, 'finding')} {'stands' if since.standing == 1 else 'stand'} as "
                "before, notes counted.")
    if notes := sum(len(found) for _, found in since.by_word) - len(listed):
        stands = "it stands" if notes == 1 else "they stand"
        yield Words(f"Beside these {count(notes, 'note')} came, changed or went: {stands} in index-changes.csv.")
    for lead, paths in (("New dwellings:", since.added), ("Not there any more:", since.gone)):
        if paths:
            more = f" and {len(paths) - MOST_CHANGES} more" if len(paths) > MOST_CHANGES else ""
            yield Words(", ".join(paths[:MOST_CHANGES]) + more + ".", lead=lead)
    if listed:
        yield Table(("", "Gravity", "Dwelling", "What was noticed", "File"), tuple(
            (word, n.gravity, n.job, n.told, n.path) for word, n in listed[:MOST_CHANGES]), (0.6, 0.8, 2, 5, 2.4))
    if len(listed) > MOST_CHANGES:
        yield Words(f"{len(listed) - MOST_CHANGES} more stand in index-changes.csv.", "quiet")


def _problems(index: Index) -> Iterator[Block]:
    rows = [(found.path, f"{p.at.line or ''}", f"{p.message} {p.hint}".strip())
            for found in index.not_understood for p in found.problems]
    rows += [(path, "", why) for path, why in index.troubles]
    yield Table(("File", "Line", "What is wrong"), tuple(rows), (2.4, 0.5, 6), joined=1)
    if stale := [found.path for found in index.not_understood if found.sheet]:
        yield Words(f"{', '.join(stale)}.", "notice", "Their sheets are of an earlier text:")
