"""Each kind of site is found and breaks what it should."""

from __future__ import annotations

import ast

import pytest

from mutation.sites import sites

SOURCE = '''
def f(a, b=1):
    """Words."""
    if a < 2 and b:
        return "x"
    g(a)
    return 3 if a in b else a + 1
'''


@pytest.mark.parametrize(("what", "reads", "becomes"), [
    ("comparison", "a < 2", "a <= 2"), ("operator", "a < 2 and b", "a < 2 or b"), ("constant", "2", "a < 3"),
    ("text", "'x'", "return 'XXx'"), ("condition", "if a < 2 and b:", "if not (a < 2 and b):"),
    ("statement", "g(a)", "    None\n"), ("choice", "3 if a in b else a + 1", "a + 1 if a in b else 3"),
    ("comparison", "a in b", "a not in b"), ("operator", "a + 1", "a - 1"), ("return", "return 'x'", "return None"),
])
def test_each_breaks_one_thing(what: str, reads: str, becomes: str) -> None:
    tree = ast.parse(SOURCE)
    assert becomes not in ast.unparse(tree)
    (site,) = [s for s in sites(tree) if (s.what, s.reads) == (what, reads)]
    site.breaks()
    assert becomes in ast.unparse(ast.fix_missing_locations(tree))


def test_docstrings_and_defaults_are_left_alone() -> None:
    assert not any("Words" in s.reads for s in sites(ast.parse(SOURCE)))
    assert len(sites(ast.parse(SOURCE))) == 13  # the ten above, and: return 3 if ..., the constants 3 and 1
