"""What helps while the coach types: drop-downs, lists that grow, marks on what is wrong, header notes.

They warn and never forbid: pasting goes round every one of them, and the check reads each cell again. The
formulas keep to functions that Excel 2010 and LibreOffice share; a mark refers to other sheets through names.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from compiler.cellref import column_letters
from compiler.render.template_columns import PlacedColumn
from compiler.schema.column import Column, SheetSpec
from compiler.schema.kinds import (
    DATE,
    DATES,
    DONE_AS,
    EFFORT_LIMIT,
    LOAD,
    LOG,
    NAMES,
    PERCENT,
    REPS,
    REST,
    RESULT,
    SETS,
    TEMPO,
    YEAR_OR_DATE,
    YES_NO,
)

FIRST_ROW, LAST_ROW = 2, 5000
"""The rows that drop-downs and marks cover."""

LONGEST_INLINE_LIST = 255  # a limit of the file format
LONGEST_TITLE = 32  # another
LONGEST_EXAMPLE = 120
_NOTE_LINE, _NOTE_WIDTH, _NOTE_LINE_HEIGHT = 42, 290, 19

_SURELY_A_DATE = 20000
"""A number so high in a cell for sets, repetitions, loads or rests is a day: this one is in 1954.

Its number format would tell, too, but CELL("format") says "D" for few of the date formats in LibreOffice.
"""
_KEEPS_DATES = (DATE, DATES, YEAR_OR_DATE)
_NO_PARTS_OF_ONE = (SETS, REPS, REST, TEMPO, DONE_AS, RESULT, LOG)
"""Kinds of which a number under 1 is never one: it is a time of day, 0.0625 for 1:30."""

_BARE_NUMBER_MEANS_TWO_THINGS = (LOAD, PERCENT, EFFORT_LIMIT)


def list_name(sheet: str) -> str:
    """Return the defined name of the names on a sheet: Exercises_list."""
    return f"{sheet.replace(' ', '_')}_list"


def column_name(sheet: str) -> str:
    """Return the defined name of all the cells that may hold a name of a sheet: Exercises_column."""
    return f"{sheet.replace(' ', '_')}_column"


def quoted(sheet: str) -> str:
    """Return a sheet's name as formulas write it."""
    return "'{}'".format(sheet.replace("'", "''"))


def entry_range(sheet: str, column: int) -> str:
    """Return all the entry cells of a column, as a formula writes them."""
    letters = column_letters(column)
    return f"{quoted(sheet)}!${letters}${FIRST_ROW}:${letters}${LAST_ROW}"


def growing_list(sheet: str, column: int, first: int = FIRST_ROW, last: int = LAST_ROW) -> str:
    """Return a formula for a column down to its last cell that is not empty; blank rows do not end it."""
    letters = column_letters(column)
    start = f"{quoted(sheet)}!${letters}${first}"
    whole = f"{start}:${letters}${last}"
    return f'={start}:INDEX({whole},MAX(1,SUMPRODUCT(MAX(({whole}<>"")*(ROW({whole})-{first - 1})))))'


def drop_down(column: Column) -> dict[str, Any] | None:
    """Return what a cell of a column offers: its closed list, the names of another sheet, or what to mind.

    None where there is nothing to offer.
    """
    kind = column.kind
    if kind.choices and len(",".join(kind.choices)) <= LONGEST_INLINE_LIST:
        expected = "This list: " + ", ".join(kind.choices)
        source: Any = list(kind.choices)
    elif kind.names_of:
        expected = f"A name that stands on the {kind.names_of} sheet."
        source = f"={list_name(kind.names_of)}"
    elif column.prompt:
        return {"validate": "any", "input_title": column.header[:LONGEST_TITLE], "input_message": column.prompt}
    else:
        return None
    several = replace(kind, names_of=None) == NAMES
    return {
        "validate": "list",
        "source": source,
        "error_type": "warning",
        "error_title": "Not on the list",
        "error_message": expected[:255],
        "show_error": not several,
    }


def marks(placed: PlacedColumn, columns: tuple[PlacedColumn, ...], *, unique: bool) -> tuple[list[str], list[str]]:
    """Return formulas for the first entry cell of a column: when it is wanted, and when it is plainly wrong.

    `unique`: the column holds the names that other sheets use, each once.
    """
    column = placed.column
    if column is None:
        return [], []
    cell = f"{column_letters(placed.at)}{FIRST_ROW}"
    wanted = []
    if column.required:
        row = f"$A{FIRST_ROW}:${column_letters(columns[-1].at)}{FIRST_ROW}"
        wanted.append(f'=AND({cell}="",COUNTA({row})>0)')
    wrong = wrong_when(column, cell)
    if unique:
        letters = column_letters(placed.at)
        everything = f"${letters}${FIRST_ROW}:${letters}${LAST_ROW}"
        alike = f"SUMPRODUCT(--(TRIM({everything})=TRIM({cell})))>1"
        wrong.append(f'=IF({cell}="",FALSE,{alike})')
    return wanted, wrong


def wrong_when(column: Column, cell: str) -> list[str]:
    """Return the formulas that are true where a cell of this column is plainly wrong."""
    kind = column.kind
    found = []
    if kind.choices and kind != YES_NO:  # yes and no have more spellings than their list
        known = ",".join(f'TRIM(SUBSTITUTE({cell},"-"," "))="{word.replace("-", " ")}"' for word in kind.choices)
        found.append(f'=AND({cell}<>"",NOT(OR({known})))')
    if kind.names_of and replace(kind, names_of=None) != NAMES:
        names = column_name(kind.names_of)
        absent = f"SUMPRODUCT(--(TRIM({names})=TRIM({cell})))=0"
        there = f"ISNUMBER(MATCH({cell},{names},0))"  # a look-up takes a tenth of the time of trimming
        found.append(f'=IF({cell}="",FALSE,IF({there},FALSE,AND(COUNTA({names})>0,{absent})))')
    if kind in _BARE_NUMBER_MEANS_TWO_THINGS:
        found.append(_bare_number(cell))
    if kind == SETS:
        after_at = f'TRIM(MID({cell},FIND("@",{cell})+1,99))'
        found.append(f'=IFERROR(AND(ISNUMBER(VALUE({after_at})),ISERROR(FIND("%",{cell}))),FALSE)')
    if kind.as_text and kind not in _KEEPS_DATES:
        found.append(f"=AND(ISNUMBER({cell}),{cell}>={_SURELY_A_DATE})")
    if kind in _NO_PARTS_OF_ONE:
        found.append(f"=AND(ISNUMBER({cell}),{cell}>0,{cell}<1)")
    return found


def _bare_number(cell: str) -> str:
    """Return when a cell holds a number with neither unit nor percent sign, in text or number format."""
    as_text = f'AND(ISTEXT({cell}),ISNUMBER(VALUE({cell})),ISERROR(FIND("%",{cell})))'
    as_number = f'AND(ISNUMBER({cell}),LEFT(CELL("format",{cell}),1)<>"P")'
    return f"=OR(IFERROR({as_text},FALSE),{as_number})"


def note(column: Column) -> str:
    """Return the note on a header: what the column is, an example, what a blank means."""
    lines = [spoken(column.help), f"Example: {short_example(column)}"]
    if column.required:
        lines.append("Every row needs it.")
    return "\n".join(lines)


def spoken(text: str) -> str:
    """Return a text of the declaration as a cell shows it: words to type stand in quotation marks."""
    return text.replace("`", '"')


def short_example(column: Column) -> str:
    """Return the example of a column as a note shows it: its first line, cut where it is very long."""
    first = column.example.split("\n", 1)[0]
    return first if len(first) <= LONGEST_EXAMPLE else first[: LONGEST_EXAMPLE - 1] + "…"


def note_size(text: str) -> dict[str, Any]:
    """Return the size of a note that shows its whole text, in pixels."""
    lines = sum(1 + len(line) // _NOTE_LINE for line in text.split("\n"))
    return {
        "width": _NOTE_WIDTH,
        "height": _NOTE_LINE_HEIGHT * (lines + 1),
        "font_size": 10,
        "color": "#FFFFFF",
    }


def unique_column(spec: SheetSpec) -> Column | None:
    """Return the column whose names other sheets use, each standing once; None where a sheet has none."""
    first = spec.columns[0]
    return first if first.key == "name" and not spec.settings else None
