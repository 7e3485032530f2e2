"""Jobs for the tests of pages, and what their pages say."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path

from kept_houses import judged as judged_house

from sheetgen.model.job import Job
from sheetgen.model.page import (
    Block,
    Columns,
    Form,
    Heading,
    Items,
    Page,
    Picture,
    SideBySide,
    Spare,
    Swatch,
    Table,
    Words,
)
from sheetgen.model.wiring import Wiring
from sheetgen.pipeline import diagrams_for, judged, plots_for, style_of, understood

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = tuple(sorted(path.stem for path in EXAMPLES.glob("*.yaml")))
FAULTY = tuple(sorted(path.stem for path in (Path(__file__).parent / "faulty").glob("*.yaml")))


@lru_cache
def example(name: str, colours: str = "") -> Job:
    """The job of an example, without its drawings."""
    wiring, solution, reading = understood((EXAMPLES / f"{name}.yaml").read_bytes(), colours)
    return Job(wiring, solution, reading, sets=style_of().sets, source=f"{name}.yaml", fingerprint="0123abcd")


@lru_cache
def faulty(name: str) -> Job:
    """The job of a description with much wrong in it, with its diagrams and without its wiring drawing."""
    circuit, reading = judged((Path(__file__).parent / "faulty" / f"{name}.yaml").read_bytes())
    style = style_of()
    return Job(circuit.wiring, circuit.solution, reading, diagrams=diagrams_for(circuit, style),
               plots=plots_for(circuit, reading, style), sets=style.sets, source=f"{name}.yaml", fingerprint="0123abcd")


def job_of(wiring: Wiring) -> Job:
    """The job of a wiring, without its drawings."""
    return Job(wiring, *judged_house(wiring), sets=style_of().sets)


def blocks_of(blocks: tuple[Block, ...]) -> Iterator[Block]:
    """Every block, those within others too, in reading order."""
    for block in blocks:
        yield block
        match block:
            case SideBySide():
                for inner in block.blocks:
                    yield from blocks_of(inner)
            case Columns():
                for inner in block.groups:
                    yield from blocks_of(inner)
            case Spare():
                yield from blocks_of(block.blocks)


def tables(page: Page) -> list[Table]:
    """Every table of a page."""
    return [b for b in blocks_of(page.blocks) if isinstance(b, Table)]


def words(cell: object) -> str:
    """What a cell says."""
    if isinstance(cell, Words):
        return f"{cell.lead} {cell.text}".strip()
    return cell.text if isinstance(cell, Swatch) else str(cell)


def says(*pages: Page) -> str:
    """Everything that pages say, one thing to a line."""
    lines: list[str] = []
    for page in pages:
        lines.append(page.title)
        for block in blocks_of(page.blocks):
            match block:
                case Heading():
                    lines += [block.text, block.note]
                case Words():
                    lines.append(words(block))
                case Items():
                    lines += block.items
                case Table():
                    lines += block.head
                    lines += [words(cell) for row in block.rows for cell in row]
                case Form():
                    lines += block.labels
                case Picture():
                    lines.append(block.caption)
    return "\n".join(lines)
