"""The work on one dwelling, wherever it is done: text in; what is kept of it and its sheet out."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass

from sheetgen.pipeline import Look, job_of, sheet_of
from sheetgen.stock.dwelling import Dwelling
from sheetgen.stock.job_to_dwelling import job_to_dwelling
from sheetgen.stock.program import program_mark


@dataclass(frozen=True)
class SheetOrder:
    """What is to be made: a description, the look of its sheet, the name of its file as the sheet prints it."""

    text: bytes
    look: Look
    source: str

    @property
    def mark(self) -> str:
        """All that the sheet depends on: text, look, file name and program. While it stays, nothing is made again."""
        said = f"{self.look}\n{self.source}\n{program_mark()}\n".encode("utf-8", "surrogatepass")
        return hashlib.sha256(said + self.text).hexdigest()


@dataclass(frozen=True)
class Made:
    """What comes of an order, and the mark of the program that made it."""

    dwelling: Dwelling
    sheet: bytes  # PDF
    program: str


def make(order: SheetOrder) -> Made:
    """Make it. Refused where the description cannot be understood."""
    job = job_of(order.text, order.look, order.source)
    return Made(job_to_dwelling(job), sheet_of(job, order.look), program_mark())
