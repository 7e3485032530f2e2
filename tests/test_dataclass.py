"""The decorator of our own and the standard library's, side by side: to who uses a class they are the same."""

from __future__ import annotations

import copy
import dataclasses
import pickle
from collections.abc import Callable
from dataclasses import field
from functools import cached_property
from inspect import signature

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetgen.model.dataclass import dataclass

values = st.one_of(st.none(), st.integers(-2, 2), st.text(max_size=2), st.floats(allow_nan=True))


def _pair(decorator: Callable[..., Callable[[type], type]]) -> tuple[type, type]:
    @decorator(frozen=True)
    class Core:
        """Two without a default, two with."""

        key: object
        ends: object
        note: str = "n"
        at: dict[str, int] = field(default_factory=dict)

        @cached_property
        def both(self) -> tuple[object, object]:
            return self.key, self.ends

    @decorator(frozen=True)
    class Sleeved(Core):
        """One field more, and one anew."""

        note: str = "s"
        colour: str = "brown"

        def __post_init__(self) -> None:
            assert self.colour

    return Core, Sleeved


OURS, THEIRS = _pair(dataclass), _pair(dataclasses.dataclass)
BOTH = pytest.mark.parametrize(("ours", "theirs"), list(zip(OURS, THEIRS, strict=True)), ids=["class", "heir"])


@dataclass(frozen=True)
class Found:
    """At the top of a module, to be pickled."""

    name: str
    count: int = 0


@BOTH
@given(a=values, b=values, c=values, d=values)
def test_equal_where_the_standard_one_is(ours: type, theirs: type, a, b, c, d) -> None:
    assert (ours(a, b) == ours(c, d)) == (theirs(a, b) == theirs(c, d))
    assert repr(ours(a, b)) == repr(theirs(a, b))
    assert dataclasses.astuple(ours(a, ends=b)) == dataclasses.astuple(theirs(a, ends=b)) or a != a or b != b
    assert ours(a, b) != theirs(a, b)


@BOTH
def test_same_fields_defaults_and_arguments(ours: type, theirs: type) -> None:
    assert [(f.name, f.default) for f in dataclasses.fields(ours)] == [
        (f.name, f.default) for f in dataclasses.fields(theirs)]
    assert ours.__match_args__ == theirs.__match_args__
    made, standard = ours(1, 2), theirs(1, 2)
    assert vars(made) == vars(standard) and vars(dataclasses.replace(made, note="x"))["note"] == "x"
    assert list(signature(ours.__init__).parameters) == list(signature(theirs.__init__).parameters)
    assert made.at is not ours(1, 2).at
    for wrong in ((), (1,), (1, 2, 3, 4, 5, 6)):
        with pytest.raises(TypeError):
            ours(*wrong)
    with pytest.raises(TypeError):
        ours(1, 2, wrong=3)


@BOTH
def test_frozen_and_what_is_kept_of_it(ours: type, theirs: type) -> None:
    made = ours(1, 2)
    with pytest.raises(dataclasses.FrozenInstanceError):
        made.key = 3
    with pytest.raises(dataclasses.FrozenInstanceError):
        del made.key
    assert made.both == (1, 2) and made.both is made.both
    assert copy.deepcopy(made) == made


def test_hashed_by_its_fields() -> None:
    assert len({Found("a"), Found("a"), Found("a", 1), Found("b")}) == 3
    assert hash(Found("a")) == hash(("a", 0))
    with pytest.raises(TypeError):
        hash(OURS[0](1, 2))  # a dict is in it


def test_pickled_and_matched() -> None:
    assert pickle.loads(pickle.dumps(Found("a", 2))) == Found("a", 2)
    match Found("a", 2):
        case Found(name, count):
            assert (name, count) == ("a", 2)


def test_what_else_is_asked_for_is_the_standard_one() -> None:
    @dataclass
    class Loose:
        """May change."""

        count: int = 0

    loose = Loose()
    loose.count = 2
    assert loose == Loose(2)


def test_a_method_of_its_own_stays() -> None:
    @dataclass(frozen=True)
    class Same:
        """Equal to all of its kind."""

        name: str

        def __eq__(self, other: object) -> bool:
            return isinstance(other, Same)

        def __hash__(self) -> int:
            return 1

        def __repr__(self) -> str:
            return "the same"

    assert Same("a") == Same("b") and hash(Same("a")) == 1 and repr(Same("a")) == "the same"
