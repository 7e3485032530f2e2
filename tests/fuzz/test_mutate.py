"""A short run of the mutated files: each is read or refused with problems. The long run: see `mutate.py`."""

from __future__ import annotations

from tests.fuzz.mutate import run


def test_a_mutated_description_is_read_or_refused_and_never_fails() -> None:
    told, faults = run(400, seed=7)
    assert not faults, faults[0]
    assert set(told) == {"read", "refused"}
    assert told["read"] > 20 and told["refused"] > 100, "the run is worth nothing where one of them is rare"
