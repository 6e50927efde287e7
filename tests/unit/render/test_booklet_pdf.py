"""Facts about the files of booklets: what a printer, a viewer and a screen reader find in them."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pikepdf
import pytest

from compiler.documents.booklet_value import Booklet, Format, Paper
from compiler.layout.booklet import lay_out_booklet
from compiler.layout.page import Stroke
from compiler.render.booklet import render_booklet
from compiler.render.booklet.fonts import first_codes, first_subset
from compiler.render.theme import STROKES
from tests.unit.layout.extremes import BOOKLETS
from tests.unit.layout.formats import A4, HALF_A4, PAIRS, SETTINGS, WEEKS_A4
from tests.unit.layout.sample_booklet import BOOKLET
from tests.unit.render.pdf_facts import colours, fonts, opened, page_texts, shown_codes, words

MM = 72 / 25.4
LETTER = replace(BOOKLET, paper=Paper.LETTER)
CHAPTERS = ["Cover", "How to read a session", *(s.bookmark for s in BOOKLET.sessions), "Progress", "Safety"]
HALF = replace(BOOKLET, format=Format.HALF_PAGE)
DRAWN = (A4, HALF_A4, WEEKS_A4)
EVERY = {
    **{str(setting): setting.of(BOOKLET) for setting in SETTINGS},
    **{
        f"{name} {setting}": setting.of(BOOKLETS[name])
        for name, setting in PAIRS
        if setting in DRAWN and name in BOOKLETS
    },
}


def drawn(booklet: Booklet) -> bytes:
    return render_booklet(lay_out_booklet(booklet))


@pytest.fixture(scope="module")
def sample() -> bytes:
    return drawn(BOOKLET)


@pytest.fixture(scope="module", params=EVERY, ids=lambda name: name.replace(" ", "-"))
def data(request: pytest.FixtureRequest) -> bytes:
    return drawn(EVERY[request.param])


def test_qpdf_finds_nothing_wrong(data: bytes) -> None:
    """The library behind `qpdf --check` reads every object and finds no mistake in the file."""
    assert opened(data).check_pdf_syntax() == []


def test_words_are_inside_the_margins_and_apart(data: bytes) -> None:
    """As a viewer places them: 8 mm from every edge, and no two words share ink."""
    sizes = [[float(edge) for edge in page.MediaBox.as_list()[2:]] for page in opened(data).pages]
    pages: dict[int, list] = {}
    for word in words(data):
        width, height = sizes[word.page - 1]
        assert word.left >= 8 * MM, word
        assert word.right <= width - 8 * MM, word
        assert word.low >= 8 * MM, word
        assert word.high <= height - 8 * MM, word
        pages.setdefault(word.page, []).append(word)
    for found in pages.values():
        found.sort(key=lambda word: word.left)
        for i, word in enumerate(found):
            for other in found[i + 1 :]:
                if other.left > word.right - 0.6:
                    break
                down = min(word.high, other.high) - max(word.low, other.low)
                assert down < 1.2, (word, other)


def test_only_the_bundled_fonts_and_all_embedded(data: bytes) -> None:
    pdf = opened(data)
    names = fonts(pdf)
    assert {name.split("+")[1] for name in names} == {
        "SourceSans3-Regular",
        "SourceSans3-SemiBold",
        "SourceSans3-Bold",
    }
    for font in names.values():
        assert len(font.FontDescriptor.FontFile2.read_bytes()) > 1000
        assert b"beginbfchar" in font.ToUnicode.read_bytes()


def test_black_only(data: bytes) -> None:
    """One setting of black a page in device grey; no tint, no image, no reversed text."""
    assert colours(opened(data)) == {("G", (0.0,)), ("g", (0.0,))}


def test_no_missing_glyph(data: bytes) -> None:
    """Every code that is shown stands for a character of the font."""
    pdf = opened(data)
    known = {
        name: {
            int(line[1:3], 16)
            for line in font.ToUnicode.read_bytes().decode("ascii").splitlines()
            if line.startswith("<") and len(line) == len("<20> <0020>") and not line.startswith("<00> <FF>")
        }
        for name, font in fonts(pdf).items()
    }
    for name, code in set(shown_codes(pdf)):
        assert code, name
        assert code in known[name], (name, code)


def test_tags_agree_with_the_parent_tree(data: bytes) -> None:
    """Every marked piece of a page has one element, and the elements say the same (ISO 32000-1, 14.7.4)."""
    pdf = opened(data)
    root = pdf.Root.StructTreeRoot
    assert bool(pdf.Root.MarkInfo.Marked)
    nums = list(root.ParentTree.Nums)
    entries = dict(zip(map(int, nums[::2]), nums[1::2], strict=True))
    for number, page in enumerate(pdf.pages):
        assert int(page.StructParents) == number
        assert str(page.Tabs) == "/S"
        depth, marks = 0, []
        for instruction in pikepdf.parse_content_stream(page):
            operator = str(instruction.operator)
            if operator in {"BDC", "BMC"}:
                depth += 1
                assert depth == 1
                if operator == "BDC":
                    marks.append((str(instruction.operands[0]), int(instruction.operands[1].MCID)))
            elif operator == "EMC":
                depth -= 1
        assert depth == 0
        elements = list(entries[number])
        assert [mark for _, mark in marks] == list(range(len(elements)))
        for (role, mark), element in zip(marks, elements, strict=True):
            assert str(element.S) == role
            assert int(element.K) == mark
            assert element.Pg.objgen == page.obj.objgen


def test_structure_is_a_tree_in_reading_order(sample: bytes) -> None:
    """Walking down from the root meets every element once, pages in order, a section a session."""
    pdf = opened(sample)
    root = pdf.Root.StructTreeRoot
    marks: list[tuple[int, int]] = []
    sections: list[str] = []

    def walk(element: pikepdf.Object, parent: pikepdf.Object) -> None:
        assert element.P.objgen == parent.objgen
        if str(element.S) == "/Sect":
            sections.append(str(element.T))
        kids = element.K
        if isinstance(kids, pikepdf.Array):
            for kid in kids:
                walk(kid, element)
        else:
            marks.append((element.Pg.objgen[0], int(kids)))

    walk(root.K, root)
    numbers = [page.obj.objgen[0] for page in pdf.pages]
    assert marks == sorted(marks, key=lambda mark: (numbers.index(mark[0]), mark[1]))
    assert sections == CHAPTERS


def test_reading_order_of_an_exercise(sample: bytes) -> None:
    """Words do not run together, and an exercise is read from its label to its cue."""
    page = page_texts(sample)[2]
    assert "Date" in page
    assert "A Trap-bar deadlift from the low handles" in page
    assert "4 × 5 tempo 2-0-1 95 kg 25 + 10 + 2.5 a side" in page


def test_charts_are_told_in_words(sample: bytes) -> None:
    """Every figure has a text that stands for it (ISO 32000-1, 14.9.3)."""
    pdf = opened(sample)
    told = [str(element.Alt) for element in pdf.objects if _is_figure(element)]
    assert BOOKLET.progress is not None
    assert told == [panel.described for panel in BOOKLET.progress.panels]


def _is_figure(element: pikepdf.Object) -> bool:
    return isinstance(element, pikepdf.Dictionary) and element.get("/S") == pikepdf.Name.Figure


def test_file_says_what_it_is(sample: bytes) -> None:
    pdf = opened(sample)
    assert str(pdf.Root.Lang) == "en-GB"
    assert str(pdf.docinfo["/Title"]) == BOOKLET.title
    assert str(pdf.docinfo["/Author"]) == "Maud Ferrier"
    assert str(pdf.docinfo["/Subject"]) == BOOKLET.subject
    preferences = pdf.Root.ViewerPreferences
    assert bool(preferences.DisplayDocTitle)
    assert str(preferences.PrintScaling) == "/None"
    assert str(preferences.Duplex) == "/DuplexFlipLongEdge"
    one_side = opened(drawn(replace(BOOKLET, simplex=True)))
    assert str(one_side.Root.ViewerPreferences.Duplex) == "/Simplex"


def test_bookmarks_and_page_labels(sample: bytes) -> None:
    pdf = opened(sample)
    with pdf.open_outline() as outline:
        titles = [item.title for item in outline.root]
    assert titles == CHAPTERS
    assert pdf.pages[0].label == "IT-1"
    assert pdf.pages[14].label == "IT-15"


@pytest.mark.parametrize(
    ("booklet", "size"),
    [
        (BOOKLET, (210 * MM, 297 * MM)),
        (LETTER, (612, 792)),
        (HALF, (148.5 * MM, 210 * MM)),
        (replace(HALF, paper=Paper.LETTER), (396, 612)),
    ],
    ids=["A4", "Letter", "half-A4", "half-Letter"],
)
def test_paper(booklet: Booklet, size: tuple[float, float]) -> None:
    """A4 is 210 × 297 mm (ISO 216), Letter 8.5 × 11 in."""
    pdf = opened(drawn(booklet))
    box = [float(edge) for edge in pdf.pages[0].MediaBox.as_list()]
    assert box == pytest.approx([0, 0, *size], abs=0.01)


def test_typed_marks_are_printed_as_typed() -> None:
    """Nothing that a coach types is taken for markup, and what the fonts lack never shows as a box."""
    page = page_texts(drawn(BOOKLETS["markup and odd characters"]))[2]
    assert "<b>x & =1+1 </b> \\(paren) %percent" in page
    assert "Nguyễn, Łukasz, Ойлан, Ψαρρός ?? é → ✓ ½" in page


def test_letters_outside_the_alphabet_change_only_their_own_subset() -> None:
    """One client's rare letters leave the fonts of every other client as they were."""
    usual, odd = opened(drawn(BOOKLET)), opened(drawn(BOOKLETS["markup and odd characters"]))
    plain, rare = fonts(usual), fonts(odd)
    assert set(plain) < set(rare)
    for name, font in plain.items():
        assert font.FontDescriptor.FontFile2.read_raw_bytes() == rare[name].FontDescriptor.FontFile2.read_raw_bytes()


def test_more_rare_letters_than_one_subset_holds() -> None:
    """Every letter of the font in one cue: further subsets are opened, each letter is found again."""
    letters = "".join(chr(code) for code in (*range(0x100, 0x180), *range(0x386, 0x3CE), *range(0x401, 0x452)))
    letters = "".join(letter for letter in letters if letter.isalpha())
    cue = " ".join(letters[start : start + 20] for start in range(0, len(letters), 20))
    session = BOOKLETS["one exercise, nothing else"].sessions[0]
    [block] = session.blocks
    changed = replace(session, blocks=(replace(block, rows=(replace(block.rows[0], cue=cue),)),))
    page = page_texts(drawn(replace(BOOKLET, sessions=(changed,), cover=BOOKLETS["no exercise"].cover)))[2]
    assert cue.split()[0] in page
    assert cue.split()[-1] in page


def test_two_builds_are_the_same_bytes(sample: bytes) -> None:
    drawn(BOOKLETS["markup and odd characters"])
    assert drawn(BOOKLET) == sample


def test_another_process_makes_the_same_bytes(sample: bytes, tmp_path: Path) -> None:
    """Neither the order of hashes nor what was drawn before shows in the file."""
    target = tmp_path / "booklet.pdf"
    code = (
        "import sys; from pathlib import Path;"
        "from tests.unit.layout.sample_booklet import BOOKLET;"
        "from compiler.layout.booklet import lay_out_booklet;"
        "from compiler.render.booklet import render_booklet;"
        "Path(sys.argv[1]).write_bytes(render_booklet(lay_out_booklet(BOOKLET)))"
    )
    root = Path(__file__).parents[3]
    environment = {**os.environ, "PYTHONHASHSEED": "7", "PYTHONPATH": str(root)}
    subprocess.run([sys.executable, "-c", code, str(target)], check=True, cwd=root, env=environment)
    assert target.read_bytes() == sample


def test_every_stroke_has_a_width() -> None:
    """No line is thinner than 0.25 pt, which a printer may drop."""
    assert set(STROKES) == set(Stroke)
    assert min(STROKES.values()) >= 0.25


def test_the_alphabet_is_one_subset() -> None:
    """ASCII stands for itself, so that the streams can be read; no code is given twice."""
    codes = first_codes()
    assert len(first_subset()) == 256
    assert len(set(codes.values())) == len(codes)
    assert all(codes[chr(code)] == code for code in range(0x20, 0x7F))
