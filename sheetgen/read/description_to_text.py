"""Description to text: YAML as a person would write it, with comments, ready to be edited."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from fractions import Fraction
from textwrap import wrap

from pydantic import BaseModel

from sheetgen.model.description import CableText, DescriptionText
from sheetgen.model.quantities import written

CABLE_ORDER = ("type", "colours", "in", "at", "from", "to", "length", "method", "cores", "sleeved", "bare", "note")
HEAD_ORDER = ("status", "place", "drawn", "report", "board", "colours", "way", "method", "lights", "switches", "lamp",
              "size", "lengths", "circuits", "kinds")
WIDTH = 118  # columns; a cable that is longer goes on on a second line
UNITS = {"length": "m", "ze": "ohm", "voltage": "V", "rcd": "mA", **dict.fromkeys(
    ("feed", "drop", "switches", "lights", "on"), "m")}
NOTHING_IN_YAML = ("null", "Null", "NULL")
_PLAIN = re.compile(r"[^\W_]([\w ./&+()'’°²-]*[\w./&+)'’°²-])?")


def description_to_text(content: DescriptionText, comments: Mapping[str, str] | None = None,
                        sections: Mapping[str, str] | None = None, opening: str = "") -> str:
    """The whole file. `comments` stand above their cable; `sections` above the first cable of a circuit."""
    lines = [f"# {line}" for line in opening.splitlines()]
    lines += [f"job: {scalar(content.job)}"]
    given = _given(content)
    for key in HEAD_ORDER:
        if key in given:
            lines += _block(key, given[key])
    if content.accessories:
        lines += ["", "accessories:", *_aligned({n: _given(a) for n, a in content.accessories.items()})]
    if content.cables:
        lines += ["", "cables:", *_cables(content.cables, comments or {}, sections or {})]
    if content.seen:
        lines += ["", "seen:", *(f"  - {scalar(words)}" for words in content.seen)]
    if content.readings:
        lines += ["", "readings:", *(f"  - {_flow(_given(reading))}" for reading in content.readings)]
    if content.notes:
        lines += ["", "notes:", *(f"  - {scalar(note)}" for note in content.notes)]
    return "\n".join(lines) + "\n"


def _given(part: BaseModel) -> dict[str, object]:
    """What the description says, under the names it has in the file, without what is only the usual."""
    found: dict[str, object] = {}
    for name, field in type(part).model_fields.items():
        value = getattr(part, name)
        if value != field.get_default(call_default_factory=True):
            found[field.alias or name] = _written(value)
    found |= {name: _written(value) for name, value in (part.model_extra or {}).items()}
    return found


def _written(value: object) -> object:
    if isinstance(value, BaseModel):
        return _given(value)
    if isinstance(value, dict):
        return {name: _written(inner) for name, inner in value.items()}
    if isinstance(value, list):
        return [_written(inner) for inner in value]
    return value


def _ordered(cable: CableText) -> dict[str, object]:
    """Where it runs before what its cores join."""
    given = _given(cable)
    return {key: given[key] for key in (*CABLE_ORDER, *given) if key in given}


def _block(key: str, value: object) -> list[str]:
    """A part of the head of the file: on one line, or the ways and circuits one on each line."""
    if key == "board" and isinstance(value, dict):
        lines = ["board:"]
        for name, inner in value.items():
            if name == "ways":
                lines += ["  ways:", *(f"    {scalar(n)}: {_flow(w or {})}" for n, w in inner.items())]
            else:
                lines.append(f"  {scalar(name)}: {_value(name, inner)}")
        return lines
    if key == "circuits" and isinstance(value, list):
        return ["circuits:", *(f"  - {_flow(circuit)}" for circuit in value)]
    return [f"{scalar(key)}: {_value(key, value)}"]


def _aligned(items: Mapping[str, Mapping[str, object]]) -> list[str]:
    names = {name: f"{scalar(name)}:" for name in items}
    width = max(map(len, names.values()))
    return [f"  {names[name]:<{width}} {_flow(value)}" for name, value in items.items()]


def _cables(cables: Mapping[str, CableText], comments: Mapping[str, str], sections: Mapping[str, str]) -> Iterable[str]:
    for name, cable in cables.items():
        if name in sections:
            yield from wrap(sections[name], WIDTH, initial_indent="  # ", subsequent_indent="  # ")
        if name in comments:
            yield f"  # - {comments[name]}" if sections else f"  # {comments[name]}"
        start = f"  {scalar(name)}: "
        words = start + _flow(_ordered(cable))
        if len(words) > WIDTH:
            before, _, after = words.partition(" cores: ")
            yield before
            words = f"{' ' * (len(start) + 1)}cores: {after}"
        yield words


def _value(key: str, value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Fraction):
        return f"{_number(value)} {UNITS.get(key, '')}".strip()
    if isinstance(value, dict):
        return _flow(value)
    if isinstance(value, (list, tuple)):
        return f"[{', '.join(_value(key, v) for v in value)}]"
    return scalar(str(value))


def _flow(value: Mapping[str, object]) -> str:
    return "{" + ", ".join(f"{scalar(str(k))}: {_value(str(k), v)}" for k, v in value.items()
                           if v not in (None, [], {})) + "}"


def _number(value: Fraction) -> str:
    return written(value)


def scalar(text: str) -> str:
    """A word as it stands where YAML allows that, else in quotes."""
    if _PLAIN.fullmatch(text) and text not in NOTHING_IN_YAML:
        return text
    return json.dumps(text, ensure_ascii=False)
