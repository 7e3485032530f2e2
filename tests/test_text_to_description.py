"""Reading: scalars stay text, every value keeps its place, the order and the form of the YAML do not matter."""

from __future__ import annotations

import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.model.problems import Mark, Refused
from sheetgen.read.text_to_description import text_to_description

GOOD = """\
job: On and off
accessories:
  N: {kind: one-way switch, room: no, note: 1.0}
cables:
  W1:
    type: single 1.0
    from: way 1
    to: N
    cores: {BN: [L, COM]}
"""


def test_words_that_yaml_would_change_stay_as_written() -> None:
    accessory = text_to_description(GOOD).content.accessories["N"]
    assert (accessory.room, accessory.note) == ("no", "1.0")


def test_every_value_keeps_its_line_and_column() -> None:
    description = text_to_description(GOOD)
    assert description.mark("accessories", "N") == Mark(3, 3)
    assert description.mark("cables", "W1", "cores", "BN", 1) == Mark(9, 21)
    assert description.mark("cables", "W1", "no such key") == description.mark("cables", "W1")


def test_a_byte_order_mark_and_windows_line_ends_are_no_matter() -> None:
    plain = text_to_description(GOOD).content
    assert text_to_description(b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode()).content == plain


def test_an_anchor_is_written_out() -> None:
    text = GOOD.replace("{BN: [L, COM]}", "&same {BN: [L, COM]}") + (
        "  W2: {type: single 1.0, from: way 1, to: N, cores: *same}\n")
    cables = text_to_description(text).content.cables
    assert cables["W1"].cores == cables["W2"].cores


@settings(deadline=None, max_examples=150, derandomize=True)
@given(st.text(max_size=200))
def test_any_text_is_read_or_refused_with_a_problem(text: str) -> None:
    try:
        text_to_description(text)
    except Refused as refused:
        assert refused.problems


@settings(deadline=None, max_examples=150, derandomize=True)
@given(st.binary(max_size=120))
def test_any_bytes_are_read_or_refused_with_a_problem(data: bytes) -> None:
    try:
        text_to_description(data)
    except Refused as refused:
        assert refused.problems


TREES = st.recursive(
    st.none() | st.text(max_size=8) | st.integers(-3, 3),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(
        st.sampled_from(["job", "kind", "cables", "cores", "from", "to", "W1", "type", "board", "ways", "x"]), inner,
        max_size=4),
    max_leaves=12,
)


SECTIONS = st.sampled_from(["job", "accessories", "cables", "board", "drawn", "kinds", "notes", "zzz"])


@settings(deadline=None, max_examples=200, derandomize=True)
@given(st.dictionaries(SECTIONS, TREES))
def test_any_tree_is_understood_or_refused_and_never_fails_otherwise(tree: dict) -> None:
    from sheetgen.pipeline import wiring_of

    try:
        wiring_of(yaml.safe_dump(tree))
    except Refused as refused:
        assert all(problem.message for problem in refused.problems)
