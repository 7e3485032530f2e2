"""Reads descriptions with things done to them that people, mails and broken disks do, and counts what comes of it.

    PYTHONPATH=. python -m tests.fuzz.mutate 200000 --seed 1 --minutes 60   # the long run; the suite makes a short one

Each is read, or refused with problems, within bounds of time and memory. Anything else is a fault of the program,
printed with the text that made it. The counts stand at the end, as a table for a note. A seed gives the same texts.
"""

from __future__ import annotations

import argparse
import random
import re
import resource
import time
import traceback
from collections import Counter
from pathlib import Path

from sheetgen.model.problems import Refused
from sheetgen.pipeline import wiring_of

ROOT = Path(__file__).parents[2]
SLOW, BOUND = 2.0, 10.0  # seconds of CPU for reading one file: worth a look, and beyond what may be
MOST_MEMORY = 500  # MB that the process may take at any time
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


def memory() -> int:
    """The most that the process has taken so far, in MB."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024


def run(count: int, seed: int = 1, minutes: float = float("inf")) -> tuple[Counter[str], list[str]]:
    """How many were read, refused, slow, beyond a bound, or met a fault; and the faults, each with its text."""
    chance, texts = random.Random(seed), corpus()
    told: Counter[str] = Counter()
    faults: list[str] = []
    most, end = MOST_MEMORY, time.monotonic() + 60 * minutes
    for _ in range(count):
        if time.monotonic() > end:
            break
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
        took = time.process_time() - began
        if took > SLOW:
            told[f"over {BOUND:g} CPU s" if took > BOUND else f"over {SLOW:g} CPU s"] += 1
            faults.append(f"{took:.1f} CPU s: {text!r}")
        if memory() > most:
            most = memory()
            told[f"over {MOST_MEMORY} MB"] += 1
            faults.append(f"{most} MB: {text!r}")
    return told, faults


def main() -> int:
    """Exit status 1 where anything but read and refused came of a file."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("count", type=int)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--minutes", type=float, default=float("inf"), help="no new file is begun after these")
    asked = parser.parse_args()
    began = time.process_time()
    told, faults = run(asked.count, asked.seed, asked.minutes)
    print(*faults, sep="\n\n")
    files = sum(told[how] for how in ("read", "refused", "refused without a problem", "fault"))
    never = ("fault", "refused without a problem", f"over {SLOW:g} CPU s", f"over {BOUND:g} CPU s",
             f"over {MOST_MEMORY} MB")
    print(f"{files:9,} files, seed {asked.seed}")
    for how in ("read", "refused", *never):
        print(f"{told[how]:9,} {how}")
    print(f"{time.process_time() - began:9,.0f} CPU s, at most {memory()} MB")
    return int(any(told[how] for how in never))


if __name__ == "__main__":
    raise SystemExit(main())
