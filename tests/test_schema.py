"""The JSON Schema that the program gives out accepts every example and refuses a misspelt key."""

from __future__ import annotations

from pathlib import Path

import jsonschema
import pytest
import yaml

from sheetgen.pipeline import schema

EXAMPLES = sorted(Path(__file__).parents[1].joinpath("examples").glob("*.yaml"))


class Yaml12(yaml.SafeLoader):
    """YAML as editors read it: 'on' and dates are text."""


Yaml12.yaml_implicit_resolvers = {
    first: [(tag, pattern) for tag, pattern in found if not tag.endswith((":bool", ":timestamp"))]
    for first, found in yaml.SafeLoader.yaml_implicit_resolvers.items()
}


def as_json(value):
    """Keys are text in JSON."""
    if isinstance(value, dict):
        return {str(k): as_json(v) for k, v in value.items()}
    return [as_json(v) for v in value] if isinstance(value, list) else value


def load(path: Path):
    return as_json(yaml.load(path.read_text(), Yaml12))


def test_the_schema_is_one() -> None:
    jsonschema.Draft202012Validator.check_schema(schema())


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_every_example_fits_the_schema(path: Path) -> None:
    jsonschema.Draft202012Validator(schema()).validate(load(path))


@pytest.mark.parametrize("path", EXAMPLES[:1], ids=lambda p: p.stem)
def test_a_misspelt_key_does_not(path: Path) -> None:
    value = load(path)
    value["cabels"] = value.pop("cables")
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.Draft202012Validator(schema()).validate(value)
