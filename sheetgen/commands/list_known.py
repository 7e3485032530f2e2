"""sheetgen list: what a description may hold."""

from __future__ import annotations

from collections.abc import Sequence

import click

TOPICS = ("accessories", "cables", "devices", "colours", "codes", "methods", "pages", "schema")


@click.command(name="list", short_help="List accessories, cables, colours, methods known.")
@click.argument("topic", required=False, type=click.Choice(TOPICS))
def command(topic: str | None) -> None:
    """List what is known: accessories with their terminals, cables, colour sets, colour codes, wiring methods, pages.

    `sheetgen list schema` prints the JSON Schema of the description file; an editor that reads it completes words.
    """
    shown = [topic] if topic else [t for t in TOPICS if t != "schema"]
    click.echo("\n\n".join(SHOW[t]() if topic else f"{t.upper()}\n{SHOW[t]()}" for t in shown))


def _columns(rows: Sequence[tuple[str, ...]]) -> str:
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]) - 1)]
    return "\n".join("  ".join([*(c.ljust(w) for c, w in zip(row, widths, strict=False)), row[-1]]).rstrip()
                     for row in rows)


def _accessories() -> str:
    from sheetgen.catalogue.accessories import CATALOGUE

    rows = []
    for entry in CATALOGUE:
        options = f"options: {', '.join(entry.options)}" if entry.options else ""
        rows.append((entry.name, "; ".join(filter(None, [entry.says, options]))))
        rows.append(("", f"also: {', '.join(entry.also[:6])}"))
    return _columns(rows)


def _cables() -> str:
    from sheetgen.catalogue.cables import IMPERIAL, METRIC, TYPES

    rows = [(t.name, f"also: {', '.join(t.also[:5])}") for t in TYPES]
    return f"{_columns(rows)}\nsizes: {', '.join(METRIC)} mm2; old: {', '.join(IMPERIAL)}"


def _devices() -> str:
    from sheetgen.catalogue.devices import CATALOGUE

    return _columns([(e.name, ", ".join(f"{r} A" for r in e.ratings), e.says) for e in CATALOGUE])


def _colours() -> str:
    from sheetgen.pipeline import Look, style_of

    sets = style_of(Look()).sets.values()
    return _columns([(s.name, f"line {s.line}, neutral {s.neutral}, earth {s.protective}", s.title) for s in sets])


def _codes() -> str:
    from sheetgen.catalogue.colours import CODES

    return _columns(list(CODES.items()))


def _methods() -> str:
    from sheetgen.catalogue.methods import JOINS, LOOPS

    return (f"loop: where line and neutral loop\n{_columns([(f'  {m.name}', m.says) for m in LOOPS])}\n"
            f"join: how the switches are joined\n{_columns([(f'  {m.name}', m.says) for m in JOINS])}")


def _pages() -> str:
    from sheetgen.pages import PAGES

    return "\n".join(kind.name for kind in PAGES)


def _schema() -> str:
    from sheetgen.commands.saying import json_text
    from sheetgen.pipeline import schema

    return json_text(schema()).rstrip("\n")


SHOW = {
    "devices": _devices,
    "accessories": _accessories, "cables": _cables, "colours": _colours, "codes": _codes,
    "methods": _methods, "pages": _pages, "schema": _schema,
}
