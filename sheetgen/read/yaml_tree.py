"""YAML text to a tree of plain values: every scalar stays text, every value keeps its line and column.

Loading is safe: no tag makes anything but text, a list or a mapping.
"""

from __future__ import annotations

import codecs
import re
from dataclasses import dataclass, field

import yaml

from sheetgen.model.description import Path
from sheetgen.model.problems import Mark, Problem, Refused
from sheetgen.read.bounds import MOST_BYTES

MOST_VALUES = 50_000  # more than a thousand cables; an anchor that expands without end stops here
PLAIN_TAGS = ("str", "int", "float", "bool", "null", "timestamp", "seq", "map", "value")
# A lone question mark (an end that is not known) begins a key in YAML; while it is parsed another letter stands for it.
_LONE_MARK = re.compile(r"(?<=[\[{,:\s-])\?(?=[ \t]*(?:[,\]}\r\n]|$|[ \t]#))")
_STAND_IN = "\ue000"
LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
WIDE_SPACES = "\u00a0\u2000-\u200b\u202f\u205f\u3000"  # look like a space and are none to YAML
_WIDE = re.compile(rf"^ *[{WIDE_SPACES}]|(?<=[:\-,])[{WIDE_SPACES}]")
CUT_SHORT = re.compile(r"\s*(#[^\s#].*)")  # a comment without a space after its sign
CUT_NUMBER = re.compile(r"\s*(#\s*\d.*)")
FREE_TEXT = ("job", "place", "room", "note", "serves", "where", "name", "by", "number")


def decode(data: bytes) -> str:
    """UTF-8 text with or without a byte order mark; Refused says on which line another encoding shows."""
    for bom in (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE):
        if data.startswith(bom):
            raise Refused([Problem(Mark(1, 1), "E102", "The file is in UTF-16.", "Save it as UTF-8.")])
    if len(data) > MOST_BYTES:
        raise Refused([Problem(Mark(), "E110", f"The file is larger than {MOST_BYTES // 1000} kB.",
                               "A description of one house is a few kB: give another file.")])
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        column = error.start - (data.rfind(b"\n", 0, error.start) + 1) + 1
        raise Refused([Problem(Mark(line, column), "E102", f"The byte {data[error.start]:#04x} is not UTF-8 text.",
                               "Save the file in the encoding UTF-8.")]) from None


def compose(text: str) -> yaml.Node:
    """The YAML tree. Refused for tabs, broken YAML, an empty file."""
    text = _LONE_MARK.sub(_STAND_IN, text)
    if slips := [*_mail_quoting(text), *_wide_spaces(text)]:
        raise Refused(slips)
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


def _mail_quoting(text: str) -> list[Problem]:
    """Lines that came out of a mail, each with '>' before it."""
    quoted = [number for number, line in enumerate(text.splitlines(), 1) if line.startswith(">")]
    if not quoted:
        return []
    more = f" So do {len(quoted) - 1} more." if len(quoted) > 1 else ""
    return [Problem(Mark(quoted[0], 1), "E112", f"The line begins with '>', as a mail quotes what it answers.{more}",
                    "Take '>' and the space after it away from every line.")]


def _wide_spaces(text: str) -> list[Problem]:
    """No-break spaces and their like, where YAML needs a plain space."""
    return [
        Problem(Mark(number, found.end()), "E113", "Here is a no-break space, which only looks like a space.",
                "Type a plain space over it; such spaces come from word processors and web pages.")
        for number, line in enumerate(text.splitlines(), 1) if (found := _WIDE.search(line))
    ]


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
    lines: list[str] = field(default_factory=list)
    twice: list[tuple[Path, str, Problem]] = field(default_factory=list)  # cores of one name in a cable
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
        assert isinstance(node, yaml.ScalarNode)
        self._cut_short(node, path)
        return None if node.tag.endswith(":null") and not node.style else node.value.replace(_STAND_IN, "?")

    def _cut_short(self, node: yaml.ScalarNode, path: Path) -> None:
        """A value that YAML ends at ' #' although its writer did not mean a comment: 'Flat #3 Sorrel Row'."""
        end = node.end_mark
        if node.style or not self.lines or end.line >= len(self.lines):
            return
        rest = self.lines[end.line][end.column:]
        free = any(step in FREE_TEXT for step in path[-1:])
        if cut := CUT_SHORT.fullmatch(rest) or (CUT_NUMBER.fullmatch(rest) if free else None):
            at, after = Mark(end.line + 1, end.column + 1), cut[1].strip()
            self.problems.append(Problem(
                at, "E114", f"'{node.value[:40]}' ends here: what follows, '{after[:40]}', is read as a comment.",
                f"Put the whole value in quotes: \"{node.value[:40]} {after[:40]}\"; or write a comment as '# text'."))

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
                problem = Problem(at, "E104", f"'{name}' stands here and on line {first}.", hint)
                if not cores:
                    self.problems.append(problem)
                    continue
                after = f"{name} {len(found) + 1}"  # kept, so that nothing is said of a missing core as well
                self.twice.append((path, name, problem))
                name = after
            self.marks[(*path, name)] = at
            found[name] = self.plain(child, (*path, name))
        return found

    def settle_cores(self, value: dict[str, object]) -> None:
        """Cores of one colour that nothing tells apart: numbered where only one end was seen, else a problem."""
        for path, name, problem in self.twice:
            cable = _at(value, path[:-1])
            cores = cable.get("cores") if cable else None
            if not cable or "at" not in cable or not isinstance(cores, dict):
                self.problems.append(problem)
                continue
            if name in cores:
                first = f"{name} 1"
                cable["cores"] = {first if key == name else key: core for key, core in cores.items()}
                self.marks[(*path, first)] = self.marks[(*path, name)]


def _at(value: object, path: Path) -> dict[str, object] | None:
    for step in path:
        value = value.get(step) if isinstance(value, dict) and isinstance(step, str) else None
    return value if isinstance(value, dict) else None
