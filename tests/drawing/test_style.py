"""The style files: complete, distinguishable, found wherever the program stands, and refused by name when wrong."""

from __future__ import annotations

import shutil
from itertools import combinations

import pytest
import yaml
from reportlab.pdfbase import pdfmetrics

from sheetgen.catalogue.cables import TYPES
from sheetgen.catalogue.colours import CODES
from sheetgen.draw.typeface import font_name, has_glyph, text_width
from sheetgen.model.geometry import PT
from sheetgen.model.style import Lettering
from sheetgen.read import style_from_yaml
from sheetgen.read.style_from_yaml import BadStyle, load_style, styles_folder


@pytest.fixture
def folder(tmp_path):
    """A copy of the style files to spoil."""
    copy = tmp_path / "styles"
    shutil.copytree(styles_folder(), copy)
    return copy


def spoil(folder, file: str, change) -> None:
    """Change one file of a copy."""
    path = folder / file
    data = yaml.safe_load(path.read_text(encoding="utf-8"))
    change(data)
    path.write_text(yaml.safe_dump(data), encoding="utf-8")


@pytest.mark.parametrize("paper", ["a4", "a3"])
@pytest.mark.parametrize("name", ["colour", "mono"])
def test_every_code_and_a_bare_core_have_a_paint(name, paper):
    style = load_style(name, paper)
    assert style.name == name and style.paper.name == paper
    assert set(style.colours) == {*CODES, ""}
    assert style.names["GNYE"] == "green-and-yellow"


@pytest.mark.parametrize("name", ["colour", "mono"])
def test_no_two_cores_look_alike(name):
    """In mono by grey, pattern or middle line; the code at both ends carries the meaning all the same."""
    paints = load_style(name).colours
    for (a, one), (b, two) in combinations(paints.items(), 2):
        assert one != two, (a, b)


def test_every_type_of_cable_has_its_cores_in_every_set():
    for chosen in load_style().sets.values():
        for cable_type in TYPES:
            assert len(chosen.cores[cable_type.name]) == cable_type.live + bool(cable_type.cpc)
            assert (chosen.cores[cable_type.name][-1] == "") == (cable_type.cpc == "bare")


@pytest.mark.parametrize(("cable", "legacy", "current"), [
    ("twin and earth", ("RD", "BK", ""), ("BN", "BU", "")),  # BS 7671 Table 51 and its predecessors
    ("three-core and earth", ("RD", "YE", "BU", ""), ("BN", "BK", "GY", "")),
    ("three-core flex", ("RD", "BK", "GN"), ("BN", "BU", "GNYE")),  # Colour Code Regulations 1969
])
def test_cores_of_both_periods(cable, legacy, current):
    sets = load_style().sets
    assert sets["legacy"].cores[cable] == legacy and sets["current"].cores[cable] == current


def test_the_folder_is_found_in_an_installed_package(tmp_path, monkeypatch):
    shutil.copytree(styles_folder(), tmp_path / "sheetgen" / "styles")
    monkeypatch.setattr(style_from_yaml, "_PACKAGE", tmp_path / "sheetgen")
    assert styles_folder() == tmp_path / "sheetgen" / "styles"


def test_a_missing_folder_says_where_it_was_looked_for(tmp_path, monkeypatch):
    monkeypatch.setattr(style_from_yaml, "_PACKAGE", tmp_path / "sheetgen")
    with pytest.raises(BadStyle, match="'styles' is missing"):
        styles_folder()


WRONG = [
    ("print/colour.yaml", lambda d: d["conductors"].pop("TQ"), "no paint under 'conductors' for TQ"),
    ("print/colour.yaml", lambda d: d["conductors"]["RD"].update(stroke="red"), "conductors, RD, stroke: a colour"),
    ("print/colour.yaml", lambda d: d["roles"]["sheath"].update(width="wide"), "roles, sheath, width: a length"),
    ("print/colour.yaml", lambda d: d["roles"]["sheath"].update(wdith=1), "roles, sheath: unknown: wdith"),
    ("print/colour.yaml", lambda d: d["letterings"]["code"].update(weight="italic"), "letterings, code: the weight"),
    ("print/colour.yaml", lambda d: d.pop("measures"), "'measures' is missing"),
    ("print/colour.yaml", lambda d: d["roles"]["sleeve to fit"].update(dash=3), "sleeve to fit, dash: a list"),
    ("papers.yaml", lambda d: d["a4"].pop("margin"), "a4: needs width, height and margin"),
    ("papers.yaml", lambda d: d["a4"].update(width=-1), "a4, width: whole millimetres"),
    ("colours/legacy.yaml", lambda d: d["cores"].update(twin=["RD"]), "'twin': needs 2 cores"),
    ("colours/legacy.yaml", lambda d: d.update(line="RED"), "not a letter code of IEC 60757: RED"),
    ("colours/current.yaml", lambda d: d.pop("protective"), "'protective' is missing"),
]


@pytest.mark.parametrize(("file", "change", "says"), WRONG, ids=[says for *_, says in WRONG])
def test_a_wrong_style_file_is_refused_by_name(folder, file, change, says):
    spoil(folder, file, change)
    with pytest.raises(BadStyle) as refused:
        load_style("colour", "a4", folder)
    assert file in str(refused.value) and says in str(refused.value)


def test_broken_yaml_and_unknown_names(folder):
    (folder / "colours" / "legacy.yaml").write_text("name: [", encoding="utf-8")
    with pytest.raises(BadStyle, match=r"colours/legacy\.yaml: cannot be read"):
        load_style("colour", "a4", folder)
    with pytest.raises(BadStyle, match=r"print/sepia\.yaml: there is no such style file\. Known: colour, mono"):
        load_style("sepia")
    with pytest.raises(BadStyle, match="no paper 'a5'"):
        load_style("colour", "a5")


def test_text_is_at_least_as_large_as_promised():
    for style in (load_style("colour"), load_style("mono")):
        assert style.letterings["code"].size >= 6
        for role in ("title", "kind", "terminal", "tag", "lamp", "mark", "mark words", "legend", "legend code"):
            assert style.letterings[role].size >= 7, role


def test_widths_are_those_of_the_font():
    lettering = Lettering(7, "bold")
    points = pdfmetrics.stringWidth("Größe W10", font_name("bold"), 7)
    assert points * PT <= text_width("Größe W10", lettering) < points * PT + 1
    assert text_width("ii", lettering) < text_width("WW", lettering)


def test_the_typeface_has_what_latin_script_users_type():
    letters = "áàâäãåąæçćčďéèêëęěíìîïłñňóòôöõøőœřšśşťúùûüůűýÿžźżðþß€£°Ω²×–’"
    for face in ("regular", "bold"):
        assert [c for c in letters + letters.upper() if not has_glyph(c, face) and len(c) == 1] == []
