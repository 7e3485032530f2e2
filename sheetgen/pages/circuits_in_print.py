"""What a file calls a way of the board an electrician calls a circuit: the words of the pages, not of the drawings."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import fields, is_dataclass, replace
from typing import TypeVar

from sheetgen.model.drawing import Drawing
from sheetgen.model.page import Page

Printed = TypeVar("Printed")


def as_circuits(pages: Iterable[Page], numbers: Iterable[str]) -> tuple[Page, ...]:
    """The pages with 'circuit 4' for 'way 4' and 'circuits 5 and 6' for 'ways 5 and 6', for the ways of these numbers.
    """
    known = "|".join(re.escape(number) for number in sorted(numbers, key=len, reverse=True))
    if not known:
        return tuple(pages)
    pattern = re.compile(rf"\b([Ww])ay(s?)(?= (?:{known})(?!\w))")

    def said(text: str) -> str:
        return pattern.sub(lambda found: f"{'C' if found[1] == 'W' else 'c'}ircuit{found[2]}", text)

    return tuple(_through(page, said) for page in pages)


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
