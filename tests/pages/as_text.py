"""Pages, and readings, as plain text, with everything that the values hold but drawings: for the goldens."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from fractions import Fraction

from sheetgen.model.geometry import MM
from sheetgen.model.page import (
    Block,
    Cell,
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
    Turn,
    Words,
)
from sheetgen.model.reading import Reading


def as_text(pages: Iterable[Page]) -> str:
    """The pages one below another, a line for each block, item and row."""
    return "".join(f"{line}\n" for page in pages for line in _page(page))


def _page(page: Page) -> Iterator[str]:
    flags = [name for name in ("follows", "whole", "early", "on_card") if getattr(page, name)]
    yield f"==== {page.kind}: {page.title} [{', '.join([page.frame, *flags])}]"
    yield from (f"[bookmark of level {level}] {words}" for level, words in page.bookmarks)
    yield from _blocks(page.blocks)


def _blocks(blocks: tuple[Block, ...], indent: str = "") -> Iterator[str]:
    for block in blocks:
        for line in _block(block):
            yield f"{indent}{line}".rstrip()


def _block(block: Block) -> Iterator[str]:
    match block:
        case Heading():
            yield f"{'#' * block.level} {block.text}{f' ({block.note})' if block.note else ''}"
        case Words():
            yield _words(block)
        case Items():
            yield from (f"{f'{n}.' if block.numbered else '-'} {item}" for n, item in enumerate(block.items, 1))
        case Table():
            about = [f"{name} {getattr(block, name)}" for name in ("boxes", "joined") if getattr(block, name)]
            about += [f"shares {_shares(block.shares)}"] if block.shares else []
            yield f"|| {' | '.join(block.head)} || {'plain ' * block.plain}{'; '.join(about)}"
            tones = block.tones or ("",) * len(block.rows)
            for tone, row in zip(tones, block.rows, strict=True):
                yield f"{f'<{tone}> ' if tone else ''}| {' | '.join(map(_cell, row))}"
        case Form():
            yield f"[form] {' ____ '.join(block.labels)} ____ {_shares(block.shares)}"
        case Picture():
            size = f"{block.drawing.width / MM:.0f} x {block.drawing.height / MM:.0f} mm"
            how = f"{' enlarged' * block.enlarge}{f' at {block.scale}' * (block.scale != 1)}"
            yield f"[picture {size}] {block.caption}{how}"
        case SideBySide():
            yield f"[side by side] {_shares(block.shares)}"
            for part in block.blocks:
                yield from ("  +", *_blocks(part, "  "))
        case Columns():
            yield f"[{block.count} columns{', loose' * block.loose}]"
            for part in block.groups:
                yield from ("  +", *_blocks(part, "  "))
        case Spare():
            yield from ("[where there is room]", *_blocks(block.blocks, "  "))
        case Turn():
            yield "[other half]"


def _shares(shares: tuple[float, ...]) -> str:
    return f"({', '.join(f'{share:.3g}' for share in shares)})" if shares else ""


def _words(words: Words) -> str:
    tone = "" if words.tone == "plain" else f"<{words.tone}> "
    return f"{tone}{f'**{words.lead}** ' if words.lead else ''}{words.text}"


def _cell(cell: Cell) -> str:
    match cell:
        case Words():
            return _words(cell)
        case Swatch():
            sleeve = f" ({cell.sleeve}{' to fit' * cell.missing})" if cell.sleeve else ""
            return f"[{cell.colour or 'bare'}{sleeve}]{' strong' * cell.strong} {cell.text}".rstrip()
    return str(cell)


def reading_as_text(reading: Reading) -> str:
    """All that the judge says of a circuit, printed or not: a line for each value, what is empty left out."""
    return "".join(f"{line}\n" for f in fields(reading) for line in _of_field(f.name, getattr(reading, f.name)))


def _of_field(name: str, value: object) -> Iterator[str]:
    yield f"== {name}"
    match value:
        case Mapping():
            yield from (f"{key}: {value_as_text(held)}" for key, held in value.items())
        case tuple():
            yield from map(value_as_text, value)
        case _ if is_dataclass(value):
            for field in fields(value):
                yield from _of_field(f"{name}.{field.name}", getattr(value, field.name))
        case _:
            yield value_as_text(value)


def value_as_text(value: object) -> str:
    """A value of a reading in a line: what is empty left out, figures to four places."""
    match value:
        case Enum() | str() | bool() | None:
            return str(value)
        case float() | Fraction():
            return f"{round(float(value), 9):.4g}"
        case tuple():
            return f"({', '.join(map(value_as_text, value))})"
        case _ if is_dataclass(value):
            held = {field.name: getattr(value, field.name) for field in fields(value)}
            said = (f"{name}={value_as_text(v)}" for name, v in held.items() if v not in ("", (), None))
            return f"{type(value).__name__}({', '.join(said)})"
    return str(value)
