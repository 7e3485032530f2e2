"""A change by choosing changes what was meant and not one letter more; a reader of YAML that is not ours says so."""

from __future__ import annotations

import copy
import json
from pathlib import Path

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.desk.splicing import Draft, NoPlace

EXAMPLES = Path(__file__).parents[2] / "examples"
TEXTS = {path.stem: path.read_text(encoding="utf-8") for path in EXAMPLES.glob("*.yaml")}
WORDS = st.sampled_from(["Hall", "Top 2", "8 W", "L", "a: b", "#7", "'", '"', "yes", "null", "1.0", "-", "it's, [so]",
                         "Küche", "*star", "&and", "<b>", "trailing ", "{", "100 %"])


def plain(text: str) -> dict:
    """The values of a text as another reader has them."""
    return yaml.load(text, yaml.BaseLoader)


def paths(value: object, path: tuple = ()) -> list[tuple]:
    """Every place in a value."""
    found = [path] if path else []
    if isinstance(value, dict):
        return found + [p for key, inner in value.items() for p in paths(inner, (*path, key))]
    if isinstance(value, list):
        return found + [p for i, inner in enumerate(value) for p in paths(inner, (*path, i))]
    return found


def comments(text: str) -> list[str]:
    """What a person wrote behind '#'."""
    return [line.split("#", 1)[1] for line in text.splitlines() if "#" in line]


def held(value: object, path: tuple) -> object:
    """The value at a path."""
    for step in path:
        value = value[step]
    return value


@settings(max_examples=25, deadline=None)
@given(st.data())
def test_a_word_put_anywhere_stands_there_and_nothing_else_moves(data):
    text = TEXTS[data.draw(st.sampled_from(sorted(TEXTS)))]
    before = plain(text)
    path = data.draw(st.sampled_from([p for p in paths(before) if isinstance(held(before, p), str)]))
    word = data.draw(WORDS).strip()
    after = Draft(text).put(path, word).text
    wanted = copy.deepcopy(before)
    held(wanted, path[:-1])[path[-1]] = word
    assert plain(after) == wanted
    assert comments(after.replace("#7", "7")) == comments(text)
    changed = [(a, b) for a, b in zip(text.splitlines(), after.splitlines(), strict=True) if a != b]
    assert len(changed) <= 1


@settings(max_examples=25, deadline=None)
@given(st.data())
def test_what_is_dropped_is_gone_and_comments_beside_other_things_stay(data):
    text = TEXTS[data.draw(st.sampled_from(sorted(TEXTS)))]
    before = plain(text)
    path = data.draw(st.sampled_from([p for p in paths(before) if p != ("job",)]))
    after = Draft(text).drop(path).text
    wanted = copy.deepcopy(before)
    while len(path) > 1 and len(held(wanted, path[:-1])) == 1:  # what held nothing else goes too
        path = path[:-1]
    del held(wanted, path[:-1])[path[-1]]
    assert plain(after) == wanted
    whole = [line for line in text.splitlines() if line.lstrip().startswith("#") and not line.startswith(" ")]
    assert [line for line in after.splitlines() if line in whole] == whole


@settings(max_examples=25, deadline=None)
@given(st.data())
def test_a_new_thing_is_added_and_every_old_line_stays(data):
    text = TEXTS[data.draw(st.sampled_from(sorted(TEXTS)))]
    before = plain(text)
    holders = [(), *(p for p in paths(before) if isinstance(held(before, p), dict))]
    path = data.draw(st.sampled_from(holders))
    value = data.draw(WORDS.map(str.strip) | st.lists(WORDS.map(str.strip), min_size=1, max_size=3))
    after = Draft(text).put((*path, "new one"), value).text
    wanted = copy.deepcopy(before)
    held(wanted, path)["new one"] = value
    assert plain(after) == wanted
    kept = set(after.splitlines())
    assert sum(line not in kept for line in text.splitlines()) <= 1


HAND_WRITTEN = """\
# my house
job: Landing light     # the upper one

accessories:   # as found
  Hall:   {kind: two-way switch,   # brown plate
           room: Hall}
  Top:
    kind: two-way switch   # white plate
    room: Landing

# what runs between
cables:
    W1: {type: twin and earth 1.0, at: Hall, cores: {BN: ?, BU: L1, cpc: ?}}   # not followed
"""


def test_a_hand_written_file_keeps_its_comments_its_order_and_its_spaces():
    draft = Draft(HAND_WRITTEN)
    draft = draft.put(("cables", "W1", "cores", "BN"), "COM").put(("accessories", "Top", "room"), "Box room")
    draft = draft.put(("accessories", "Hall", "note"), "loose").put(("accessories", "Top", "note"), "cracked")
    draft = draft.put(("accessories", "Stairs"), {"kind": "ceiling rose", "lamp": "8 W"})
    assert draft.text == """\
# my house
job: Landing light     # the upper one

accessories:   # as found
  Hall:   {kind: two-way switch,   # brown plate
           room: Hall, note: loose}
  Top:
    kind: two-way switch   # white plate
    room: Box room
    note: cracked
  Stairs: {kind: ceiling rose, lamp: 8 W}

# what runs between
cables:
    W1: {type: twin and earth 1.0, at: Hall, cores: {BN: COM, BU: L1, cpc: ?}}   # not followed
"""
    assert draft.drop(("accessories", "Top")).text.count("white plate") == 0
    assert "# brown plate" in draft.drop(("accessories", "Top")).text


def test_line_ends_of_another_system_stay():
    text = HAND_WRITTEN.replace("\n", "\r\n")
    after = Draft(text).put(("accessories", "Stairs"), {"kind": "ceiling rose"}).put(("place",), "Here").text
    assert after.count("\n") == after.count("\r\n") == text.count("\r\n") + 2


def test_from_nothing_a_file_grows_in_the_usual_order():
    draft = Draft("job: New\n").put(("cables", "W1"), {"type": "single 1.0", "cores": {"BN": ["?", "?"]}})
    draft = draft.put(("accessories", "A"), {"kind": "ceiling rose"}).put(("board", "ways", "2", "serves"), "Lights")
    draft = draft.put(("place",), "Here").append(("notes",), "one").append(("notes",), "two: half")
    assert draft.text == """\
job: New
place: Here
board:
  ways:
    2: {serves: Lights}

accessories:
  A: {kind: ceiling rose}

cables:
  W1: {type: single 1.0, cores: {BN: [?, ?]}}

notes:
  - one
  - "two: half"
"""


@pytest.mark.parametrize("text", [
    "job: &name Hall\nplace: *name\n",
    "job: x\naccessories: &all {A: {kind: box}}\ncopy: *all\n",
])
def test_what_cannot_be_followed_is_refused_and_never_guessed(text):
    for path, value in ((("place",), "There"), (("copy", "A", "kind"), "rose"), (("accessories", "A", "kind"), "rose")):
        before = plain(text)
        try:
            after = plain(Draft(text).put(path, value).text)
        except NoPlace:
            continue
        wanted = json.loads(json.dumps(before))  # where two names are one value, each now has its own
        inner = wanted
        for step in path[:-1]:
            inner = inner[step] if step in inner else inner.setdefault(step, {})
        inner[path[-1]] = value
        assert after == wanted
