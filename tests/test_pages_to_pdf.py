"""The PDF of a job sheet: whole, embedded, bookmarked, repeatable, inside its margins, nothing lost."""

from __future__ import annotations

import re
from fractions import Fraction
from io import BytesIO
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pages.jobs import example
from pdfminer.converter import PDFPageAggregator
from pdfminer.layout import LTChar, LTComponent, LTContainer, LTCurve
from pdfminer.pdfdocument import PDFDocument
from pdfminer.pdfinterp import PDFPageInterpreter, PDFResourceManager
from pdfminer.pdfpage import PDFPage
from pdfminer.pdfparser import PDFParser
from pdfminer.pdftypes import resolve1

from sheetgen.draw.inking import strokes
from sheetgen.model.drawing import Box, Drawing, Line, Text
from sheetgen.model.page import (
    Columns,
    Form,
    Heading,
    Info,
    Items,
    Page,
    Picture,
    SideBySide,
    Spare,
    Swatch,
    Table,
    Turn,
    Words,
)
from sheetgen.model.style import Style
from sheetgen.model.words import RECORD
from sheetgen.pages.job_to_pages import job_to_pages
from sheetgen.print.pdf import drawings_to_pdf, info_of, pages_to_pdf
from sheetgen.print.pdf.blocks import set_blocks
from sheetgen.print.pdf.columns import GROUP_GAP, ColumnFlow, KeptTogether
from sheetgen.print.pdf.fewest import fewest_sheets
from sheetgen.print.pdf.frames import paper_of
from sheetgen.print.pdf.lettering import TextRun, lines_of, settable
from sheetgen.print.pdf.pictures import SLEEVE_HEIGHT, swatch_drawing
from sheetgen.print.pdf.pieces import Space, fill
from sheetgen.print.pdf.placing import place_pages
from sheetgen.print.pdf.tables import by_shares, set_table, share_out
from sheetgen.print.pdf.typesetting import Typesetting
from sheetgen.read.style_from_yaml import load_style

INFO = Info("Landing light", "Rosehip Cottage", "A. Fitter", "2026-03-14", "landing.yaml", "0123abcd")
DRAWING = Drawing(20000, 9000, (Box(0, 0, 20000, 9000, "enclosure", 150), Text(10000, 4500, "Hall", "title")))
TABLE = Table(("Terminal", "Core", "Goes to"), tuple((f"T{i}", Swatch("RD", "RD red", "BN", bool(i % 2)), f"Top {i}")
                                                     for i in range(12)), joined=1)
EVERYTHING = (
    Page("card", "Circuit chart", (
        Heading("Way 1"), Words("Careful.", "caution", "Caution."), Turn(), Items(("a", "b"), True),
        Words("Mixed.", "notice", "CAUTION"), Spare((Words("left over"),)),
    ), "card"),
    Page("wiring", "Wiring", (
        Picture(DRAWING, caption="from the board"), SideBySide(((Words("left"),), (Words("right", "danger"),))),
    )),
    Page("connections", "Connections", (Columns(tuple((Heading(f"Hall {i}", 3, "switch"), TABLE) for i in range(9))),)),
    Page("tests", "Tests", (
        Form(("Date", "Name"), (1.0, 2.0)), Columns(((Heading("Readings", 3), TABLE),), loose=True),
    )),
    Page("findings", "Findings", (Words("Nothing was found.", "strong"), Words("small print", "quiet")), follows=True),
)


def pdf(pages=EVERYTHING, info=INFO, name="colour", paper="a4") -> bytes:
    """A PDF in a shipped style."""
    return pages_to_pdf(pages, load_style(name, paper), info)


def marks(data: bytes) -> list[tuple[float, float, list[LTComponent]]]:
    """Width, height, and every character and line of each sheet."""
    def within(item):
        if isinstance(item, LTChar | LTCurve):
            yield item
        elif isinstance(item, LTContainer):
            for part in item:
                yield from within(part)

    manager = PDFResourceManager()
    device = PDFPageAggregator(manager, laparams=None)  # in the order in which they were written
    interpreter = PDFPageInterpreter(manager, device)
    sheets = []
    for page in PDFPage.get_pages(BytesIO(data)):
        interpreter.process_page(page)
        sheet = device.get_result()
        sheets.append((sheet.width, sheet.height, list(within(sheet))))
    return sheets


def text_of(data: bytes) -> list[str]:
    """The text of each sheet, in the order in which it was written."""
    return ["".join(m.get_text() for m in found if isinstance(m, LTChar)) for _, _, found in marks(data)]


def document(data: bytes) -> PDFDocument:
    """The file's objects."""
    return PDFDocument(PDFParser(BytesIO(data)))


def objects(data: bytes):
    """Every object of the file."""
    doc = document(data)
    for reference in {n for xref in doc.xrefs for n in xref.get_objids()}:
        yield resolve1(doc.getobj(reference))


def test_the_same_pages_give_the_same_bytes():
    assert pdf() == pdf()


def test_every_font_that_is_used_is_embedded_as_a_subset():
    fonts = [o for o in objects(pdf()) if isinstance(o, dict) and str(o.get("Type")) == "/'FontDescriptor'"]
    assert len(fonts) >= 2
    for font in fonts:
        assert "FontFile2" in font
        assert b"DejaVuSansCondensed" in bytes(str(font["FontName"]), "ascii")
    used = {char.fontname for _, _, found in marks(pdf()) for char in found if isinstance(char, LTChar)}
    assert all("+" in name and "DejaVuSansCondensed" in name for name in used)


@pytest.mark.parametrize("paper, millimetres", [("a4", (297, 210)), ("a3", (420, 297))])
@pytest.mark.parametrize("name", ["colour", "mono"])
def test_nothing_is_printed_within_five_millimetres_of_the_edge_nor_too_small(name, paper, millimetres):
    edge = 5 * 72 / 25.4 - 0.01
    for width, height, found in marks(pdf(name=name, paper=paper)):
        assert (round(width * 25.4 / 72), round(height * 25.4 / 72)) == millimetres
        assert found
        for mark in found:
            assert mark.x0 >= edge and mark.y0 >= edge and mark.x1 <= width - edge and mark.y1 <= height - edge
            if isinstance(mark, LTChar) and mark.get_text().strip():
                assert mark.size > 6.99


def test_title_author_and_subject_are_set():
    (facts,) = document(pdf()).info
    assert b"L\x00a\x00n\x00d".replace(b"\x00", b"") in facts["Title"].replace(b"\x00", b"")
    assert b"Rosehip Cottage" in facts["Title"].replace(b"\x00", b"")
    assert facts["Author"].replace(b"\x00", b"") == b"A. Fitter"
    assert facts["Subject"].replace(b"\x00", b"").endswith(RECORD.encode())


def test_every_font_in_the_file_is_embedded():
    for o in objects(pdf()):
        if isinstance(o, dict) and str(o.get("Type")) == "/'Font'":
            assert "FontDescriptor" in o, o
            assert "FontFile2" in resolve1(o["FontDescriptor"])


def test_the_only_date_in_the_file_is_that_of_the_job():
    (facts,) = document(pdf()).info
    assert facts["CreationDate"] == facts["ModDate"] == b"D:20260314"
    (facts,) = document(pdf(info=Info("Undated"))).info
    assert facts["CreationDate"] == facts["ModDate"] == b""


def test_the_language_is_told_and_the_title_is_shown():
    (catalog,) = [o for o in objects(pdf()) if isinstance(o, dict) and str(o.get("Type")) == "/'Catalog'"]
    assert catalog["Lang"] == b"en-GB"
    assert str(resolve1(catalog["ViewerPreferences"])["DisplayDocTitle"]) == "True"


def test_every_page_has_a_bookmark_that_leads_to_its_sheet():
    doc = document(pdf())
    outlines = [(title, dest) for _, title, dest, *_ in doc.get_outlines()]
    assert [title for title, _ in outlines] == [page.title for page in EVERYTHING]
    sheets = [page.pageid for page in PDFPage.create_pages(doc)]
    opened = [sheets.index(dest[0].objid) for _, dest in outlines]
    assert opened == sorted(opened)
    assert opened[:3] == [0, 1, 2] and opened[3] > 3


def test_sheets_are_numbered_and_name_the_job_the_description_and_what_they_are():
    texts = text_of(pdf())
    for number, text in enumerate(texts, 1):
        assert f"page {number} of {len(texts)}" in text
        for said in ("Landing light", "Rosehip Cottage", "A. Fitter, 2026-03-14", "landing.yaml", "0123abcd", RECORD):
            assert said in text
    assert "Connections, continued" in "".join(texts)


def test_a_head_that_cannot_name_all_pages_on_its_sheet_says_that_there_are_more():
    long = Page("operation", "Operation", tuple(Words("a line") for _ in range(60)))
    others = [Page("tests", title, (Words("a line"),), follows=True)
              for title in ("What is at each accessory", "Connections", "Tests")]
    first, second = text_of(pdf((long, *others)))
    assert "Operation, continued" not in first
    assert re.search(r"Operation, continued\W+What is at each accessory\W+\N{HORIZONTAL ELLIPSIS}", second)


def test_a_head_repeats_where_a_table_goes_on():
    table = Table(("Terminal", "Goes to"), tuple((f"T{i}", "Top") for i in range(120)))
    texts = text_of(pdf((Page("connections", "Connections", (table,)),)))
    assert len(texts) >= 3
    assert all("Goes to" in text for text in texts)
    assert sum(f"T{i}Top" in "".join(texts) for i in range(120)) == 120


@pytest.mark.parametrize("loose", [False, True])
def test_columns_print_every_row_once_over_as_many_sheets_as_they_need(loose):
    groups = tuple(
        (Heading(f"Accessory {g}", 3), Table(("T",), tuple((f"<{g}.{i}>",) for i in range(7 + g * 3))))
        for g in range(16)
    )
    text = "".join(text_of(pdf((Page("connections", "Connections", (Columns(groups, loose=loose),)),))))
    places = [text.find(f"<{g}.{i}>") for g in range(16) for i in range(7 + g * 3)]
    assert -1 not in places and places == sorted(places)
    assert all(text.count(f"<{g}.0>") == 1 for g in range(16))


def test_a_page_that_follows_stands_below_the_one_before_where_it_fits():
    short = Page("findings", "Findings", (Words("none"),), follows=True)
    long = Page("findings", "Findings", tuple(Words("much to say") for _ in range(30)), follows=True)
    first = Page("tests", "Tests", tuple(Words("a test") for _ in range(15)))
    assert len(text_of(pdf((first, short)))) == 1
    assert len(text_of(pdf((first, long)))) == 2


def test_a_short_page_that_may_come_early_fills_a_sheet_that_the_next_one_leaves():
    first = Page("findings", "Findings", tuple(Words("a line") for _ in range(20)))
    tall = Page("wiring", "Wiring", (Picture(Drawing(20000, 12000, ())),))
    early = Page("method", "Method", (Words("what is where"),), follows=True, early=True)
    sheets = text_of(pdf((first, tall, early)))
    assert ["what is where" in text for text in sheets] == [True, False]
    late = Page("method", "Method", (Words("what is where"),), follows=True)
    assert ["what is where" in text for text in text_of(pdf((first, tall, late)))] == [False, True]


@pytest.mark.parametrize(("lines", "shown"), [(5, "large"), (22, "small"), (33, "")])
def test_of_drawings_for_the_card_alone_the_first_that_has_room_is_printed_and_none_elsewhere(lines, shown):
    chart = Page("card", "Chart", (Words("care"), Turn(), *(Words("a line of words") for _ in range(lines))), "card")
    drawn = tuple(Page("card", "Small", (Picture(Drawing(9000, high, (Text(4500, high // 2, name, "title"),))),),
                       on_card=True, card_only=True) for name, high in (("large", 9000), ("small", 3000)))
    sheets = text_of(pdf((chart, *drawn, Page("wiring", "Wiring", (Words("terminal by terminal"),)))))
    assert len(sheets) == 2
    assert [name for name in ("large", "small") if name in sheets[0]] == ([shown] if shown else [])
    assert not any(name in sheets[1] for name in ("large", "small"))


def test_what_follows_whole_is_never_begun_below_another_page():
    for lines in range(1, 40):
        first = Page("findings", "Findings", tuple(Words("a line") for _ in range(lines)))
        drawn = (Picture(Drawing(20000, 6000, (Text(9000, 3000, "Hall", "title"),))), Words("its foot"))
        sheets = text_of(pdf((first, Page("wiring", "Wiring", drawn, follows=True, whole=True))))
        assert ["Hall" in text for text in sheets] == ["its foot" in text for text in sheets]


def test_a_drawing_is_enlarged_unless_its_own_size_does_without_a_sheet():
    drawing = Drawing(20000, 9000, (Text(9000, 3000, "Hall", "title"),))
    drawn = Page("wiring", "Wiring", (Picture(drawing, enlarge=True),))
    assert text_size(pdf((drawn,)), "Hall") == pytest.approx(8 * 277 / 200, abs=0.1)  # paper, drawing in mm
    follows = Page("operation", "Operation", tuple(Words("a line") for _ in range(11)), follows=True)
    together = pdf((drawn, follows))
    assert len(text_of(together)) == 1 and text_size(together, "Hall") == pytest.approx(8, abs=0.1)


@pytest.mark.parametrize("lines", range(30, 90, 4))
def test_text_is_set_smaller_only_to_do_without_a_sheet_and_stays_legible(lines):
    page = Page("tests", "Tests", tuple(Words("a line of words") for _ in range(lines)))
    sheets, setting = fewest_sheets((page,), load_style(), paper_of(load_style()))
    usual = place_pages((page,), Typesetting(load_style()), paper_of(load_style()))
    size = setting.lettering("body").size
    assert size == 9 or len(sheets) == len(usual) - 1
    assert size >= 7


def test_a_card_keeps_its_text_where_that_of_other_pages_is_set_smaller():
    card = Page("card", "Chart", (Words("Quite short"),), "card")
    sizes = set()
    for lines in range(30, 80, 2):
        page = Page("tests", "Tests", tuple(Words("Z line of words") for _ in range(lines)))
        data = pdf((card, page))
        sizes.add(round(text_size(data, "Z line"), 1))
        assert text_size(data, "Quite") == pytest.approx(9 * 1.2, abs=0.1)
    assert min(sizes) < 8.9, "some of these are set smaller"


def text_size(data: bytes, said: str) -> float:
    """The size of some text in a file, in points."""
    for _, _, found in marks(data):
        for item in found:
            if isinstance(item, LTChar) and item.get_text() == said[0]:
                return item.fontsize if hasattr(item, "fontsize") else item.size
    raise AssertionError(said)


def test_spare_blocks_are_printed_only_where_they_fit():
    spare = Spare((Words("altered since"),))
    full = tuple(Words("a line") for _ in range(200))
    assert "altered since" in "".join(text_of(pdf((Page("tests", "Tests", (Words("a line"), spare)),))))
    sheets = text_of(pdf((Page("tests", "Tests", full),)))
    rows = sheets[0].count("a line")
    (only,) = text_of(pdf((Page("tests", "Tests", (*full[:rows], spare)),)))
    assert "altered" not in only


def test_text_is_never_read_as_markup():
    said = "<b>not bold</b> & <para> &amp;"
    page = Page("tests", "Tests", (Heading(said), Words(said, lead=said), Items((said,)), Table((said,), ((said,),))))
    text = "".join(text_of(pdf((page,), Info(said))))
    assert text.replace(" ", "").count(said.replace(" ", "")) >= 6


def test_a_character_that_cannot_be_printed_is_shown_and_noted():
    text = "".join(text_of(pdf((Page("tests", "Tests", (Words("Flat \u6771"),)),))))
    assert "Flat \N{WHITE SQUARE}" in text
    assert "stands for a character that cannot be printed" in text
    assert "cannot be printed" not in "".join(text_of(pdf()))


@pytest.mark.parametrize("said", [
    "Siân's Tŷ Gwyn", "Seán Ó Briain", "Łódź, Île, Ærø, straße, ğ, ő, ș", "½ × 2 Ω ≤ 3 m² – “so”",
])
def test_what_people_type_in_latin_script_is_printed(said):
    assert settable(said) == said
    assert said in "".join(text_of(pdf((Page("tests", "Tests", (Words(said),)),), Info(said))))


def test_accents_typed_apart_are_composed():
    assert settable("Sia\u0302n") == "Siân"


@pytest.mark.parametrize("said", ["", "x" * 3000, "word " * 400])
def test_a_name_of_any_length_is_set(said):
    page = Page("tests", "Tests", (Heading(said), Words(said), Table(("a", "b"), ((said, "b"),))))
    card = Page("card", "Chart", (Words("short"),), "card")
    for _, _, found in marks(pdf((card, page), Info(said, said, said, said, said, said))):
        assert found


@settings(max_examples=40, deadline=None, derandomize=True)
@given(st.text(max_size=60))
def test_any_text_can_be_set(said):
    page = Page("tests", "Tests", (Words(said, lead=said), Table((said, "b"), ((said, Swatch("", said)),))))
    assert pdf((page,), Info(said)).startswith(b"%PDF")


@settings(max_examples=80, deadline=None, derandomize=True)
@given(st.lists(st.floats(5, 200), min_size=1, max_size=14), st.integers(1, 3), st.floats(200, 500))
def test_columns_keep_the_order_and_never_grow_past_the_height(heights, count, limit):
    groups = [KeptTogether([Space(height)]) for height in heights]
    flow = ColumnFlow(groups, count, 180)
    parts: list = []
    while flow.height > limit:
        filled, flow = flow.split(limit, False)
        parts.append(filled.columns)
    parts.append(flow.columns)
    columns = [column for part in parts for column in part]
    assert [group for column in columns for group in column] == groups
    for column in columns:
        used = sum(group.height for group in column) + GROUP_GAP * max(0, len(column) - 1)
        assert used <= limit + 0.1


@pytest.mark.parametrize(("rows", "parted"), [(4, False), (30, True)])
def test_a_small_table_is_not_parted_between_columns_that_have_room_for_it(rows, parted):
    table = Table(("Word", "Sense"), tuple((f"word {i}", "live") for i in range(rows)))
    flow = Columns(((Words("before " * 90),), (Heading("Words", 3), table), (Words("after " * 90),)), loose=True)
    (said,) = text_of(pdf((Page("tests", "Tests", (flow,)),)))
    assert (said.count("Sense") > 1) is parted, "where a table goes on its head stands again"


@settings(max_examples=200, deadline=None, derandomize=True)
@given(st.lists(st.tuples(st.floats(1, 200), st.floats(0, 200)), min_size=1, max_size=9), st.floats(20, 900))
def test_columns_of_a_table_share_the_room_and_keep_what_they_need(needs, room):
    least = [low for low, _ in needs]
    natural = [low + more for low, more in needs]
    widths = share_out([[wide, wide / 2] for wide in natural], least, room)
    assert sum(widths) <= room + 1e-6
    if sum(least) <= room:
        assert all(width >= low - 1e-6 for width, low in zip(widths, least, strict=True))


def test_of_two_columns_the_one_with_a_single_long_cell_gives_way():
    assert share_out([[50.0] * 9, [90.0, *[30.0] * 8]], [20.0, 20.0], 100.0) == [50.0, 50.0]
    assert share_out([[90.0, *[30.0] * 8], [50.0] * 9], [20.0, 20.0], 100.0) == [50.0, 50.0]
    assert share_out([[50.0] * 9, [50.0, *[30.0] * 8]], [20.0, 20.0], 80.0) == [50.0, 30.0]
    swatches = share_out([[60.0] * 3, [90.0] * 3], [20.0, 20.0], 130.0, [40.0, 0.0])
    assert swatches == [60.0, 70.0], "what is left for text in the first column would be halved twice"


@pytest.mark.parametrize("said", [
    "E earth 0 V", "line 230 V, lamp 0 V", "type B 6 A with 30 mA", "Zs 1.37 \N{OHM SIGN}.",
    "1.5 mm2 at 20 \N{DEGREE SIGN}C", "at least 1.0 M\N{OHM SIGN} within 300 ms"])
def test_a_figure_and_its_unit_stand_on_one_line_however_narrow(said):
    said = said.replace("\N{OHM SIGN}", "\N{GREEK CAPITAL LETTER OMEGA}")  # one and the same, composed
    whole = re.findall(r"\d[\d.]* \S+", said.replace(",", ""))
    for room in range(34, 200, 3):
        lines = [" ".join(segment.text for segment in line)
                 for line in lines_of((TextRun(said, "regular", 8.0, "black"),), float(room))]
        assert " ".join(lines) == said, "the space itself stays a plain one"
        text = "|".join(lines).replace(",", "")
        assert all(figure in text for figure in whole), lines


def test_a_column_of_figures_is_not_narrower_than_a_figure_with_its_unit():
    table = Table(("Terminals", "At"), (("Hall rose and Landing rose " * 3, "2300 V"),), (30.0, 0.1))
    (row,) = set_table(table, Typesetting(load_style()), 200.0).rows
    assert len(row.cells[1].lines) == 1


def test_a_drawing_alone_has_a_page_of_its_own_size():
    line = Drawing(10000, 5000, (Line(((100, 100), (9900, 100)), "conductor", "RD"), Text(5000, 3000, "Hall", "title")))
    style = load_style()
    data = drawings_to_pdf((line, line), style, "Landing")
    assert data == drawings_to_pdf((line, line), style, "Landing")
    sheets = marks(data)
    assert [(round(w * 25.4 / 72), round(h * 25.4 / 72)) for w, h, _ in sheets] == [(112, 62), (112, 62)]
    assert text_of(data) == ["Hall", "Hall"]


def test_the_edge_of_a_recoloured_sheet_says_that_colours_are_not_as_found():
    job = example("two-way-conversion", "legacy")
    texts = text_of(pages_to_pdf(job_to_pages(job), load_style(), info_of(job)))
    assert all("COLOURS NOT AS FOUND" in text for text in texts)


def test_lengths_are_exact_until_they_are_printed():
    job = example("two-way-line-at-switch")
    (page,) = job_to_pages(job, ("cables",))
    text = "".join(text_of(pdf((page,))))
    singles = sum((c.length for c in job.wiring.cables if c.type == "single"), Fraction(0))
    assert f"{singles} m" in text


def test_a_table_that_goes_on_names_again_what_it_goes_on_with():
    rows = tuple(("Hall" if i == 0 else "", f"T{i}") for i in range(60))
    texts = text_of(pdf((Page("tests", "Tests", (Table(("At", "Terminal"), rows, joined=1),)),)))
    assert len(texts) == 2
    assert "Hall" in texts[1]
    assert texts[1].count("T5") > 1, "more than one row goes on over the sheet"


def test_a_heading_stands_on_the_sheet_of_what_follows_it():
    for lines in range(1, 40):
        filled = tuple(Words("a line") for _ in range(lines))
        table = Table(("T",), tuple((f"row {i}",) for i in range(6)))
        page = Page("tests", "Tests", (*filled, Heading("Below this", 2), Words("say"), table))
        sheets = text_of(pdf((page,)))
        assert ["Below this" in text for text in sheets] == ["row 0" in text for text in sheets]


def test_the_caution_and_the_form_of_a_following_page_stand_on_the_sheet_of_what_they_lead_to():
    opening = SideBySide(((Words("Take care.", "caution", "Caution."),), (Form(("Tested by",)),)))
    table = Table(("T",), tuple((f"row {i}",) for i in range(6)))
    follows = Page("tests", "Tests", (opening, Columns(((Heading("Below this"), table),))), follows=True)
    counts = set()
    for lines in range(1, 40):
        above = Page("cables", "Cables", tuple(Words("a line") for _ in range(lines)))
        sheets = text_of(pdf((above, follows)))
        counts.add(len(sheets))
        assert ["Tested by" in text for text in sheets] == ["row 0" in text for text in sheets]
    assert counts == {1, 2}


def test_words_in_columns_do_not_begin_a_page_below_another_without_the_drawing_they_lead_to():
    drawn = Picture(Drawing(9000, 4000, (Text(4500, 2000, "switch", "title"),)))
    group = (Heading("A lamp"), Words("how it is joined"), drawn, Words("evidence"))
    follows = Page("operation", "Operation", (Words("notes"), Columns((group, group))), follows=True)
    counts = set()
    for lines in range(1, 40):
        sheets = text_of(pdf((Page("wiring", "Wiring", tuple(Words("a line") for _ in range(lines))), follows)))
        counts.add(len(sheets))
        assert all(("how it is joined" in text) <= ("switch" in text) for text in sheets)
    assert counts == {1, 2}


def test_an_unused_half_of_a_card_stays_white():
    card = (Page("card", "Chart", (Words("short"),), "card"),)
    (whole,) = text_of(pdf(card))
    assert whole.count(RECORD) == 1
    (both,) = text_of(pdf((Page("card", "Chart", (Words("short"), Turn(), Words("too")), "card"),)))
    assert both.count(RECORD) == 2


@pytest.mark.parametrize("tone", ["plain", "caution", "danger", "notice"])
def test_words_that_fill_sheets_go_on_over_them(tone):
    said = " ".join(f"w{i}." for i in range(2400))
    beside = SideBySide(((Words(said, tone),), (Items(tuple(f"item {i}." for i in range(90))),)))
    page = Page("tests", "Tests", (Words(said, tone), beside))
    text = "".join(text_of(pdf((page,))))
    assert all(f"w{i}." in text for i in (0, 1199, 2399)) and "item 89." in text


def test_the_edge_says_that_a_danger_was_noticed():
    for name, danger in (("landing-borrowed-neutral", True), ("bungalow", False)):
        job = example(name)
        texts = text_of(pages_to_pdf(job_to_pages(job), load_style(), info_of(job)))
        assert all(("DANGER NOTICED" in text) is danger for text in texts)


def test_a_set_of_pages_that_tells_of_no_danger_does_not_say_that_one_was_noticed():
    job = example("landing-borrowed-neutral")
    alone = text_of(pages_to_pdf(job_to_pages(job, ("operation",)), load_style(), info_of(job)))
    assert not any("DANGER NOTICED" in text for text in alone)
    told = text_of(pages_to_pdf(job_to_pages(job, ("operation", "findings")), load_style(), info_of(job)))
    assert all("DANGER NOTICED: see the findings" in text for text in told)


def test_a_row_that_does_not_fit_moves_to_the_next_sheet_whole_and_leaves_no_sheet_empty():
    for lines in range(20, 42):
        filled = tuple(Words("a line") for _ in range(lines))
        row = SideBySide(tuple((Heading(f"H{i}", 3), Picture(DRAWING, 0.3), Words(f"says {i}")) for i in range(3)))
        sheets = text_of(pdf((Page("operation", "Operation", (*filled, Heading("Above", 3), row)),)))
        assert len(sheets) <= 2
        assert [all(f"H{i}" in text and f"says {i}" in text for i in range(3)) for text in sheets][-1]
        assert all("a line" in text or "H0" in text for text in sheets)


@pytest.mark.parametrize("room", range(20, 160, 5))
def test_no_single_row_of_a_table_stands_alone_on_a_sheet(room):
    table = set_table(TABLE, Typesetting(load_style()), 400)
    parts = table.split(room, False) or ()
    assert all(len(part.rows) > 1 for part in parts)
    assert sum(len(part.rows) for part in parts) in (0, len(TABLE.rows))


@pytest.mark.parametrize(("rows", "room"), [(rows, room) for rows in (2, 3, 4, 90) for room in range(10, 160, 4)])
def test_a_table_begins_and_goes_on_with_two_rows_at_least_however_long_it_is(rows, room):
    points = Table(("Point", "Zs"), tuple((f"T{i}", "1") for i in range(rows)))
    table = set_table(points, Typesetting(load_style()), 400)
    parts = table.split(room, False) or ()
    assert all(len(part.rows) > 1 for part in parts)


@settings(max_examples=60, deadline=None, derandomize=True)
@given(st.lists(st.tuples(st.floats(0.5, 5), st.floats(1, 80)), min_size=1, max_size=10), st.floats(50, 700))
def test_shares_give_way_to_the_longest_words(columns, room):
    shares, least = zip(*columns, strict=True)
    widths = by_shares(shares, list(least), room)
    assert sum(widths) <= room + 0.01
    if sum(least) < room:
        assert sum(widths) > room - 0.01
        assert all(width > need - 0.01 for width, need in zip(widths, least, strict=True))


def test_a_sheet_that_smaller_text_spares_is_spared():
    def printed(rows):
        table = Table(("Terminal", "Goes to"), tuple((f"T{i}", "Top") for i in range(rows)))
        return pages_to_pdf((Page("cables", "Cables", (table,)),), load_style(), INFO)

    counts = {rows: len(text_of(printed(rows))) for rows in range(30, 60, 2)}
    more = Page("cables", "Cables", (Table(("T",), tuple((str(i),) for i in range(44))),))
    style = load_style()
    first = place_pages((more,), Typesetting(style), paper_of(style))
    assert sorted(counts.values()) == list(counts.values())  # more rows never take fewer sheets
    assert len(first) == 2 and counts[44] == 1


def test_a_table_parted_between_columns_names_what_it_goes_on_with_once_in_each():
    rows = tuple(("Hall" if i == 0 else "", f"<{i}>") for i in range(31))
    (text,) = text_of(pdf((Page("tests", "Tests", (Columns(((Table(("At", "T"), rows, joined=1),),), loose=True),)),)))
    assert text.count("Hall") == 2
    assert [text.count(f"<{i}>") for i in range(31)] == [1] * 31


def test_without_colours_a_fitted_sleeve_bears_the_pattern_of_its_colour_and_one_to_fit_is_the_loudest():
    mono, colour = load_style("mono"), load_style("colour")

    def passes(sleeve: str, missing: bool = False, style: Style = mono):
        drawn = swatch_drawing("BU", sleeve, missing, bool(style.roles["sleeve"].fill))
        return [strokes(s, style) for s in drawn.shapes if isinstance(s, Line) and s.role == "sleeve pattern"]

    patterns = [passes(sleeve) for sleeve in ("BN", "BU", "BK", "RD", "GNYE")]
    assert all(patterns) and all(a != b for a, b in combinations(patterns, 2))
    assert not passes("BN", missing=True) and not passes("BN", style=colour)
    edges = {role: mono.roles[role] for role in ("sleeve", "sleeve to fit")}
    assert edges["sleeve to fit"].width > 2 * edges["sleeve"].width and edges["sleeve to fit"].fill == "#000000"
    high = SLEEVE_HEIGHT - mono.roles["sleeve pattern"].width
    assert high > 60  # hundredths of a millimetre of white about a pattern: even black is no sleeve to fit


@pytest.mark.parametrize("more", range(0, 60, 3))
def test_what_stands_below_a_heading_as_high_as_its_frame_goes_on_in_the_next(more):
    """A caution of which no line fits below it was placed over the foot of the frame."""
    setting = Typesetting(load_style())
    heading, caution = set_blocks((Heading("x" * 600), Words("word " * 200, "caution")), setting, 300)
    room = heading.height + more
    placed, rest = fill([heading, caution], room, forced=True)
    assert placed[0] == (0, heading) and rest
    assert all(top + piece.height <= room for top, piece in placed)
