"""Facts about a PDF file, read with pikepdf and pypdfium2."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO

import pikepdf
import pypdfium2

COLOUR_OPERATORS = {"g", "G", "rg", "RG", "k", "K", "cs", "CS", "sc", "SC", "scn", "SCN", "sh", "Do"}


@dataclass(frozen=True)
class Word:
    """A word on a page as a viewer places it; points from the lower left corner."""

    page: int
    text: str
    left: float
    low: float
    right: float
    high: float


def opened(data: bytes) -> pikepdf.Pdf:
    return pikepdf.open(BytesIO(data))


def page_texts(data: bytes) -> list[str]:
    """Return the text of each page as a viewer copies it, on one line."""
    document = pypdfium2.PdfDocument(data)
    texts = [" ".join(page.get_textpage().get_text_range().split()) for page in document]
    document.close()
    return texts


def words(data: bytes) -> Iterator[Word]:
    """Yield the words of a file with the box round the ink of their letters."""
    document = pypdfium2.PdfDocument(data)
    for number, page in enumerate(document, start=1):
        text_page = page.get_textpage()
        text = text_page.get_text_range()
        boxes: list[tuple[float, float, float, float]] = []
        letters = ""
        for index in range(text_page.count_chars()):
            letter = text[index] if index < len(text) else " "
            if letter.isspace():
                if boxes:
                    yield _word(number, letters, boxes)
                boxes, letters = [], ""
                continue
            boxes.append(text_page.get_charbox(index))
            letters += letter
        if boxes:
            yield _word(number, letters, boxes)
    document.close()


def _word(number: int, letters: str, boxes: list[tuple[float, float, float, float]]) -> Word:
    left, low = min(box[0] for box in boxes), min(box[1] for box in boxes)
    right, high = max(box[2] for box in boxes), max(box[3] for box in boxes)
    return Word(number, letters, left, low, right, high)


def colours(pdf: pikepdf.Pdf) -> set[tuple[str, tuple[float, ...]]]:
    """Return every colour operator of the pages with its operands."""
    found = set()
    for page in pdf.pages:
        for instruction in pikepdf.parse_content_stream(page):
            operator = str(instruction.operator)
            if operator in COLOUR_OPERATORS:
                found.add((operator, tuple(float(operand) for operand in instruction.operands)))
    return found


def fonts(pdf: pikepdf.Pdf) -> dict[str, pikepdf.Object]:
    """Return the fonts of the pages by their names."""
    found = {}
    for page in pdf.pages:
        for font in page.Resources.Font.values():
            found[str(font.BaseFont)] = font
    return found


def shown_codes(pdf: pikepdf.Pdf) -> Iterator[tuple[str, int]]:
    """Yield every glyph code that a page shows, with the name of its font."""
    for page in pdf.pages:
        names = {str(key): str(font.BaseFont) for key, font in page.Resources.Font.items()}
        name = ""
        for instruction in pikepdf.parse_content_stream(page):
            operator = str(instruction.operator)
            if operator == "Tf":
                name = names[str(instruction.operands[0])]
            elif operator == "Tj":
                for code in bytes(instruction.operands[0]):
                    yield name, code
