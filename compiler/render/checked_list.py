"""The Flags sheet of a checked copy: counts on top, then one row a flag, worst first, with a link to its cell.

Every text is stored as text, in the sheet's own part, so that the workbook needs no table of shared texts.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from textwrap import wrap

from compiler.cellref import column_letters
from compiler.flags.model import Flag, Severity
from compiler.flags.text import one_line
from compiler.frozen import frozen
from compiler.render.checked_marks import WORST_FIRST, worst_first
from compiler.render.checked_workbook import Front, front_of
from compiler.render.clean import as_value
from compiler.render.plain_sheet import LINE_HEIGHT, row_markup
from compiler.render.sheet_edits import cell_markup
from compiler.render.template_rules import quoted
from compiler.source.cells import SourceSheet

NAME = "Flags"
TITLE = "Flags in this workbook"
HEADINGS = (
    ("Severity", 13),
    ("Sheet", 15),
    ("Cell", 9),
    ("Client", 19),
    ("Message", 64),
    ("Hint", 50),
    ("Flag", 30),
)
"""Header and width, in letters, of each column."""

_OUR_NAME = re.compile(rf"{NAME}(?: \d+)?", re.IGNORECASE)
_LINKED = (2, 3)  # Sheet and Cell
_COUNTED = {Severity.ERROR: "Errors", Severity.WARNING: "Warnings", Severity.NOTE: "Notes"}
_HOW = (
    "Worst first. Sheet and Cell jump to the place, where a comment says the same. "
    "The next checked copy makes this sheet and all marks anew; everything else is as it was."
)
_NO_MACROS = "The macros of the workbook are not in this copy."
_COUNT_ROW, _HOW_ROW, _HEADER_ROW = 2, 5, 7
_MOST_LINKS = 60_000
"""Programs refuse sheets with more than 65,530."""


def may_be_ours(name: str) -> bool:
    """Tell by its name whether a sheet may be the Flags sheet of an earlier checked copy."""
    return _OUR_NAME.fullmatch(name) is not None


def is_ours(sheet: SourceSheet) -> bool:
    """Tell by its words whether a sheet is the Flags sheet of an earlier checked copy."""
    title = sheet.cells.get((1, 1))
    headings = [sheet.cells.get((_HEADER_ROW, column)) for column in range(1, len(HEADINGS) + 1)]
    told = [heading.value if heading else None for heading in headings]
    return title is not None and title.value == TITLE and told == [heading for heading, _ in HEADINGS]


def free_sheet_name(taken: Sequence[str]) -> str:
    """Return the name of the Flags sheet: another where the coach has a sheet of that name."""
    folded = {name.casefold() for name in taken}
    number = 2
    name = NAME
    while name.casefold() in folded:
        name, number = f"{NAME} {number}", number + 1
    return name


def flags_front(name: str, relation: str, flags: int) -> Front:
    """Return the Flags sheet as the one that goes in front."""
    return front_of(name, relation, _HEADER_ROW, len(HEADINGS), flags)


@frozen
class FlagsSheet:
    """What the Flags sheet shows: all flags; `styles` by the name of a look."""

    flags: tuple[Flag, ...]
    styles: Mapping[str, int]
    lost_macros: bool
    find_sheet: Callable[[str], str | None]  # the sheet's name in the workbook, None where there is none

    def markup(self, space: str) -> bytes:
        """Return the sheet's part, in a namespace."""
        flags = worst_first(self.flags)
        end = _HEADER_ROW + max(1, len(flags))
        last = column_letters(len(HEADINGS))
        columns = "".join(
            f'<col min="{n}" max="{n}" width="{width}" customWidth="1"/>' for n, (_, width) in enumerate(HEADINGS, 1)
        )
        first = _HEADER_ROW + 1
        links = self._links(flags)
        return (
            f'<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n<worksheet xmlns="{space}">'
            '<sheetPr><pageSetUpPr fitToPage="1"/></sheetPr>'
            f'<dimension ref="A1:{last}{end}"/>'
            '<sheetViews><sheetView showGridLines="0" tabSelected="1" workbookViewId="0">'
            f'<pane ySplit="{_HEADER_ROW}" topLeftCell="A{first}" activePane="bottomLeft" state="frozen"/>'
            f'<selection pane="bottomLeft" activeCell="A{first}" sqref="A{first}"/></sheetView></sheetViews>'
            f'<sheetFormatPr defaultRowHeight="{LINE_HEIGHT}"/><cols>{columns}</cols>'
            f"<sheetData>{self._top(flags)}{self._rows(flags)}</sheetData>"
            f'<autoFilter ref="A{_HEADER_ROW}:{last}{end}"/>'
            f"{links}"
            '<pageMargins left="0.4" right="0.4" top="0.6" bottom="0.6" header="0.3" footer="0.3"/>'
            '<pageSetup orientation="landscape" fitToHeight="0"/>'
            "<headerFooter><oddFooter>&amp;L&amp;A&amp;RPage &amp;P of &amp;N</oddFooter></headerFooter></worksheet>"
        ).encode()

    def _top(self, flags: Sequence[Flag]) -> str:
        counts = Counter(flag.severity for flag in flags)
        rows = [row_markup(1, 24, self._cell(1, 1, TITLE, "title"))]
        for number, severity in enumerate(WORST_FIRST, _COUNT_ROW):
            count = f'<c r="B{number}" s="{self.styles["count"]}"><v>{counts[severity]}</v></c>'
            rows.append(row_markup(number, 18, self._cell(number, 1, _COUNTED[severity], str(severity)) + count))
        said = f"{_HOW} {_NO_MACROS}" if self.lost_macros else _HOW
        rows.append(row_markup(_HOW_ROW, 18, self._cell(_HOW_ROW, 1, said, "said")))
        headings = enumerate(HEADINGS, 1)
        cells = "".join(self._cell(_HEADER_ROW, column, heading, "head") for column, (heading, _) in headings)
        rows.append(row_markup(_HEADER_ROW, 20, cells))
        return "".join(rows)

    def _rows(self, flags: Sequence[Flag]) -> str:
        if not flags:
            return row_markup(_HEADER_ROW + 1, 18, self._cell(_HEADER_ROW + 1, 1, "Nothing was flagged.", "said"))
        return "".join(self._flag(number, flag) for number, flag in enumerate(flags, _HEADER_ROW + 1))

    def _flag(self, row: int, flag: Flag) -> str:
        texts = (
            str(flag.severity),
            flag.sheet_name or "",
            flag.cell or "",
            flag.client or "",
            one_line(flag.message),
            one_line(flag.hint or ""),
            flag.slug,
        )
        looks = [str(flag.severity), *["text"] * 6]
        if self._target(flag):
            looks[1], looks[2] = "link", "link" if flag.cell else "text"
        lines = max(len(wrap(text, width - 3)) or 1 for text, (_, width) in zip(texts, HEADINGS, strict=True))
        cells = (self._cell(row, n, *pair) for n, pair in enumerate(zip(texts, looks, strict=True), 1))
        return row_markup(row, LINE_HEIGHT * lines + 4, "".join(cells))

    def _cell(self, row: int, column: int, text: str, look: str) -> str:
        return cell_markup(row, column, text, str(self.styles[look])).decode()

    def _target(self, flag: Flag) -> str | None:
        """Return where a flag's row jumps to: its cell, or the start of its sheet."""
        sheet = self.find_sheet(flag.sheet_name) if flag.sheet_name else None
        return f"{quoted(sheet)}!{flag.cell or 'A1'}" if sheet else None

    def _links(self, flags: Sequence[Flag]) -> str:
        made = []
        for row, flag in enumerate(flags, _HEADER_ROW + 1):
            target = self._target(flag)
            if target:
                columns = _LINKED if flag.cell else _LINKED[:1]
                made += [
                    f"<hyperlink ref={as_value(column_letters(c) + str(row))} location={as_value(target)}/>"
                    for c in columns
                ]
        return f"<hyperlinks>{''.join(made[:_MOST_LINKS])}</hyperlinks>" if made else ""
