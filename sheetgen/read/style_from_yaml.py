"""Reads a style from the YAML files under styles/: paints, lettering, measures, papers and colour sets.

The folder is found beside the package in a checkout and inside it in an installed wheel.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

import yaml

from sheetgen.catalogue.cables import BY_NAME
from sheetgen.catalogue.colours import CODES
from sheetgen.model.geometry import MM
from sheetgen.model.problems import BadStyle
from sheetgen.model.style import ColourSet, Lettering, Paint, Paper, Style

_PACKAGE = Path(__file__).resolve().parents[1]
_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_WEIGHTS = ("regular", "bold")
_LENGTHS = ("width", "dash")
_COLOURS = ("stroke", "fill", "centre", "casing", "second")


def styles_folder() -> Path:
    """The folder of the style files."""
    for folder in (_PACKAGE / "styles", _PACKAGE.parent / "styles"):
        if (folder / "papers.yaml").is_file():
            return folder
    raise BadStyle(f"The folder 'styles' is missing: neither in {_PACKAGE} nor beside it.")


def load_style(name: str = "colour", paper: str = "a4", folder: Path | None = None) -> Style:
    """The print style of that name on that paper; BadStyle where a file is missing or wrong."""
    return _load(name, paper, folder or styles_folder())


@lru_cache(maxsize=16)
def _load(name: str, paper: str, folder: Path) -> Style:
    where = f"print/{name}.yaml"
    data = _print_style(folder, where)
    roles = {role: _paint(where, f"roles, {role}", p) for role, p in data["roles"].items()}
    paints = {_core(code): _paint(where, f"conductors, {code}", p) for code, p in data["conductors"].items()}
    if lacking := [code for code in (*CODES, "") if code not in paints]:
        raise BadStyle(f"{where}: no paint under 'conductors' for {', '.join(c or 'bare' for c in lacking)}.")
    return Style(
        name=str(data["name"]), paper=_paper(folder, paper), roles=roles, colours=paints,
        letterings={role: _lettering(where, role, given) for role, given in data["letterings"].items()},
        names=CODES, sets=load_sets(folder),
        measures={key: _length(where, f"measures, {key}", value) for key, value in data["measures"].items()},
    )


@lru_cache(maxsize=4)
def load_sets(folder: Path | None = None) -> Mapping[str, ColourSet]:
    """Every colour set under colours/, by name, in the order of the file names."""
    folder = folder or styles_folder()
    sets = [_colour_set(folder, path.name) for path in sorted((folder / "colours").glob("*.yaml"))]
    if not sets:
        raise BadStyle(f"{folder / 'colours'}: no colour set is there.")
    return {s.name: s for s in sets}


def _read(folder: Path, where: str) -> dict[str, Any]:
    try:
        data = yaml.load((folder / where).read_text(encoding="utf-8"), _LOADER)
    except FileNotFoundError:
        known = ", ".join(sorted(p.stem for p in (folder / where).parent.glob("*.yaml")))
        raise BadStyle(f"{where}: there is no such style file. Known: {known}.") from None
    except (yaml.YAMLError, UnicodeDecodeError) as error:
        raise BadStyle(f"{where}: cannot be read: {' '.join(str(error).split())}") from None
    if not isinstance(data, dict):
        raise BadStyle(f"{where}: expected names with values.")
    return data


def _print_style(folder: Path, where: str) -> dict[str, Any]:
    """The file, laid over the one it is like."""
    data = _read(folder, where)
    if like := data.pop("like", None):
        base = _read(folder, f"print/{like}.yaml")
        for key, value in data.items():
            base[key] = {**base.get(key, {}), **value} if isinstance(value, dict) else value
        data = base
    for key in ("name", "roles", "conductors", "letterings", "measures"):
        if key not in data:
            raise BadStyle(f"{where}: '{key}' is missing.")
        if key != "name" and not isinstance(data[key], dict):
            raise BadStyle(f"{where}: '{key}' is a list of names with values.")
    return data


def _core(code: object) -> str:
    return "" if code == "bare" else str(code)


def _length(where: str, key: str, value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, (int, float)) or value < 0:
        raise BadStyle(f"{where}: {key}: a length in millimetres, not '{value}'.")
    return round(value * MM)


def _colour(where: str, key: str, value: object) -> str:
    text = str(value)
    if len(text) != 7 or text[0] != "#" or any(c not in "0123456789abcdefABCDEF" for c in text[1:]):
        raise BadStyle(f"{where}: {key}: a colour is written \"#rrggbb\", not '{value}'.")
    return text.lower()


def _paint(where: str, key: str, given: object) -> Paint:
    if not isinstance(given, dict) or (unknown := set(given) - {*_LENGTHS, *_COLOURS}):
        what = f"unknown: {', '.join(sorted(unknown))}" if isinstance(given, dict) else "expected names with values"
        raise BadStyle(f"{where}: {key}: {what}. Known: {', '.join((*_COLOURS, *_LENGTHS))}.")
    values: dict[str, Any] = {c: _colour(where, f"{key}, {c}", given[c]) for c in _COLOURS if c in given}
    if "width" in given:
        values["width"] = _length(where, f"{key}, width", given["width"])
    if "dash" in given:
        if not isinstance(given["dash"], list) or not given["dash"]:
            raise BadStyle(f"{where}: {key}, dash: a list of lengths, not '{given['dash']}'.")
        values["dash"] = tuple(_length(where, f"{key}, dash", d) for d in given["dash"])
    return Paint(**values)


def _lettering(where: str, role: str, given: object) -> Lettering:
    if not isinstance(given, dict) or not isinstance(given.get("size"), (int, float)):
        raise BadStyle(f"{where}: letterings, {role}: needs a size in points.")
    weight = given.get("weight", "regular")
    if weight not in _WEIGHTS:
        raise BadStyle(f"{where}: letterings, {role}: the weight is one of {', '.join(_WEIGHTS)}, not '{weight}'.")
    return Lettering(float(given["size"]), weight, _colour(where, f"letterings, {role}", given.get("paint", "#000000")))


def _paper(folder: Path, name: str) -> Paper:
    papers = _read(folder, "papers.yaml")
    if name not in papers:
        raise BadStyle(f"papers.yaml: no paper '{name}'. Known: {', '.join(papers)}.")
    given = papers[name]
    if not isinstance(given, dict) or set(given) != {"width", "height", "margin"}:
        raise BadStyle(f"papers.yaml: {name}: needs width, height and margin in millimetres.")
    for key, value in given.items():
        if isinstance(value, bool) or not isinstance(value, int) or value <= 0:
            raise BadStyle(f"papers.yaml: {name}, {key}: whole millimetres, not '{value}'.")
    return Paper(name, **given)


def _colour_set(folder: Path, file: str) -> ColourSet:
    where = f"colours/{file}"
    data = _read(folder, where)
    for key in ("name", "title", "line", "neutral", "protective", "cores"):
        if key not in data:
            raise BadStyle(f"{where}: '{key}' is missing.")
    cores = {str(t): tuple(_core(c) for c in listed) for t, listed in data["cores"].items()}
    used = [data["line"], data["neutral"], data["protective"], *data.get("also", ()), *sum(cores.values(), ())]
    if unknown := [c for c in used if c not in CODES and c != ""]:
        raise BadStyle(f"{where}: not a letter code of IEC 60757: {', '.join(map(str, unknown))}.")
    for cable_type in BY_NAME.values():
        count = cable_type.live + bool(cable_type.cpc)
        if len(cores.get(cable_type.name, ())) != count:
            raise BadStyle(f"{where}: cores, '{cable_type.name}': needs {count} cores.")
    return ColourSet(
        name=str(data["name"]), title=str(data["title"]), line=data["line"], neutral=data["neutral"],
        protective=data["protective"], cores=cores, also=tuple(data.get("also", ())),
        period=str(data.get("period", "")), source=str(data.get("source", "")),
    )
