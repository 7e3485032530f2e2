"""YAML text to Description: every value keeps its line and column; all problems of shape are found at once.

Loading is safe: no tag makes anything but text, a list or a mapping. Scalars stay text, so that `on`, `N` and `1.0`
mean what the reader wrote. No stage is imported here.
"""

from __future__ import annotations

import codecs
import re
from collections.abc import Iterator
from dataclasses import dataclass, field

import yaml
from pydantic import ValidationError

from sheetgen.model.description import (
    AccessoryText,
    BoardText,
    CableText,
    CircuitText,
    Description,
    DescriptionText,
    DrawnText,
    KindText,
    LengthsText,
    LoadText,
    MethodText,
    Path,
    WayText,
)
from sheetgen.model.problems import Mark, Problem, Refused, nearest

MOST_VALUES = 50_000  # more than a thousand cables; an anchor that expands without end stops here
NEEDED = ("kind", "type", "from", "to", "cores", "terminals")  # without these an accessory or cable is nothing
PLAIN_TAGS = ("str", "int", "float", "bool", "null", "timestamp", "seq", "map", "value")
# A lone question mark (an end that is not known) begins a key in YAML; while it is parsed another letter stands for it.
_LONE_MARK = re.compile(r"(?<=[\[{,:\s-])\?(?=[ \t]*(?:[,\]}\r\n]|$|[ \t]#))")
_STAND_IN = "\ue000"
LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)

# The model behind each kind of place, to name the keys it knows ("*" is any name).
PLACES: tuple[tuple[Path, type], ...] = (
    ((), DescriptionText),
    (("drawn",), DrawnText),
    (("board",), BoardText),
    (("board", "ways", "*"), WayText),
    (("accessories", "*"), AccessoryText),
    (("cables", "*"), CableText),
    (("method",), MethodText),
    (("lengths",), LengthsText),
    (("circuits", "*"), CircuitText),
    (("circuits", "*", "method"), MethodText),
    (("circuits", "*", "lengths"), LengthsText),
    (("kinds", "*"), KindText),
    (("kinds", "*", "loads", "*"), LoadText),
)


def text_to_description(data: bytes | str) -> Description:
    """Read a description file. Refused if it is not readable at all; problems of single values are carried along."""
    text = _LONE_MARK.sub(_STAND_IN, decode(data) if isinstance(data, bytes) else data)
    node = compose(text)
    tree = Tree()
    value = tree.plain(node, ())
    if not isinstance(value, dict):
        raise Refused([Problem(tree.marks[()], "E106", "A description is made of 'key: value' lines.",
                               "Start with 'job: ' and a name.")])
    return validated({key: part for key, part in value.items() if part is not None or key == "job"}, tree)


def decode(data: bytes) -> str:
    """UTF-8 text with or without a byte order mark; Refused says on which line another encoding shows."""
    for bom in (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE):
        if data.startswith(bom):
            raise Refused([Problem(Mark(1, 1), "E102", "The file is in UTF-16.", "Save it as UTF-8.")])
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        column = error.start - (data.rfind(b"\n", 0, error.start) + 1) + 1
        raise Refused([Problem(Mark(line, column), "E102", f"The byte {data[error.start]:#04x} is not UTF-8 text.",
                               "Save the file in the encoding UTF-8.")]) from None


def compose(text: str) -> yaml.Node:
    """The YAML tree. Refused for tabs, broken YAML, an empty file."""
    tabs = [
        Problem(Mark(number, 1), "E103", "The line is indented with a tab.", "Use spaces.")
        for number, line in enumerate(text.splitlines(), 1)
        if "\t" in line[: len(line) - len(line.lstrip())]
    ]
    if tabs:
        raise Refused(tabs)
    try:
        node = yaml.compose(text, LOADER)
    except yaml.YAMLError as error:
        raise Refused([_broken_yaml(error)]) from None
    except RecursionError:
        raise Refused([Problem(Mark(), "E107", "Values stand inside one another without end.")]) from None
    if node is None:
        raise Refused([Problem(Mark(), "E105", "The file is empty.", "Start with 'job: ' and a name.")])
    return node


def _broken_yaml(error: yaml.YAMLError) -> Problem:
    said = " ".join(str(getattr(error, "problem", "") or error).split())
    where = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    if "expected ',' or" in said:  # the bracket that is never closed says more than where the text ran out
        where = getattr(error, "context_mark", None) or where
    at = Mark(where.line + 1, where.column + 1) if where else Mark()
    if "mapping values are not allowed" in said:
        said = "a second ': ' on the line, or a wrong indent"
    elif "expected ',' or" in said or "did not find expected ',' or" in said:
        said = "after this bracket a comma or the closing bracket is missing"
    elif "block end" in said or "could not find expected ':'" in said or "did not find expected key" in said:
        said = "the line is not indented like its neighbours, or lacks ': '"
    return Problem(at, "E101", f"The file cannot be read here: {said}.", "Put text with ': ' or '#' in it in quotes.")


@dataclass
class Tree:
    """The YAML nodes turned into plain text, lists and mappings, with the place of each and the problems met."""

    marks: dict[Path, Mark] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    _open: list[int] = field(default_factory=list)
    _count: int = 0

    def plain(self, node: yaml.Node, path: Path) -> object:
        """The value of a node; its mark and those of all it holds are kept."""
        at = Mark(node.start_mark.line + 1, node.start_mark.column + 1)
        self.marks.setdefault(path, at)
        self._count += 1
        if self._count > MOST_VALUES or id(node) in self._open or len(self._open) > 40:
            raise Refused([Problem(at, "E107", "An anchor (& and *) expands without end.", "Write the value out.")])
        if node.tag.startswith("!") or node.tag.rpartition(":")[2] not in PLAIN_TAGS:
            self.problems.append(Problem(at, "E108", f"The tag '{node.tag}' is not known here.", "Leave it out."))
            return None
        self._open.append(id(node))
        try:
            if isinstance(node, yaml.MappingNode):
                return self._mapping(node, path)
            if isinstance(node, yaml.SequenceNode):
                return [self.plain(child, (*path, i)) for i, child in enumerate(node.value)]
        finally:
            self._open.pop()
        return None if node.tag.endswith(":null") and not node.style else node.value.replace(_STAND_IN, "?")

    def _mapping(self, node: yaml.MappingNode, path: Path) -> dict[str, object]:
        found: dict[str, object] = {}
        for key, child in node.value:
            at = Mark(key.start_mark.line + 1, key.start_mark.column + 1)
            if not isinstance(key, yaml.ScalarNode) or key.value == "<<":
                self.problems.append(Problem(at, "E109", "A key is a plain word.", "Write the values out."))
                continue
            name = key.value.replace(_STAND_IN, "?")
            if name in found:
                first = self.marks[(*path, name)].line
                cores = path[-1:] == ("cores",)
                hint = "Tell the cores apart by a mark: 'RD 1', 'RD 2'." if cores else "Give one of them another name."
                self.problems.append(Problem(at, "E104", f"'{name}' stands here and on line {first}.", hint))
                if not cores:
                    continue
                name = f"{name} {len(found)}"  # kept, so that nothing is said of a missing core as well
            self.marks[(*path, name)] = at
            found[name] = self.plain(child, (*path, name))
        return found


def validated(value: dict[str, object], tree: Tree) -> Description:
    """Check the shape; leave out what is wrong and check again, until what is left has the right shape."""
    problems = list(tree.problems)
    broken: set[str] = set()
    for _ in range(6):
        try:
            content = DescriptionText.model_validate(value)
            break
        except ValidationError as error:
            for item in error.errors():
                path = _real_path(item["loc"], tree)
                problems.append(_problem(item, path, tree))
                broken.update(_leave_out(value, path, item["type"]))
    else:  # pragma: no cover - each round removes every wrong value
        raise AssertionError("a description does not become valid by leaving out what is wrong")
    return Description(content, tree.marks, tuple(dict.fromkeys(problems)), frozenset(broken))


def _real_path(loc: tuple, tree: Tree) -> Path:
    """The part of pydantic's location that stands in the file (it adds the names of union members)."""
    path: Path = ()
    for step in loc:
        if (*path, step) in tree.marks or (step == loc[-1] and isinstance(step, str) and "[" not in step):
            path = (*path, step)
    return path


def _known_keys(path: Path) -> tuple[str, ...]:
    for place, model in PLACES:
        if len(place) == len(path) and all(a in ("*", b) for a, b in zip(place, path, strict=True)):
            return tuple(f.alias or name for name, f in model.model_fields.items())
    return ()


def _problem(item: dict, path: Path, tree: Tree) -> Problem:
    at = next((tree.marks[path[:i]] for i in range(len(path), -1, -1) if path[:i] in tree.marks), Mark())
    name, kind = (str(path[-1]) if path else "description"), item["type"]
    if kind == "extra_forbidden" and ":" in name:
        first, _, rest = name.partition(":")
        return Problem(at, "E201", f"'{name}' is not known here.", f"Put a space after the colon: '{first}: {rest}'.")
    if kind == "extra_forbidden":
        return Problem(at, "E201", f"'{name}' is not known here.", nearest(name, _known_keys(path[:-1])))
    if kind == "missing":
        return Problem(at, "E202", f"'{name}' is missing{_of(path[:-1])}.")
    if kind == "quantity":
        return Problem(at, "E203", f"'{name}': {item['ctx']['said']}")
    if kind == "answer":
        return Problem(at, "E209", f"'{name}': {item['ctx']['said']}", "Write yes or no.")
    if kind == "literal_error":
        known = [w.strip("'") for w in item["ctx"]["expected"].replace(" or ", ", ").split(", ")]
        return Problem(at, "E204", f"'{name}' cannot be '{item['input']}'.", nearest(str(item["input"]), known))
    if path[:1] == ("cables",) and path[2:3] == ("cores",):
        return Problem(at, "E205", f"Core '{path[3] if len(path) > 3 else ''}' needs its two ends: "
                       "[terminal at 'from', terminal at 'to'].", "Write 'nothing' for an end that is cut back, '?' "
                       "for one that nobody knows.")
    wanted = {
        "string_type": "a word or a number", "list_type": "a list: [a, b]", "dict_type": "'key: value' lines",
        "model_type": "'key: value' lines", "int_parsing": "a whole number", "bool_parsing": "yes or no",
    }.get(kind, "something else")
    return Problem(at, "E206", f"'{name}' should be {wanted}{_of(path[:-1])}.")


def _of(path: Path) -> str:
    return f" in {' '.join(str(p) for p in path)}" if path else ""


def _leave_out(value: dict, path: Path, kind: str) -> Iterator[str]:
    """Take the wrong value out of the tree; where it cannot be missed, the accessory or cable it belongs to."""
    holder = value.get(str(path[0])) if path else None
    if len(path) > 1 and path[0] in ("accessories", "cables", "kinds") and isinstance(holder, dict):
        whole = len(path) == 2 or kind == "missing" or (path[2] in NEEDED and kind != "extra_forbidden")
        if whole:
            holder.pop(path[1], None)
            yield str(path[1])
            return
    if path == ("job",):
        value["job"] = "(no name)"
        return
    if kind == "missing":
        path = path[:-1]
    inner: object = value
    for step in path[:-1]:
        if isinstance(inner, dict) and step not in inner:
            return  # its owner was left out before it
        inner = inner[step]  # type: ignore[index]
    if isinstance(inner, dict):
        inner.pop(path[-1], None)
    elif isinstance(inner, list):
        inner[path[-1]] = ""  # type: ignore[call-overload]
