"""The fewest sheets: text somewhat smaller, drawings at their own size, or what is said elsewhere too left out, where
that does without a sheet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sheetgen.model.page import Block, Columns, Page, Picture, Spare, Table
from sheetgen.model.style import Style
from sheetgen.print.pdf.frames import CARD, PaperSheet
from sheetgen.print.pdf.placing import FilledSheet, place_pages
from sheetgen.print.pdf.typesetting import Typesetting

SHARES = (1.0, 0.94, 0.88, 0.86)  # of the size of text, the largest first
MOST_SPARED = 0.3  # of a sheet: the smallest text takes 0.86 of the height and of the width
MANY = 24  # sheets: more are set again once, in the smallest text
GIVEN = 0.35  # of a sheet at most goes to drawings larger than their own size and to what is said elsewhere too

TALL = (3.0, 2.5, 2.0, 1.6, 1.3)  # of the usual height of a box to write in, the tallest first

Placing = tuple[list[FilledSheet], Typesetting]  # sheets, and what they are set in


def fewest_sheets(pages: Sequence[Page], style: Style, paper: PaperSheet) -> Placing:
    """The pages on their sheets: in the largest text that takes the fewest sheets of any, drawings enlarged and what
    there is to spare printed, unless a sheet fewer does without."""
    usual = Typesetting(style)
    bare = [_without_spare(page) if page.roomy else page for page in pages]
    best = _fewest(bare, usual, paper)
    return _roomy(pages, bare, best, usual, paper) if any(page.roomy for page in pages) else best


def _fewest(pages: Sequence[Page], usual: Typesetting, paper: PaperSheet) -> Placing:
    def placed(tried: Sequence[Page], share: float) -> Placing:
        setting = usual.at(share)
        return place_pages(tried, setting, paper, usual), setting

    best = placed(pages, SHARES[0])
    if len(best[0]) > MANY:
        return min(best, placed(pages, SHARES[-1]), key=lambda placing: len(placing[0]))
    own = at_own_size(pages)
    spared = tuple(page if page.frame == CARD else _without_spare(page) for page in own)
    if not _may_be_fewer(best[0], gives_way=spared != tuple(pages)):
        return best
    smallest = placed(spared, SHARES[-1])
    for tried in (pages, own, spared):
        if len(smallest[0]) >= len(best[0]):
            break  # nothing does without another sheet
        least = smallest if tried is spared else placed(tried, SHARES[-1])
        if len(least[0]) < len(best[0]):
            shares = SHARES[1:-1] if tried is pages else SHARES[:-1]  # the pages in the usual text were the first
            larger = (placed(tried, share) for share in shares)
            best = next((placing for placing in larger if len(placing[0]) == len(least[0])), least)
    return best


def _roomy(pages: Sequence[Page], bare: Sequence[Page], best: Placing, usual: Typesetting,
           paper: PaperSheet) -> Placing:
    """With what roomy pages have to spare, and their boxes as tall as they can be: on no more sheets, and no roomy page
    parted for it from what it stood below."""
    sheets, setting = best
    roomy = {page.title for page in pages if page.roomy}
    for tried, tall in (*((pages, tall) for tall in (*TALL, 1.0)), *((bare, tall) for tall in TALL)):
        higher = [replace(page, blocks=tuple(_taller(block, tall) for block in page.blocks)) if page.roomy else page
                  for page in tried]
        placed = place_pages(higher, setting, paper, usual)
        if len(placed) <= len(sheets) and not roomy & (_at_top(placed) - _at_top(sheets)):
            return placed, setting
    return best


def _at_top(sheets: Sequence[FilledSheet]) -> set[str]:
    return {opening.title for sheet in sheets for opening in sheet.openings if opening.at_top}


def _without_spare(page: Page) -> Page:
    return replace(page, blocks=tuple(block for block in page.blocks if not isinstance(block, Spare)))


def _taller(block: Block, tall: float) -> Block:
    if isinstance(block, Columns):
        return replace(block, groups=tuple(tuple(_taller(b, tall) for b in group) for group in block.groups))
    return replace(block, tall=tall) if isinstance(block, Table) and block.boxes else block


def at_own_size(pages: Sequence[Page]) -> tuple[Page, ...]:
    """The pages with no drawing larger than it was drawn."""
    return tuple(replace(page, blocks=tuple(
        replace(block, enlarge=False) if isinstance(block, Picture) else block for block in page.blocks
    )) for page in pages)


def _may_be_fewer(sheets: list[FilledSheet], gives_way: bool) -> bool:
    """Whether it is worth a try: where the last sheet holds little beside what those before could give up."""
    begins = [i for i, sheet in enumerate(sheets) if any(o.at_top and not o.follows for o in sheet.openings)]
    before = len(sheets) - 1 - begins[-1] if begins else 0  # sheets that the last one goes on from
    return bool(sheets) and sheets[-1].filled <= MOST_SPARED * before + (GIVEN if gives_way else 0)
