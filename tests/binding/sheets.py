"""How many sheets every example takes, which pages open on which, and how full each is.

    PYTHONPATH=. python tests/binding/sheets.py
"""

from __future__ import annotations

from pathlib import Path

from sheetgen.pages.job_to_pages import job_to_pages
from sheetgen.pipeline import Look, job_of, style_of
from sheetgen.print.pdf.fewest import fewest_sheets
from sheetgen.print.pdf.frames import paper_of

EXAMPLES = Path(__file__).parents[2] / "examples"


def main() -> None:
    """A line for each example, and the sum."""
    style, total = style_of(Look()), 0
    for path in sorted(EXAMPLES.rglob("*.yaml")):
        pages = job_to_pages(job_of(path.read_bytes(), Look(), path.name))
        sheets, setting = fewest_sheets(pages, style, paper_of(style))
        total += len(sheets)
        text = setting.lettering("body").size
        opened = (f"{' + '.join(o.title for o in sheet.openings) or '...'} {sheet.filled:.0%}" for sheet in sheets)
        print(f"{path.stem}: {len(sheets)}, text {text:.1f} pt\n    {' | '.join(opened)}")
    print(f"all: {total}")


if __name__ == "__main__":
    main()
