"""Reads descriptions with things done to them that people, mails and broken disks do, and counts what comes of it.

    PYTHONPATH=. python -m tests.fuzz.mutate 200000        # the long run; the suite makes a short one

Each is read, or refused with problems. Anything else is a fault of the program, printed with the text that made it.
"""

from __future__ import annotations

import random
import re
import sys
import time
import traceback
from collections import Counter
from pathlib import Path

from sheetgen.model.problems import Refused
from sheetgen.pipeline import wiring_of

ROOT = Path(__file__).parents[2]
SLOW = 2.0  # seconds of CPU for reading one file
PIECES = (
    "?", "-", "[", "]", "{", "}", ":", ": ", ",", "#", " #3", "&a ", "*a", "!!int ", "|", ">", "'", '"', "\t", "\n",
    "  ",
    "\u00a0", "\u202e", "\x00", "\u0001", "\u00b2", "\U0001f4a1", "99999999", "-1", "0.00001", "1e9",
    "0." + "0" * 400 + "1",
    "9" * 5000, "nothing", "unknown", "none", "yes", "no", "null", "~", "x" * 1000, "terminals: 99999999",
    "positions: {on: [A, B]}", "loads: [A]", "circuits:\n  -\n", "[[A, A]]", "2026-02-31", "at: Hall",
    "<<", "lamp: none",
    "opened: no", "metal: yess", "gangs: {a.b: one-way}", "in: Rose", "labels: {L: 1}", "kind: plate", "\r",
    "\u2028",
)


WORD = re.compile(r"[A-Za-z0-9]+")


def corpus() -> list[str]:
    """Every example, more than once, and every wrong file."""
    examples = sorted(ROOT.joinpath("examples").rglob("*.yaml"))
    paths = examples * 4 + sorted(ROOT.joinpath("tests", "wrong").glob("*.yaml"))
    return [path.read_text(encoding="utf-8", errors="replace") for path in paths]


def mutated(text: str, others: list[str], chance: random.Random) -> str:
    """The text with one to four things done to it, mostly one."""
    for _ in range(chance.choice((1, 1, 1, 2, 4))):
        lines = text.split("\n")
        i, k = chance.randrange(len(lines)), chance.randrange(len(lines))
        a = chance.randrange(len(text) + 1)
        b = min(len(text), a + chance.choice((1, 1, 2, 5, 20)))
        match chance.randrange(13):
            case 0:
                text = text[:a] + text[b:]
            case 1 | 2:
                text = text[:a] + chance.choice(PIECES) + text[b:]
            case 3:
                text = text[:a] + chance.choice(PIECES) + text[a:]
            case 4:
                lines[i], lines[k] = lines[k], lines[i]
                text = "\n".join(lines)
            case 5:
                text = "\n".join(lines[:i] + lines[k:k + 3] + lines[i:])
            case 6:
                words = text.split(" ")
                words[chance.randrange(len(words))] = chance.choice((*PIECES, *words))
                text = " ".join(words)
            case 7:
                other = chance.choice(others).split("\n")
                text = "\n".join(lines[:i] + other[chance.randrange(len(other)):][:4] + lines[i + 1:])
            case 8 | 9 | 10 | 11:  # a word of the file in place of another: terminals, names, colours exchanged
                found = list(WORD.finditer(text))
                if not found:
                    continue
                here, there = chance.choice(found), chance.choice(found)
                text = text[:here.start()] + there[0] + text[here.end():]
            case _:
                values = [n for n, line in enumerate(lines) if ": " in line]
                if values:
                    n = chance.choice(values)
                    key = lines[n].split(": ")[0]
                    lines[n] = f"{key}: {chance.choice(PIECES)}"
                    text = "\n".join(lines)
    return text[:60_000]


def run(count: int, seed: int = 1) -> tuple[Counter[str], list[str]]:
    """How many were read, refused, slow, or met a fault; and the faults, each with its text."""
    chance, texts = random.Random(seed), corpus()
    told: Counter[str] = Counter()
    faults: list[str] = []
    for _ in range(count):
        text = mutated(chance.choice(texts), texts, chance)
        began = time.process_time()
        try:
            wiring_of(text)
            told["read"] += 1
        except Refused as refused:
            told["refused" if refused.problems else "refused without a problem"] += 1
        except Exception:
            told["fault"] += 1
            if len(faults) < 20:
                faults.append(f"{traceback.format_exc()}\n{text!r}")
        if time.process_time() - began > SLOW:
            told["slow"] += 1
            faults.append(f"slow: {text!r}")
    return told, faults


if __name__ == "__main__":
    told, faults = run(int(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 1)
    print(*faults, sep="\n\n")
    print(dict(sorted(told.items())))
