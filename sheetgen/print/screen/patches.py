"""A drawing as inline SVG for the first look, and only what differs for the others: the file stays small."""

from __future__ import annotations

from collections.abc import Sequence
from difflib import SequenceMatcher


def elements_of(svg: str) -> tuple[str, list[str], str]:
    """(opening tag, one string for each element, closing tag) of a drawing written one element a line."""
    lines = svg.strip().split("\n")
    start = next(i for i, line in enumerate(lines) if line.startswith("<svg"))
    return lines[start], lines[start + 1: -1], lines[-1]


Changes = list[list[int | str]]  # [[from, to, element, ...], ...]


def patch(before: Sequence[str], after: Sequence[str]) -> Changes:
    """[[from, to, element, ...]]: replace elements from..to of `before` by those that follow, last first."""
    matcher = SequenceMatcher(None, before, after, autojunk=False)
    return [[i1, i2, *after[j1:j2]] for tag, i1, i2, j1, j2 in reversed(matcher.get_opcodes()) if tag != "equal"]


def patched(before: Sequence[str], changes: Changes) -> list[str]:
    """What the page makes of it."""
    elements = list(before)
    for start, end, *new in changes:
        elements[int(start):int(end)] = map(str, new)
    return elements
