"""Text to Description: the shape of every value is checked, and all problems of shape are found at once.

Scalars stay text, so that `on`, `N` and `1.0` mean what the reader wrote.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

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
    ReadingText,
    ReportText,
    WayText,
)
from sheetgen.model.problems import Mark, Problem, Refused, nearest
from sheetgen.read.bounds import within_bounds
from sheetgen.read.yaml_tree import Tree, compose, decode

NEEDED = ("kind", "type", "from", "to", "cores", "terminals")  # without these an accessory or cable is nothing
AS_IN = "Say what it is, as in {kind: ceiling rose}."  # for an accessory
MOST_ROUNDS = 8  # of leaving out what is wrong; after them whole sections are left out

# The model behind each kind of place, to name the keys it knows ("*" is any name).
PLACES: tuple[tuple[Path, type[BaseModel]], ...] = (
    ((), DescriptionText),
    (("drawn",), DrawnText),
    (("report",), ReportText),
    (("board",), BoardText),
    (("board", "ways", "*"), WayText),
    (("accessories", "*"), AccessoryText),
    (("cables", "*"), CableText),
    (("method",), MethodText),
    (("lengths",), LengthsText),
    (("circuits", "*"), CircuitText),
    (("circuits", "*", "method"), MethodText),
    (("circuits", "*", "lengths"), LengthsText),
    (("readings", "*"), ReadingText),
    (("kinds", "*"), KindText),
    (("kinds", "*", "loads", "*"), LoadText),
)


def text_to_description(data: bytes | str) -> Description:
    """Read a description file. Refused if it is not readable at all; problems of single values are carried along."""
    text = decode(data.encode("utf-8", "surrogatepass") if isinstance(data, str) else data)
    node = compose(text)
    tree = Tree(lines=text.splitlines())
    value = tree.plain(node, ())
    if not isinstance(value, dict):
        raise Refused([Problem(tree.marks[()], "E106", "A description is made of 'key: value' lines.",
                               "Start with 'job: ' and a name.")])
    tree.settle_cores(value)
    tree.problems += within_bounds(value, tree.marks)
    return validated({key: part for key, part in value.items() if part is not None or key == "job"}, tree)


def validated(value: dict[str, object], tree: Tree) -> Description:
    """Check the shape; leave out what is wrong and check again, until what is left has the right shape."""
    problems = list(tree.problems)
    broken: set[str] = set()
    rounds = 0
    while True:
        rounds += 1
        try:
            content = DescriptionText.model_validate(value)
            break
        except ValidationError as error:
            for item in error.errors():
                path = _real_path(item["loc"], tree)
                problems.append(_problem(item, path, tree))
                if rounds > MOST_ROUNDS and path:
                    value.pop(str(path[0]), None)
                broken.update(_leave_out(value, path, item["type"]))
            _close_gaps(value, (), tree)
    return Description(content, tree.marks, tuple(dict.fromkeys(problems)), frozenset(broken))


GONE = object()  # stands in a list for a value that is left out, until its round is over


def _close_gaps(value: object, path: Path, tree: Tree) -> None:
    """Take what is left out of the lists; what comes after it keeps its place in the text."""
    if isinstance(value, dict):
        for key, inner in value.items():
            _close_gaps(inner, (*path, key), tree)
    elif isinstance(value, list):
        kept = [i for i, inner in enumerate(value) if inner is not GONE]
        if len(kept) < len(value):
            depth, new = len(path), {old: i for i, old in enumerate(kept)}
            under = {p: at for p, at in tree.marks.items() if p[:depth] == path and len(p) > depth}
            for p in under:
                del tree.marks[p]
            tree.marks.update({(*path, new[int(p[depth])], *p[depth + 1:]): at for p, at in under.items()
                               if p[depth] in new})
            value[:] = [value[i] for i in kept]
        for i, inner in enumerate(value):
            _close_gaps(inner, (*path, i), tree)


def _real_path(loc: tuple[int | str, ...], tree: Tree) -> Path:
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


def _problem(item: ErrorDetails, path: Path, tree: Tree) -> Problem:
    at = next((tree.marks[path[:i]] for i in range(len(path), -1, -1) if path[:i] in tree.marks), Mark())
    name, kind = (str(path[-1]) if path else "description"), item["type"]
    if kind == "extra_forbidden" and ":" in name:
        first, _, rest = name.partition(":")
        return Problem(at, "E201", f"'{name}' is not known here.", f"Put a space after the colon: '{first}: {rest}'.")
    if kind == "extra_forbidden":
        return Problem(at, "E201", f"'{name}' is not known here.", nearest(name, _known_keys(path[:-1])))
    if kind == "missing":
        return Problem(at, "E202", f"'{name}' is missing{_of(path[:-1])}.",
                       AS_IN if _is_accessory(path[:-1]) else "")
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
    return Problem(at, "E206", f"'{name}' should be {wanted}{_of(path[:-1])}.", AS_IN if _is_accessory(path) else "")


def _is_accessory(path: Path) -> bool:
    return len(path) == 2 and path[0] == "accessories"


def _of(path: Path) -> str:
    return f" in {' '.join(str(p) for p in path)}" if path else ""


def _leave_out(value: dict[str, Any], path: Path, kind: str) -> Iterator[str]:
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
        holds = isinstance(inner, dict) and step in inner
        if not holds and not (isinstance(inner, list) and isinstance(step, int) and step < len(inner)):
            return  # its owner was left out before it
        inner = inner[step]  # type: ignore[index]
    if isinstance(inner, dict):
        inner.pop(path[-1], None)
    elif isinstance(inner, list) and isinstance(path[-1], int):
        inner[path[-1]] = GONE
