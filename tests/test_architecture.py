"""The shape of the code: imports go one way, no stage imports a stage, no file of a catalogue is forgotten."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[1] / "sheetgen"
FLOORS = (
    "model", "catalogue", "read", "solve", "circuit", "judge", "find", "draw", "tell", "pages", "teach", "compare",
    "print", "pipeline", "many", "stock", "desk", "commands", "cli", "__main__",
)
"""The rooms from the ground up. A room imports those below it, never one above: design and order in DEVELOPERS.md."""
CATALOGUES = {
    "catalogue/accessories": ("Entry(",),
    "catalogue/methods": ("Loop(", "Join("),
    "judge/rules": ("Rule(",),
    "pages": ("PageKind(",),
}


def imports(path: Path) -> Iterator[str]:
    """The modules of the package that a file imports, as dotted names without 'sheetgen.'; lazy imports too."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module and node.module.split(".")[0] == "sheetgen":
            inner = node.module.removeprefix("sheetgen").lstrip(".")
            for alias in node.names:
                yield f"{inner}.{alias.name}" if inner else alias.name
        elif isinstance(node, ast.Import):
            yield from (a.name.removeprefix("sheetgen.") for a in node.names if a.name.startswith("sheetgen."))


def files_of(part: str) -> list[Path]:
    """The files of a module or package."""
    folder = PACKAGE / part
    return sorted(folder.rglob("*.py")) if folder.is_dir() else [PACKAGE / f"{part}.py"]


def rooms() -> list[str]:
    """The folders and files at the top of the package."""
    return sorted({path.relative_to(PACKAGE).parts[0].removesuffix(".py") for path in PACKAGE.rglob("*.py")}
                  - {"__init__"})


def upward(room: str, imported: str) -> bool:
    """Whether an import of `imported`, a dotted name without 'sheetgen.', from a room goes up."""
    return FLOORS.index(imported.split(".")[0]) > FLOORS.index(room)


def test_every_room_stands_on_a_floor() -> None:
    assert set(rooms()) <= set(FLOORS)


@pytest.mark.parametrize("room", rooms())
def test_imports_go_down(room: str) -> None:
    for path in files_of(room):
        for name in imports(path):
            assert not upward(room, name), f"{path.relative_to(PACKAGE)} imports {name}, which stands above it"


def test_an_upward_arrow_is_noticed() -> None:
    assert upward("judge", "pages.card")
    assert upward("model", "catalogue")
    assert not upward("pages", "judge")
    assert not upward("judge", "judge.rules")


def test_only_commands_open_files_print_or_exit() -> None:
    """Apart from what is shipped with the package: style files, fonts, CSS and scripts, its own source."""
    readers = {"style_from_yaml.py", "typeface.py", "page.py", "program.py"}
    for path in sorted(PACKAGE.rglob("*.py")):
        if path.parent.name == "commands" or path.name in ("cli.py", "__main__.py"):
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call):
                called = ast.unparse(node.func)
                assert called not in ("print", "exit", "sys.exit", "input"), f"{path}: {called}"
                if path.name not in readers:
                    assert called != "open" and not called.endswith((".read_text", ".read_bytes", ".write_text",
                                                                     ".write_bytes")), f"{path}: {called}"


@pytest.mark.parametrize("folder", CATALOGUES)
def test_every_file_of_a_catalogue_is_in_its_index(folder: str) -> None:
    index, found = (PACKAGE / folder / "__init__.py").read_text(encoding="utf-8"), 0
    for path in files_of(folder):
        text = path.read_text(encoding="utf-8")
        makes = any(line.split(" = ")[-1].startswith(CATALOGUES[folder]) for line in text.splitlines()
                    if line[:1].isupper())
        if makes:
            found += 1
            assert f"{path.stem}." in index, f"{folder}/__init__.py lacks a line for {path.name}"
    assert found > 5


def test_a_class_name_stands_once() -> None:
    """A class for the use of its own file alone counts as well: `_Table` is `Table` to whoever reads it."""
    places: dict[str, list[str]] = {}
    for path in sorted(PACKAGE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ClassDef):
                places.setdefault(node.name.lstrip("_"), []).append(f"{path.relative_to(PACKAGE)}:{node.lineno}")
    assert len(places) > 100
    assert not {name: found for name, found in places.items() if len(found) > 1}


def test_no_two_test_files_have_one_name() -> None:
    """Folders of tests are no packages: of two files of one name pytest collects neither, and runs nothing."""
    tests = Path(__file__).parent
    names = [path.name for path in tests.rglob("test_*.py")]
    assert len(names) > 30
    assert sorted(names) == sorted(set(names))


def test_files_and_functions_keep_their_proportion() -> None:
    """A sense of proportion: no file over 400 lines; few functions over 50."""
    long_functions, functions = [], 0
    for path in sorted(PACKAGE.rglob("*.py")):
        text = path.read_text(encoding="utf-8")
        assert text.count("\n") <= 400, f"{path.name} has {text.count(chr(10))} lines"
        for node in ast.walk(ast.parse(text)):
            if isinstance(node, ast.FunctionDef):
                functions += 1
                if node.end_lineno - node.lineno >= 50:
                    long_functions.append(f"{path.name}:{node.name}")
    assert len(long_functions) <= 0.02 * functions, long_functions
