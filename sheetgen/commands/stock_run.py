"""A run over a stock: what has changed is made, written and kept, a whole dwelling at once; then the index."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from functools import partial
from pathlib import Path, PurePath

from sheetgen.commands.reading import Source, as_text, read_file, sources_of
from sheetgen.commands.run import Tally, tallied
from sheetgen.commands.saying import complain, csv_text, say
from sheetgen.commands.writing import OutputFolder, names_of
from sheetgen.many.attempt import Attempt, CameTo, NotWritten, attempt
from sheetgen.many.workers import Workers, each_done
from sheetgen.model.problems import Mark, Problem, Refused
from sheetgen.pipeline import Look
from sheetgen.stock.index.index import index_of, tables
from sheetgen.stock.index.page import index_to_html
from sheetgen.stock.index.pages import index_to_pdf
from sheetgen.stock.making import Made, SheetOrder, make
from sheetgen.stock.program import program_mark
from sheetgen.stock.register import Reader, Register

INDEX = "index"
OURS = b"(sheetgen)"  # the creator, as a sheet's PDF says it


@dataclass(frozen=True)
class Stock:
    """What a run is about: the folder of descriptions, where sheets and index go, the register, the look, the day."""

    folder: Path
    output: Path
    register: Path
    look: Look
    today: date


@dataclass(frozen=True)
class SheetFile:
    """A description and its sheet: the name of the sheet below the output folder, the name in the register."""

    source: Source
    name: PurePath

    @property
    def key(self) -> str:
        """The path below the folder, with /; bytes that are no text in it as escapes."""
        return as_text(self.source.below / self.source.path.name)


def run_stock(stock: Stock, workers: Workers) -> int:
    """The whole run; its exit status."""
    sources = sources_of([stock.folder])
    with Register(stock.register) as register, tallied(len(sources)) as tally:
        register.begin(stock.today.isoformat(), program_mark(), str(stock.look))
        keeper = Keeper(stock, register, tally)
        for place, came in each_done(workers, make, keeper.orders(sources)):
            keeper.keep(place, came)
        register.end()
    complain(tally.summary())
    return max(tally.worst, _write_index(stock))


class Keeper:
    """Gives out what is to be made, and keeps what comes."""

    def __init__(self, stock: Stock, register: Register, tally: Tally):
        self._stock, self._register, self._tally = stock, register, tally
        self._output = OutputFolder(stock.output)
        self._orders: dict[str, str] = {}  # marks of what is being made

    def orders(self, sources: list[Source]) -> Iterator[tuple[SheetFile, SheetOrder]]:
        """Every description that changed or whose sheet is gone; what is as it was or cannot be read is counted."""
        names = names_of(sources, ".pdf")
        for source in sources:
            name = names[source.path]
            place = SheetFile(source, name if isinstance(name, PurePath) else PurePath())
            known = self._register.known(place.key)
            read = attempt(partial(self._read, source, name))
            if read.value is None:
                self._register.keep_problems(place.key, "", read.problems)
                self._tally.count(str(source.path), read)
                continue
            order = SheetOrder(read.value, self._stock.look, as_text(PurePath(source.path.name)))
            if known is None or known.mark != order.mark:
                pass
            elif not known.understood:
                as_before: Attempt[object] = Attempt(CameTo.NOT_UNDERSTOOD, problems=self._register.problems(place.key))
                self._tally.count(str(source.path), as_before)
                continue
            elif _size(self._stock.output / place.name) == known.sheet_bytes:
                self._tally.count(str(source.path), Attempt(CameTo.UNCHANGED), danger=known.dangers > 0)
                continue
            self._orders[place.key] = order.mark
            yield place, order

    def _read(self, source: Source, name: PurePath | Refused) -> bytes:
        if isinstance(name, Refused):
            raise name
        if re.fullmatch(rf"{INDEX}(-\d+)?\.pdf", str(name).casefold()):
            raise Refused([Problem(Mark(), "E005", f"Its file would be called {name}, as the index of the stock.",
                                   "Give it another name.")])
        return read_file(source.path)

    def keep(self, place: SheetFile, came: Attempt[Made]) -> None:
        """The sheet first, then the register: broken off between, it is made again next time, to the same bytes."""
        mark, label = self._orders.pop(place.key), str(place.source.path)
        if came.value is not None:
            came = attempt(partial(self._keep_made, place, mark, came.value))
        elif came.problems:
            self._register.keep_problems(place.key, mark, came.problems)
        if came.says:
            self._register.keep_trouble(place.key, came.says)
        self._tally.count(label, came, danger=came.value is not None and came.value.dwelling.count("danger") > 0)

    def _keep_made(self, place: SheetFile, mark: str, made: Made) -> Made:
        if made.program != program_mark():
            raise NotWritten(f"{place.source.path}: it was made by another version of the program. Install the same on "
                             "every machine of the cluster.")
        target = self._stock.output / place.name
        if not self._register.has_written(as_text(place.name)) and not _may_be_replaced(target):
            raise NotWritten(f"{target} is there already and is no sheet of this program. Move it, or write the sheets "
                             "elsewhere with -o.")
        self._output.write(place.name, made.sheet)
        self._register.keep(place.key, mark, made.dwelling, as_text(place.name), len(made.sheet))
        return made


def _size(path: Path) -> int:
    try:
        return path.stat().st_size
    except OSError:
        return -1


def _may_be_replaced(path: Path) -> bool:
    try:
        return OURS in path.read_bytes()
    except FileNotFoundError:
        return True
    except OSError as error:
        raise NotWritten(f"{path} cannot be read: {error.strerror or error}.") from None


def _volume(number: int) -> str:
    return f"{INDEX}.pdf" if number == 1 else f"{INDEX}-{number}.pdf"


def _write_index(stock: Stock) -> int:
    """index.pdf, index.html and the CSV files, from the register alone."""
    from sheetgen.commands.run import status_alone

    def write() -> None:
        with Reader(stock.register) as reader:
            last = reader.last_run()
            index = index_of(reader, stock.folder.absolute().name, stock.today, reader.last_whole_before(last) + 1)
        output = OutputFolder(stock.output)
        number = 0
        for number, volume in enumerate(index_to_pdf(index), 1):
            say(str(output.write(_volume(number), volume)))
        while _size(left := stock.output / _volume(number := number + 1)) >= 0 and _may_be_replaced(left):
            left.unlink()
        say(str(output.write(f"{INDEX}.html", index_to_html(index).encode("utf-8", "replace"))))
        for ending, rows in tables(index).items():
            say(str(output.write(f"{INDEX}{ending}.csv", csv_text(rows).encode("utf-8", "replace"))))
        say(str(stock.register))

    return status_alone(f"index of {stock.folder}", write)
