"""The stock that measurements are made on: always the same, every file understood but those that are not to be."""

from __future__ import annotations

from pathlib import Path

import jsonschema
import pytest
import yaml
from commands.runs import ROOT
from stock.generate import dwelling, stock
from test_schema import load

from sheetgen.model.problems import Refused
from sheetgen.pipeline import findings_of, schema, wiring_of

EXAMPLE = sorted((ROOT / "examples/stock").rglob("*.yaml"))


def test_it_is_always_the_same(tmp_path: Path) -> None:
    stock(12, tmp_path / "a"), stock(12, tmp_path / "b")
    names = sorted(p.relative_to(tmp_path / "a") for p in (tmp_path / "a").rglob("*.yaml"))
    assert len(names) == 12
    for name in names:
        assert (tmp_path / "a" / name).read_bytes() == (tmp_path / "b" / name).read_bytes()


def test_sizes_are_mixed_and_all_is_understood_but_what_is_not_to_be() -> None:
    sizes = set()
    for number in range(0, 300, 7):
        text = dwelling(number)[1]
        try:
            sizes.add(len(wiring_of(text).accessories))
            assert number % 100 != 99
        except Refused:
            assert number % 100 == 99
    assert len(sizes) > 12 and max(sizes) > 3 * min(sizes)


@pytest.mark.parametrize("number", [7, 17, 27, 37, 47])
def test_one_in_ten_holds_a_mistake(number: int) -> None:
    assert any(f.gravity != "note" for f in findings_of(dwelling(number)[1]))


def test_every_dwelling_of_the_example_fits_the_schema_and_says_what_a_landlord_files() -> None:
    assert len(EXAMPLE) == 6
    for path in EXAMPLE:
        jsonschema.Draft202012Validator(schema()).validate(load(path))
        assert wiring_of(path.read_bytes()).board.where and yaml.safe_load(path.read_text())["place"]
    assert sum(wiring_of(path.read_bytes()).report.number != "" for path in EXAMPLE) == 4
