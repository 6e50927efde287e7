"""A sheet of texts under headings -> the part of a workbook that holds it, for sheets added to a coach's workbook."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from textwrap import wrap

from compiler.cellref import column_letters
from compiler.render.sheet_edits import cell_markup

LINE_HEIGHT = 15
TALLEST = 400


def plain_sheet(
    space: str,
    headings: Sequence[tuple[str, int]],
    rows: Sequence[Sequence[str]],
    styles: Mapping[str, int],
    title: str = "",
    frozen: int = 0,
    *,
    front: bool = False,
) -> bytes:
    """Return the part, in a namespace. Headings have a width in letters; a title stands in a row over them.

    `front`: the sheet that the workbook opens on.
    """
    head = 3 if title else 1
    parts = []
    if title:
        parts.append(row_markup(1, 20, _cells(1, [title], str(styles["said"]))))
    parts.append(row_markup(head, 20, _cells(head, [text for text, _ in headings], str(styles["head"]))))
    for number, row in enumerate(rows, head + 1):
        lines = max(len(wrap(text, width - 3)) or 1 for text, (_, width) in zip(row, headings, strict=True))
        parts.append(row_markup(number, LINE_HEIGHT * lines + 4, _cells(number, row, str(styles["text"]))))
    columns = "".join(
        f'<col min="{n}" max="{n}" width="{width}" customWidth="1"/>' for n, (_, width) in enumerate(headings, 1)
    )
    last = f"{column_letters(len(headings))}{head + max(1, len(rows))}"
    selected = ' tabSelected="1"' if front else ""
    split = f' xSplit="{frozen}"' if frozen else ""
    corner = f"{column_letters(frozen + 1)}{head + 1}"
    pane = "bottomRight" if frozen else "bottomLeft"
    return (
        f'<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n<worksheet xmlns="{space}">'
        '<sheetPr><pageSetUpPr fitToPage="1"/></sheetPr>'
        f'<sheetViews><sheetView showGridLines="0"{selected} workbookViewId="0">'
        f'<pane{split} ySplit="{head}" topLeftCell="{corner}" activePane="{pane}" state="frozen"/>'
        f'<selection pane="{pane}" activeCell="{corner}" sqref="{corner}"/></sheetView></sheetViews>'
        f'<sheetFormatPr defaultRowHeight="{LINE_HEIGHT}"/><cols>{columns}</cols>'
        f"<sheetData>{''.join(parts)}</sheetData>"
        f'<autoFilter ref="A{head}:{last}"/>'
        '<pageMargins left="0.4" right="0.4" top="0.6" bottom="0.6" header="0.3" footer="0.3"/>'
        '<pageSetup orientation="landscape" fitToHeight="0"/>'
        "<headerFooter><oddFooter>&amp;L&amp;A&amp;RPage &amp;P of &amp;N</oddFooter></headerFooter></worksheet>"
    ).encode()


def _cells(row: int, texts: Sequence[str], look: str) -> str:
    return "".join(cell_markup(row, column, text, look).decode() for column, text in enumerate(texts, 1))


def row_markup(number: int, height: int, cells: str) -> str:
    """Return a row as the file stores it; its height in points goes no further than programs allow."""
    return f'<row r="{number}" ht="{min(height, TALLEST)}" customHeight="1">{cells}</row>'
