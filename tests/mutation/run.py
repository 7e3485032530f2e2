"""Random mutants of what is said, each against the goldens and then the tests of its room, by command.

    python -m tests.mutation.run --count 300 --seed 1

It breaks files of the checkout that it runs in, one at a time, and puts each back: run it in a clone. It prints what
survived, and at the end the counts. A mutant on which the tests take too long counts as killed.
"""

from __future__ import annotations

import argparse
import ast
import random
import subprocess
import sys
from collections import Counter
from pathlib import Path

from .sites import sites

ROOT = Path(__file__).parents[2]
GOLDENS = ("tests/pages/test_as_text.py", "tests/commands/test_printed.py")
TESTS = {  # room -> its tests, after the goldens
    "judge": ("tests/checks", "tests/oracle", "tests/test_solution_to_reading.py", "tests/test_recognition.py",
              "tests/test_recoloured.py", "tests/test_reckoning.py", "tests/test_reckoning_more.py", "tests/pages"),
    "pages": ("tests/pages", "tests/test_job_to_pages.py", "tests/handout", "tests/finding", "tests/comparison"),
    "tell": ("tests/test_story.py", "tests/test_job_to_pages.py"),
    "commands": ("tests/commands", "tests/test_cli.py", "tests/finding", "tests/comparison", "tests/handout",
                 "tests/stock", "tests/desk"),
}
LONGEST = 600  # seconds


def killed_by(tests: tuple[str, ...]) -> bool:
    """Whether one of the tests fails."""
    command = [sys.executable, "-m", "pytest", "-x", "-q", "-n0", "-p", "no:cacheprovider",
               "-o", "addopts=--benchmark-disable", *tests]
    try:
        return subprocess.run(command, cwd=ROOT, capture_output=True, timeout=LONGEST).returncode != 0
    except subprocess.TimeoutExpired:
        return True


def main() -> int:
    """Exit status 0: the count was reached, whatever survived."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--count", type=int, default=300)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    files = [path for room in TESTS for path in sorted((ROOT / "sheetgen" / room).rglob("*.py"))]
    every = [(path, i) for path in files for i in range(len(sites(ast.parse(path.read_text(encoding="utf-8")))))]
    counts: Counter[str] = Counter()
    for path, i in random.Random(asked.seed).sample(every, min(asked.count, len(every))):
        source = path.read_text(encoding="utf-8")
        tree = ast.parse(source)
        site = sites(tree)[i]
        site.breaks()
        path.write_text(ast.unparse(ast.fix_missing_locations(tree)), encoding="utf-8")
        try:
            room = path.relative_to(ROOT / "sheetgen").parts[0]
            killed = killed_by(GOLDENS) or killed_by(TESTS[room])
        finally:
            path.write_text(source, encoding="utf-8")
        counts["killed" if killed else "survived"] += 1
        if not killed:
            print(f"{path.relative_to(ROOT)}:{site.line}: {site.what}: {site.reads[:100]}", flush=True)
    print(dict(counts))
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
