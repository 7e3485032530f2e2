"""Values as a person would write them in a description: on one line, in braces and brackets."""

from __future__ import annotations

from collections.abc import Mapping

from sheetgen.read.description_to_text import scalar as quoted

WIDTH = 118
SECTIONS = ("accessories", "cables", "kinds", "board", "ways")  # written one thing to a line
LISTS = ("circuits", "seen", "notes")  # likewise, behind dashes


def scalar(text: str) -> str:
    """A word as it stands where YAML allows that, else in quotes. A lone question mark is not known, and stands."""
    return "?" if text == "?" else quoted(text)


def flow(value: object) -> str:
    """A value on one line: 'Hall', '[L, loop]', '{kind: ceiling rose}'."""
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{scalar(str(key))}: {flow(inner)}" for key, inner in value.items()) + "}"
    if isinstance(value, (list, tuple)):
        return f"[{', '.join(map(flow, value))}]"
    return scalar(str(value))


def line_of(name: str, value: object, indent: int) -> str:
    """'  W1: {...}'; a cable that is too long for a line goes on below, from its cores."""
    start = f"{' ' * indent}{scalar(name)}: "
    words = start + flow(value)
    if len(words) <= WIDTH or not isinstance(value, Mapping):
        return words
    lines = [start + "{"]
    for key, inner in value.items():
        part = f"{scalar(str(key))}: {flow(inner)}"
        fresh = lines[-1].endswith("{") or not lines[-1].strip()
        if len(lines[-1]) + len(part) + 3 > WIDTH and not fresh:
            lines[-1] += ","
            lines.append(" " * len(start) + " " + part)
        else:
            lines[-1] += part if fresh else f", {part}"
    return "\n".join(lines) + "}"


def lines_of(value: Mapping[str, object], indent: int) -> list[str]:
    """A section with one thing to a line."""
    return [line for name, inner in value.items() for line in entry_of(str(name), inner, indent)]


def entry_of(name: str, value: object, indent: int) -> list[str]:
    """A name and what belongs to it: a section below it, a list behind dashes, else on its line."""
    if isinstance(value, Mapping) and name in SECTIONS:
        return [f"{' ' * indent}{scalar(name)}:", *lines_of(value, indent + 2)]
    if isinstance(value, list) and name in LISTS and value:
        return [f"{' ' * indent}{scalar(name)}:", *(f"{' ' * indent}  - {flow(item)}" for item in value)]
    return line_of(name, value, indent).split("\n")

