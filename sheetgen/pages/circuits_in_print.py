"""What a file calls a way of the board an electrician calls a circuit: the words of the pages, not of the drawings."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import fields, is_dataclass, replace
from typing import TypeVar

from sheetgen.model.drawing import Drawing
from sheetgen.model.page import Page
from sheetgen.model.wiring import Wiring

Printed = TypeVar("Printed")


def as_circuits(pages: Iterable[Page], wiring: Wiring) -> tuple[Page, ...]:
    """The pages with their words as `in_circuits` has them."""
    said = in_circuits(wiring)
    return tuple(_through(page, said) for page in pages)


def in_circuits(wiring: Wiring) -> Callable[[str], str]:
    """What puts 'circuit 4' for 'way 4' and 'circuits 5 and 6' for 'ways 5 and 6', for the ways of the board. What the
    user wrote stays as it was written."""
    if not wiring.board.ways:
        return str
    way = rf"\b([Ww])ay(s?)(?= (?:{_any(w.number for w in wiring.board.ways)})(?!\w))"
    own = _any(text for text in _written(wiring) if re.search(way, text))
    pattern = re.compile(f"(?:{own})|{way}" if own else way)
    return lambda text: pattern.sub(
        lambda found: f"{'C' if found[1] == 'W' else 'c'}ircuit{found[2]}" if found[1] else found[0], text)


def _any(texts: Iterable[str]) -> str:
    """A pattern for any of some texts, the longest first."""
    return "|".join(re.escape(text) for text in sorted(set(texts), key=lambda text: (-len(text), text)))


def _written(wiring: Wiring) -> Iterator[str]:
    """What the user wrote in words of their own."""
    yield from (wiring.job, wiring.place, wiring.board.name, wiring.board.where, *wiring.notes)
    for way in wiring.board.ways:
        yield from (way.serves, way.isolated_by)
    for accessory in wiring.accessories:
        if accessory.name not in {way.accessory for way in wiring.board.ways}:
            yield from (accessory.name, accessory.room, accessory.note, *(label for _, label in accessory.labels))
    for cable in wiring.cables:
        yield from (cable.name, cable.note, cable.run_in)


def _through(value: Printed, said: Callable[[str], str]) -> Printed:
    """The value with every string in it said anew; drawings as they are."""
    if isinstance(value, str):
        return said(value)  # type: ignore[return-value]
    if isinstance(value, Drawing):
        return value
    if isinstance(value, tuple):
        return tuple(_through(part, said) for part in value)  # type: ignore[return-value]
    if is_dataclass(value) and not isinstance(value, type):
        kept = {f.name: getattr(value, f.name) for f in fields(value)}
        new = {name: _through(part, said) for name, part in kept.items()}
        changed = {name: part for name, part in new.items() if part is not kept[name]}
        return replace(value, **changed) if changed else value
    return value
