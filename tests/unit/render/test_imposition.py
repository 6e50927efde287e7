"""Sheets laid out for folding. What holds is what paper does: the tests fold the sheets and leaf through them."""

from __future__ import annotations

from io import BytesIO

import pikepdf
import pypdfium2
import pytest
from reportlab.pdfgen.canvas import Canvas

from compiler.render.imposition import Side, Stretch, impose, saddle_sides, shift
from tests.unit.render.pdf_facts import opened

MM = 72 / 25.4
A4_LYING = (297 * MM, 210 * MM)
LETTER_LYING = (11 * 72, 8.5 * 72)


def folded(sides: list[tuple[str, str]]) -> list[str]:
    """Return the pages of a stapled booklet in reading order.

    Sheets lie on each other, fronts down, the first outermost; each is turned over the short edge, so that behind
    the left half of a front stands the right half of its back. Folded in the middle and leafed through from the
    outside, the right half of a front is read first, then what is behind it.
    """
    fronts, backs = sides[::2], sides[1::2]
    first_half = [page for front, back in zip(fronts, backs, strict=True) for page in (front[1], back[0])]
    second_half = [page for front, back in zip(fronts, backs, strict=True) for page in (front[0], back[1])]
    return first_half + second_half[::-1]


def half_pages(count: int, sheet: tuple[float, float]) -> bytes:
    """Return a file of half pages, each with its number in its middle."""
    out = BytesIO()
    canvas = Canvas(out, pagesize=(sheet[0] / 2, sheet[1]), invariant=1)
    canvas.setTitle("Numbered pages")
    for number in range(1, count + 1):
        canvas.drawCentredString(sheet[0] / 4, sheet[1] / 2, f"page {number}")
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def halves(data: bytes) -> list[tuple[str, str]]:
    """Return what stands on the left and on the right half of each side, as a viewer finds it."""
    found = []
    for page in pypdfium2.PdfDocument(data):
        wide, high = page.get_size()
        text = page.get_textpage()
        left, right = (
            text.get_text_bounded(start, 0, start + wide / 2, high).strip() for start in (0, wide / 2)
        )
        found.append((left, right))
    return found


@pytest.mark.parametrize("count", range(1, 49))
def test_folds_back_into_reading_order(count: int) -> None:
    """Blanks stand before the last page, which is the outside back; every page is there once."""
    sides = [(str(side.left), str(side.right)) for side in saddle_sides(count)]
    blanks = ["None"] * (-count % 4)
    assert folded(sides) == [*map(str, range(1, count)), *blanks, str(count)]


def test_sides_by_hand() -> None:
    """Eight pages on two sheets: 8 and 1, behind them 2 and 7; then 6 and 3, behind them 4 and 5."""
    assert saddle_sides(8) == (Side(8, 1), Side(2, 7), Side(6, 3), Side(4, 5))
    assert saddle_sides(6) == (Side(6, 1), Side(2, None), Side(None, 3), Side(4, 5))


@pytest.mark.parametrize("sheet", [A4_LYING, LETTER_LYING], ids=["A4", "Letter"])
@pytest.mark.parametrize("count", [12, 15, 22, 28, 48])
def test_file_folds_back(count: int, sheet: tuple[float, float]) -> None:
    """The file, read by another program, half by half."""
    data = impose(half_pages(count, sheet), sheet)
    blanks = [""] * (-count % 4)
    pages = [f"page {number}" for number in range(1, count + 1)]
    assert folded(halves(data)) == [*pages[:-1], *blanks, pages[-1]]
    pdf = opened(data)
    assert pdf.check_pdf_syntax() == []  # the library behind qpdf --check
    box = [float(edge) for edge in pdf.pages[0].MediaBox.as_list()]
    assert box == pytest.approx([0, 0, *sheet], abs=0.01)


def test_pages_keep_their_size() -> None:
    """A page's middle is in the middle of its half: nothing is scaled or moved."""
    [side, _] = saddle_sides(4)[:2]
    data = impose(half_pages(4, A4_LYING), A4_LYING)
    page = pypdfium2.PdfDocument(data)[0]
    text = page.get_textpage()
    boxes = [text.get_charbox(index) for index in range(text.count_chars())]
    left = [box for box in boxes if box[2] < A4_LYING[0] / 2]
    right = [box for box in boxes if box[0] > A4_LYING[0] / 2]
    assert (side.left, side.right) == (4, 1)
    for found, middle in ((left, A4_LYING[0] / 4), (right, A4_LYING[0] * 3 / 4)):
        centre = (min(box[0] for box in found) + max(box[2] for box in found)) / 2
        assert centre == pytest.approx(middle, abs=1)
        assert max(box[3] - box[1] for box in found) == pytest.approx(
            _highest_letter(half_pages(1, A4_LYING)), abs=0.1
        )


def middles(data: bytes, side: int) -> tuple[float, float]:
    """Return the middle of what stands on the left and on the right half of a side, in points."""
    text = pypdfium2.PdfDocument(data)[side].get_textpage()
    boxes = [text.get_charbox(index) for index in range(text.count_chars())]
    fold = A4_LYING[0] / 2
    halves = ([box for box in boxes if box[2] < fold], [box for box in boxes if box[0] > fold])
    left, right = ((min(box[0] for box in half) + max(box[2] for box in half)) / 2 for half in halves)
    return left, right


@pytest.mark.parametrize(("count", "moved"), [(28, 0.0), (32, 7 * 0.12), (48, 11 * 0.12)])
def test_inner_pages_move_towards_the_fold(count: int, moved: float) -> None:
    """By the thickness of the sheets round them, 0.12 mm each (0.1 to 0.15 for 80 g/m²), if there are more than seven.

    An inner sheet stands out by what lies round it, so that an untrimmed margin looks wider there by as much.
    """
    data = impose(half_pages(count, A4_LYING), A4_LYING)
    for side, by in ((0, 0.0), (count // 2 - 2, moved)):
        left, right = middles(data, side)
        assert left == pytest.approx(A4_LYING[0] / 4 + by * MM, abs=1)
        assert right == pytest.approx(A4_LYING[0] * 3 / 4 - by * MM, abs=1)
    assert shift(count, count // 4 - 1) / MM == pytest.approx(moved)


def _highest_letter(data: bytes) -> float:
    text = pypdfium2.PdfDocument(data)[0].get_textpage()
    boxes = [text.get_charbox(index) for index in range(text.count_chars())]
    return max(box[3] - box[1] for box in boxes)


def test_booklets_of_a_run_are_folded_apart() -> None:
    """Each starts on a sheet of its own; blank pages between them in the file are left out."""
    stretches = (Stretch(1, 5, "Imogen Thackray"), Stretch(7, 4, "Rufus Pemberly"))
    data = impose(half_pages(10, A4_LYING), A4_LYING, stretches)
    sides = halves(data)
    assert len(sides) == 4 + 2
    assert folded(sides[:4]) == [*(f"page {number}" for number in range(1, 5)), "", "", "", "page 5"]
    assert folded(sides[4:]) == [f"page {number}" for number in range(7, 11)]
    pdf = opened(data)
    numbers = {page.obj.objgen: number for number, page in enumerate(pdf.pages)}
    with pdf.open_outline() as outline:
        marks = [(item.title, numbers[item.destination[0].objgen]) for item in outline.root]
    assert marks == [("Imogen Thackray", 0), ("Rufus Pemberly", 4)]


def test_file_says_how_it_is_printed() -> None:
    """Over the short edge, without scaling; untagged, because the order on the sheets is nobody's reading order."""
    pdf = opened(impose(half_pages(4, A4_LYING), A4_LYING))
    preferences = pdf.Root.ViewerPreferences
    assert str(preferences.Duplex) == "/DuplexFlipShortEdge"
    assert str(preferences.PrintScaling) == "/None"
    assert str(pdf.docinfo["/Title"]) == "Numbered pages"
    assert "/StructTreeRoot" not in pdf.Root


def test_fonts_are_shared_by_all_sides() -> None:
    """The one font of the source is there once, however many pages use it."""
    pdf = opened(impose(half_pages(12, A4_LYING), A4_LYING))
    fonts = [
        item for item in pdf.objects if isinstance(item, pikepdf.Dictionary) and item.get("/Type") == "/Font"
    ]
    assert len(fonts) == 1


def test_the_same_bytes_twice() -> None:
    source = half_pages(15, A4_LYING)
    assert impose(source, A4_LYING) == impose(source, A4_LYING)


def test_a_page_that_is_no_half_is_refused() -> None:
    """Nothing is scaled to fit."""
    with pytest.raises(ValueError, match="no half of the sheet"):
        impose(half_pages(4, LETTER_LYING), A4_LYING)
