"""A printed page as a backend-neutral value: blocks in reading order. The writers turn blocks into marks on paper."""

from __future__ import annotations

from dataclasses import dataclass

from sheetgen.model.drawing import Drawing


@dataclass(frozen=True)
class Heading:
    """A heading within a page; level 2 opens a section, level 3 names one thing. `note` follows in lighter type."""

    text: str
    level: int = 2
    note: str = ""


@dataclass(frozen=True)
class Words:
    """A paragraph. `tone` is "plain", "strong", "quiet", "caution", "danger" or "notice"; `lead` runs in, in bold."""

    text: str
    tone: str = "plain"
    lead: str = ""


@dataclass(frozen=True)
class Items:
    """A list; numbered or not."""

    items: tuple[str, ...]
    numbered: bool = False


@dataclass(frozen=True)
class Swatch:
    """A short piece of conductor in a table cell, in the conductor's paint, with the sleeve at its end.

    `colour` is a colour code, "" for a bare conductor; `text` stands beside the piece.
    """

    colour: str
    text: str = ""
    sleeve: str = ""  # colour code of the sleeve at its end; "" for none
    missing: bool = False  # the sleeve is needed and not there
    strong: bool = False  # the text is heavy


Cell = str | Swatch | Words


@dataclass(frozen=True)
class Table:
    """A table; the head repeats on a new sheet.

    `shares` are relative column widths; without them each column takes what its contents need. `tones` has one word
    for each row ("" or "quiet", "strong", "danger"). `boxes` are columns of blank boxes to write in. In the first
    `joined` columns an empty cell continues the cell above it. A `plain` table has no head.
    """

    head: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    shares: tuple[float, ...] = ()
    tones: tuple[str, ...] = ()
    boxes: tuple[int, ...] = ()
    joined: int = 0
    plain: bool = False  # without a head
    tall: float = 1.0  # of the usual height of a box


@dataclass(frozen=True)
class Form:
    """Labelled blank boxes in one line, to be filled in by hand; `shares` are their relative widths."""

    labels: tuple[str, ...]
    shares: tuple[float, ...] = ()


@dataclass(frozen=True)
class Picture:
    """A drawing at its own size; with a `scale` below 1 it must hold no text. `enlarge`: larger where there is room.

    `alike`: drawings that are enlarged all by the same, each on its sheet.
    """

    drawing: Drawing
    scale: float = 1.0
    caption: str = ""
    enlarge: bool = False
    alike: tuple[Drawing, ...] = ()


@dataclass(frozen=True)
class SideBySide:
    """Blocks side by side, widths by share. It stays on one sheet."""

    blocks: tuple[tuple[Block, ...], ...]
    shares: tuple[float, ...] = ()


@dataclass(frozen=True)
class Columns:
    """Groups of blocks that flow through columns of equal width and on to further sheets.

    A group is kept together where that is possible; in a `loose` flow it may go on in the next column. A `whole` one
    goes on only where it is too high for any column, its heading again above; it may stand shortly before its turn.
    """

    groups: tuple[tuple[Block, ...], ...]
    count: int = 2
    loose: bool = False
    whole: bool = False


@dataclass(frozen=True)
class Spare:
    """Blocks that are printed only where they fit in the room left over."""

    blocks: tuple[Block, ...]


@dataclass(frozen=True)
class Turn:
    """What follows begins on the other half of a card."""


Block = Heading | Words | Items | Table | Form | Picture | SideBySide | Columns | Spare | Turn


@dataclass(frozen=True)
class Page:
    """One page kind of a job sheet; may run on over several sheets of paper."""

    kind: str  # "card", "wiring", ...
    title: str
    blocks: tuple[Block, ...]
    frame: str = "full"  # "full": the whole sheet; "card": two A5 halves with a fold between
    follows: bool = False  # may begin below the page before it, where there is room
    whole: bool = False  # follows only where all of it fits
    roomy: bool = False  # its boxes to write in take the room that is left; what it has to spare costs no sheet
    early: bool = False  # may stand on an earlier sheet than in its turn, where all of it fits
    on_card: bool = False  # stands on the card of its set, where there is room for all of it
    card_only: bool = False  # and nowhere else: the first of these that fits, after all others that may stand there
    bookmarks: tuple[tuple[int, str], ...] = ()  # (level from 0, words), in place of one with its title


@dataclass(frozen=True)
class Info:
    """What the edge of every sheet says: whose record this is, and of which description."""

    job: str
    place: str = ""
    drawn_by: str = ""
    drawn_on: str = ""  # ISO date of the description; "" where not given
    source: str = ""  # file name of the description
    fingerprint: str = ""  # of the description's bytes
    remark: str = ""  # printed on every sheet: "Colours are not as found."
    danger: bool = False  # a danger was noticed; said on every sheet where the set of pages tells more of it
    laid: bool = False  # by a method alone: nobody drew it on any day
    warning: str = ""  # in a black band across the head of every sheet
    standing: str = ""  # what these sheets are, where they are no wiring record
    record: str = ""  # stands in place of by whom and when it was drawn, on sheets that are no drawing of one job
