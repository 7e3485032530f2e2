"""A stock of dwellings of any number, always the same: `python -m tests.stock.generate N FOLDER`.

Mixed sizes, by method and written out, in old colours and new; one in ten holds a mistake, one in a hundred of the
larger stocks cannot be understood.
"""

from __future__ import annotations

import sys
from pathlib import Path
from random import Random

STREETS = ("Sorrel Row", "Yarrow Street", "Bramble Close", "Teasel Court", "Tansy Lane", "Curlew Terrace")
FITTERS = ("A. Fitter", "B. Spark", "C. Wright", "")
ROOMS = ("Landing", "Kitchen", "Lounge", "Back bedroom", "Front bedroom", "Bathroom", "Hall", "Study", "Porch", "Loft")
METHODS = (
    (1, "{loop: at the rose}"), (1, "{loop: at the switch}"), (1, "{loop: at a joint box}"),
    (2, "{loop: at the rose, join: conversion}"), (2, "{loop: at the switch, join: two strappers}"),
    (3, "{loop: at the rose, join: conversion}"), (2, "{loop: line at the switches, wired: singles in conduit}"),
)
MISTAKES = ("sleeves", "crossed", "borrowed", "no cpc", "switched neutral")


def dwelling(number: int) -> tuple[str, str]:
    """(path below the stock, text) of the dwelling of that number."""
    rng = Random(number)
    street = STREETS[number % len(STREETS)]
    place = f"{number // len(STREETS) + 1} {street}"
    mistake = MISTAKES[number // 10 % len(MISTAKES)] if number % 10 == 7 else ""
    head = [f"job: Lights, {place}", f"place: {place}", *_filed(rng, number)]
    body = _written_out(rng, mistake) if mistake or number % 4 == 0 else _by_method(rng)
    if number % 100 == 99:
        body[-1] = body[-1].replace("from: ", "frm: ").replace("loop: at", "loup: at")
    return f"{street}/{number // len(STREETS) + 1:04d}/lights.yaml", "\n".join([*head, *body, ""])


def _filed(rng: Random, number: int) -> list[str]:
    lines = [f"status: {'proposed' if number % 13 == 0 else 'as found'}"]
    if by := rng.choice(FITTERS):
        day = f"{rng.randint(2019, 2026)}-{rng.randint(1, 12):02d}-{rng.randint(1, 28):02d}"
        lines.append(f"drawn: {{by: {by}, on: {day}}}")
    if rng.random() < 0.7:
        year, month = rng.randint(2018, 2025), rng.randint(1, 12)
        lines.append(f"report: {{number: R {number}, date: {year}-{month:02d}-14, "
                     f"next due: {year + 5}-{month:02d}-14}}")
    if rng.random() < 0.2:
        lines.append("notes: [The meter is in the porch]")
    return lines


def _board(rng: Random, ways: int) -> list[str]:
    rcd = rng.choice((", rcd: 30 mA", ", rcd: none", ""))
    return [f"board: {{earthing: {rng.choice(('TN-S', 'TN-C-S'))}, ze: 0.3 ohm, where: Under the stairs, ways: {{"
            + ", ".join(f"{n}: {{serves: Lights {n}, device: type B 6 A{rcd}}}" for n in range(1, ways + 1)) + "}}"]


def _by_method(rng: Random) -> list[str]:
    ways, lines = rng.choice((1, 1, 2)), []
    for way in range(1, ways + 1):
        for _ in range(rng.choice((1, 2, 2, 3))):
            switches, method = rng.choice(METHODS)
            rooms = rng.sample(ROOMS, switches)
            name = f"C{len(lines) + 1}"
            places = ", ".join(f"{room} {name}" for room in rooms)
            lights = ", ".join(f"{room} {name}" for room in rooms[:rng.choice((1, 1, 2))])
            lines.append(f"  - {{name: {name}, way: {way}, method: {method}, lights: [{lights}], "
                         f"switches: [{places}]}}")
    colours = rng.choice(("current", "current", "legacy"))
    return [*_board(rng, ways), f"colours: {colours}", "size: 1.0", "circuits:", *lines]


def _written_out(rng: Random, mistake: str) -> list[str]:
    """Roses looped from the board, a drop and a switch in each room."""
    legacy = rng.random() < 0.5 or mistake == "no cpc"
    line, neutral = ("RD", "BK") if legacy else ("BN", "BU")
    accessories, cables, last = [], [], "way 1"
    rooms = rng.sample(ROOMS, rng.choice((2, 3, 3, 4, 6, 8)))
    for i, room in enumerate(rooms, 1):
        first, wrong = last == "way 1", i == len(rooms)
        cpc = "" if mistake == "no cpc" else ", cpc: [E, E]"
        kind = "twin" if mistake == "no cpc" else "twin and earth"
        accessories += [f"  {room} rose: {{kind: ceiling rose, room: {room}, lamp: {rng.choice((6, 8, 10))} W}}",
                        f"  {room} switch: {{kind: one-way switch, room: {room}}}"]
        back = "nothing" if mistake == "borrowed" and wrong else "N"
        cables.append(f"  W{i}: {{type: {kind} 1.0, from: {last}, to: {room} rose, length: {rng.randint(3, 9)} m, "
                      f"cores: {{{line}: [{'L' if first else 'loop'}, loop], {neutral}: [N, {back}]{cpc}}}}}")
        live, lamp = ("N", "SL") if mistake == "switched neutral" and wrong else ("loop", "SL")
        if mistake == "crossed" and wrong:
            lamp = "N"
        sleeved = "" if mistake == "sleeves" else f", sleeved: [{neutral}]"
        cables.append(f"  D{i}: {{type: {kind} 1.0, from: {room} rose, to: {room} switch, length: 3 m, cores: "
                      f"{{{line}: [{live}, COM], {neutral}: [{lamp}, L1]{cpc}}}{sleeved}}}")
        last = f"{room} rose"
    if mistake == "borrowed":
        cables.append(f"  X1: {{type: single 1.0, from: way 2, to: {last}, cores: {{{neutral}: [N, N]}}}}")
    return [*_board(rng, 2 if mistake == "borrowed" else 1), f"colours: {'legacy' if legacy else 'current'}",
            "accessories:", *accessories, "cables:", *cables]


def stock(number: int, folder: Path) -> None:
    """Write that many dwellings below a folder."""
    for n in range(number):
        path, text = dwelling(n)
        target = folder / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    stock(int(sys.argv[1]), Path(sys.argv[2]))
