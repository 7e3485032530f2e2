"""Changes of single values in the text of a description; every other letter of it stays where it was.

The project's own reader says where a value stands, and each change is proven by reading the new text again: it holds
what was meant and nothing else has changed, or NoPlace is raised.
"""

from __future__ import annotations

import copy
from dataclasses import dataclass, replace
from functools import cached_property

import yaml

from sheetgen.desk.writing_out import SECTIONS, entry_of, flow, lines_of, scalar
from sheetgen.model.description import Path
from sheetgen.read.yaml_tree import Tree, compose

WIDTH = 118  # columns; a value that would reach beyond goes on on a line of its own
ORDERS: dict[str, tuple[str, ...]] = {
    "": ("job", "status", "place", "drawn", "board", "colours", "size", "way", "lamp", "method", "lights", "switches",
         "lengths", "circuits", "kinds", "accessories", "cables", "seen", "readings", "notes"),
    "board": ("name", "where", "earthing", "ze", "voltage", "ways"),
    "cable": ("type", "colours", "in", "at", "from", "to", "length", "method", "cores", "sleeved", "bare", "note"),
}
"""In which order what is new is put among what is there."""


class NoPlace(Exception):
    """The text is written in a way that a change by choosing cannot follow; the message is for its writer."""


@dataclass(frozen=True)
class Draft:
    """A text of a description, and changes of it. Each gives a new draft. Raises Refused where it cannot be read."""

    text: str

    @cached_property
    def root(self) -> yaml.Node:
        """The tree, with the place of everything in it."""
        return compose(self.text)

    @cached_property
    def value(self) -> dict[str, object]:
        """What the text says: text, lists and mappings; {} where it is no mapping."""
        found = Tree().plain(self.root, ())
        return found if isinstance(found, dict) else {}

    def at(self, *path: str | int) -> object:
        """The value at a path, None where there is none."""
        inner: object = self.value
        for step in path:
            if isinstance(inner, dict):
                inner = inner.get(step)
            elif isinstance(inner, list) and isinstance(step, int) and 0 <= step < len(inner):
                inner = inner[step]
            else:
                return None
        return inner

    def put(self, path: Path, value: object) -> Draft:
        """The value at a path set, or added where there is none."""
        if self.at(*path) == value:
            return self
        wanted = copy.deepcopy(self.value)
        parent = path[:-1]
        if not isinstance(self.at(*parent), (dict, list)):
            if not parent:
                raise _no_place(path)
            return self.put(parent, {path[-1]: value})
        _holder(wanted, parent)[path[-1]] = value
        node = _child(self._node(parent), path[-1])
        text = _replaced(self, path, value) if node is not None else _added(self, path, value)
        return self._proven(text, wanted, path)

    def append(self, path: Path, value: object) -> Draft:
        """A value added at the end of a list, which is made where there is none."""
        held = self.at(*path)
        if not isinstance(held, list) or not held:
            return self.put(path, [value])
        wanted = copy.deepcopy(self.value)
        _holder(wanted, path[:-1])[path[-1]] = [*held, value]
        return self._proven(_appended(self, path, value), wanted, path)

    def drop(self, path: Path) -> Draft:
        """The value at a path taken away, and what held nothing but it."""
        if self.at(*path) is None and _child(self._node(path[:-1]), path[-1]) is None:
            return self
        held = self.at(*path[:-1])
        if len(path) > 1 and isinstance(held, (dict, list)) and len(held) == 1:
            return self.drop(path[:-1])
        wanted = copy.deepcopy(self.value)
        del _holder(wanted, path[:-1])[path[-1]]
        return self._proven(_dropped(self, path), wanted, path)

    def rename(self, path: Path, name: str) -> Draft:
        """The key at the end of a path called otherwise, in its place."""
        if path[-1] == name:
            return self
        wanted = copy.deepcopy(self.value)
        holder = _holder(wanted, path[:-1])
        renamed = {name if key == path[-1] else key: value for key, value in holder.items()}
        holder.clear()
        holder.update(renamed)
        for key, _ in _mapping(self._node(path[:-1]), path):
            if key.value == path[-1]:
                text = self.text[:key.start_mark.index] + scalar(name) + self.text[key.end_mark.index:]
                return self._proven(text, wanted, path)
        raise _no_place(path)

    def _node(self, path: Path) -> yaml.Node:
        node: yaml.Node | None = self.root
        for step in path:
            node = _child(node, step) if node is not None else None
        if node is None:
            raise _no_place(path)
        return node

    def _proven(self, text: str, wanted: dict[str, object], path: Path) -> Draft:
        draft = replace(self, text=text)
        try:
            same = draft.value == wanted
        except Exception as error:  # whatever it is that the reader says of the text: it is not what was meant
            raise _no_place(path) from error
        if not same:
            raise _no_place(path)
        return draft


def _no_place(path: Path) -> NoPlace:
    where = " ".join(str(step) for step in path)
    return NoPlace(f"'{where}' is written in a way that cannot be changed by choosing. Change it in the text.")


def _holder(value: object, path: Path) -> dict[str | int, object]:
    inner = value
    for step in path:
        inner = inner[step]  # type: ignore[index]
    return inner  # type: ignore[return-value]


def _child(node: yaml.Node, step: str | int) -> yaml.Node | None:
    if isinstance(node, yaml.MappingNode):
        return next((value for key, value in node.value if key.value == step), None)
    if isinstance(node, yaml.SequenceNode) and isinstance(step, int) and 0 <= step < len(node.value):
        found: yaml.Node = node.value[step]
        return found
    return None


def _mapping(node: yaml.Node, path: Path) -> list[tuple[yaml.Node, yaml.Node]]:
    if not isinstance(node, yaml.MappingNode):
        raise _no_place(path)
    return list(node.value)


def _is_block(node: yaml.Node) -> bool:
    """A mapping or list written line by line, not in braces or brackets."""
    return isinstance(node, yaml.CollectionNode) and not node.flow_style


def end_of(node: yaml.Node) -> int:
    """Where the last letter of a value stands, without the blank lines and comments after a block."""
    if not _is_block(node) or not node.value:
        return int(node.end_mark.index)
    last = node.value[-1]
    return end_of(last[1] if isinstance(last, tuple) else last)


def _line_end(text: str, at: int) -> int:
    """Where the line ends on which a place is, before its line end."""
    found = text.find("\n", at)
    end = len(text) if found < 0 else found
    return end - 1 if end > at and text[end - 1] == "\r" else end


def _break(text: str) -> str:
    return "\r\n" if "\r\n" in text else "\n"


def _key(draft: Draft, path: Path) -> yaml.Node | None:
    node = draft._node(path[:-1])
    if isinstance(node, yaml.MappingNode):
        return next((key for key, _ in node.value if key.value == path[-1]), None)
    return None


def _replaced(draft: Draft, path: Path, value: object) -> str:
    """The text with a value that is there written anew."""
    text, node = draft.text, draft._node(path)
    start, end = node.start_mark.index, end_of(node)
    if start == end:  # nothing is written behind the key yet
        if isinstance(value, dict) and str(path[-1]) in SECTIONS:
            at = _line_end(text, start)
            indent = _indent_below(draft, path)
            return text[:at] + "".join(_break(text) + line for line in lines_of(value, indent)) + text[at:]
        return f"{text[:start]} {flow(value)}{text[end:]}"
    if _is_block(node):  # below its key: now on the key's line
        key = _key(draft, path)
        if key is not None:
            return f"{text[:key.end_mark.index]}: {flow(value)}{text[end:]}"
    return text[:start] + flow(value) + text[end:]


def _indent_below(draft: Draft, path: Path) -> int:
    key = _key(draft, path)
    return (key.start_mark.column if key is not None else 0) + 2


def _added(draft: Draft, path: Path, value: object) -> str:
    """The text with a value put where its holder has none of that name yet."""
    node, name = draft._node(path[:-1]), str(path[-1])
    items = _mapping(node, path)
    order = ORDERS.get("cable" if path[:1] == ("cables",) and len(path) == 3 else str(path[-2]) if path[1:] else "", ())
    after = _last_before(items, name, order)
    if _is_block(node) and items:
        return _added_in_block(draft, node, after, name, value)
    written = f"{scalar(name)}: {flow(value)}"
    text = draft.text
    if not items:
        return f"{text[:node.start_mark.index]}{{{written}}}{text[node.end_mark.index:]}"
    if after is None:
        start = items[0][0].start_mark.index
        return f"{text[:start]}{written}, {text[start:]}"
    at = end_of(items[after][1])
    column = at - text.rfind("\n", 0, at) - 1
    gap = " " if column + len(written) + 2 < WIDTH else _break(text) + " " * items[0][0].start_mark.column
    return f"{text[:at]},{gap}{written}{text[at:]}"


def _last_before(items: list[tuple[yaml.Node, yaml.Node]], name: str, order: tuple[str, ...]) -> int | None:
    """Behind which of the things that are there a new one belongs; None is before the first."""
    if name not in order:
        return len(items) - 1
    place = order.index(name)
    before = [i for i, (key, _) in enumerate(items) if key.value in order and order.index(key.value) < place]
    return max(before, default=None)


def _added_in_block(draft: Draft, node: yaml.Node, after: int | None, name: str, value: object) -> str:
    text, new_line = draft.text, _break(draft.text)
    items = node.value
    indent = items[0][0].start_mark.column
    lines = entry_of(name, value, indent)
    if node is draft.root and name in ("accessories", "cables", "seen", "notes") and text.strip():
        lines = ["", *lines]
    if after is None:
        start = items[0][0].start_mark.index
        words = new_line.join(lines).lstrip()
        return f"{text[:start]}{words}{new_line}{' ' * indent}{text[start:]}"
    end = end_of(items[after][1])
    if end and text[end - 1] == "\n":  # a block scalar ends with its line
        end = len(text[:end].rstrip("\r\n"))
    at = _line_end(text, end)
    return text[:at] + "".join(new_line + line for line in lines) + text[at:]


def _appended(draft: Draft, path: Path, value: object) -> str:
    node, text = draft._node(path), draft.text
    last = node.value[-1]
    end = end_of(last)
    if not _is_block(node):
        return f"{text[:end]}, {flow(value)}{text[end:]}"
    dash = text.rfind("-", 0, last.start_mark.index)
    indent = dash - text.rfind("\n", 0, dash) - 1
    at = _line_end(text, end)
    return f"{text[:at]}{_break(text)}{' ' * indent}- {flow(value)}{text[at:]}"


def _dropped(draft: Draft, path: Path) -> str:
    text, node = draft.text, draft._node(path[:-1])
    spans = _spans(node)
    i = int(path[-1]) if isinstance(node, yaml.SequenceNode) else next(
        i for i, (key, _) in enumerate(node.value) if key.value == path[-1])
    start, end = spans[i]
    if not _is_block(node):
        if i + 1 < len(spans):
            return text[:start] + text[spans[i + 1][0]:]
        return text[:spans[i - 1][1]] + text[end:] if i else text[:start] + text[end:]
    if isinstance(node, yaml.SequenceNode):
        start = text.rfind("-", 0, start)
    line = text.rfind("\n", 0, start) + 1
    if text[line:start].strip():  # it stands behind the dash of a list
        return text[:start] + text[spans[i + 1][0]:] if i + 1 < len(spans) else text[:start] + text[end:]
    rest = text.find("\n", max(end - 1, start) if text[end - 1:end] == "\n" else end)
    return text[:line] + (text[rest + 1:] if rest >= 0 else "")


def _spans(node: yaml.Node) -> list[tuple[int, int]]:
    if isinstance(node, yaml.MappingNode):
        return [(key.start_mark.index, max(end_of(value), key.end_mark.index)) for key, value in node.value]
    return [(item.start_mark.index, end_of(item)) for item in node.value]
