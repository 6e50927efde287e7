"""The Block sheet of the template: one row a setting, the defaults named beside it."""

from __future__ import annotations

from xlsxwriter.worksheet import Worksheet

from compiler.cellref import CellRef
from compiler.folding import header_key
from compiler.render.formats import Formats
from compiler.render.template_cells import write_cell, write_text
from compiler.render.template_columns import Filling
from compiler.render.template_formats import (
    BODY,
    HEADER_HEIGHT,
    HEADER_NEEDED,
    HEADER_OPTIONAL,
    QUIET,
    RULED,
    WRONG,
    entry,
    height_of,
)
from compiler.render.template_rules import drop_down, note, note_size, spoken, wrong_when
from compiler.schema.column import Column, SheetSpec
from compiler.schema.kinds import LONG_TEXT
from compiler.source.cells import CellType, SourceCell

HEADERS = ("Setting", "Value", "What it does")
_HEADER_NOTES = (
    "The name of the setting; leave it as it is.\nExample: Title",
    "Blank: what the next column says after the word Blank counts.\nExample: Winter strength",
    "What the setting is for. Not read: use it for notes if you like.\nExample: Printed on every cover.",
)
_WIDTHS = (30, 46, 74)
_VALUE = 2


def write_block(sheet: Worksheet, formats: Formats, spec: SheetSpec, weeks: int, filling: Filling) -> int:
    """Write the sheet and return how many settings have a value."""
    for column, width in enumerate(_WIDTHS):
        look = {**BODY, "num_format": "@"} if column + 1 == _VALUE else BODY
        sheet.set_column(column, column, width, formats.of(look))
    sheet.hide_gridlines(2)
    for at, (text, says) in enumerate(zip(HEADERS, _HEADER_NOTES, strict=True)):
        sheet.write_string(0, at, text, formats.of(HEADER_NEEDED if at == 0 else HEADER_OPTIONAL))
        sheet.write_comment(0, at, says, note_size(says))
    sheet.set_row(0, HEADER_HEIGHT)
    values, others = _sorted_out(spec, filling)
    values = {**_written_for_the_coach(spec, weeks), **values}
    for row, setting in enumerate(spec.columns, start=2):
        _write_setting(sheet, formats, row, setting, values.get(setting.key))
    for row, cells in enumerate(others, start=len(spec.columns) + 2):
        for at, cell in cells.items():
            write_cell(sheet, formats, (row, at), cell, {**BODY, **RULED})
    return sum(1 for cell in values.values() if not cell.blank)


def has_value(spec: SheetSpec, filling: Filling, key: str) -> bool:
    """Return whether a filling has a value for a setting."""
    values, _ = _sorted_out(spec, filling)
    return key in values and not values[key].blank


def _written_for_the_coach(spec: SheetSpec, weeks: int) -> dict[str, SourceCell]:
    """Return the values of an empty template: its weeks, and the texts that are there to be edited."""
    texts = {c.key: c.default for c in spec.columns if c.kind == LONG_TEXT and c.default}
    place = CellRef(spec.name, 1, _VALUE)
    return {key: SourceCell(place, text, CellType.TEXT) for key, text in {**texts, "weeks": str(weeks)}.items()}


def _sorted_out(spec: SheetSpec, filling: Filling) -> tuple[dict[str, SourceCell], list[dict[int, SourceCell]]]:
    """Return the values by key, and the rows that name no setting or name it a second time, as they are."""
    known = {header_key(name): column.key for column in spec.columns for name in (column.header, *column.aliases)}
    at = {header_key(text): position for position, text in filling.headers.items()}
    name_at = at.get(header_key(HEADERS[0]), 1)
    value_at = at.get(header_key(HEADERS[1]), name_at + 1)
    values: dict[str, SourceCell] = {}
    others: list[dict[int, SourceCell]] = []
    seen: set[str] = set()
    for cells in filling.rows.values():
        name = cells.get(name_at)
        key = known.get(header_key(str(name.value))) if name and not name.blank else None
        if key is None or key in seen:
            others.append(cells)
            continue
        seen.add(key)
        if value_at in cells:
            values[key] = cells[value_at]
    return values, others


def _write_setting(sheet: Worksheet, formats: Formats, row: int, setting: Column, value: SourceCell | None) -> None:
    look = {**entry(setting), **RULED, "text_wrap": True}
    write_text(sheet, formats, (row, 1), setting.header, {**BODY, **RULED, "bold": True, "text_wrap": True})
    if value is None:
        sheet.write_blank(row - 1, _VALUE - 1, None, formats.of(look))
    else:
        write_cell(sheet, formats, (row, _VALUE), value, look)
    write_text(sheet, formats, (row, 3), says(setting), {**BODY, **RULED, "font_color": QUIET, "text_wrap": True})
    shown = str(value.value) if value else ""
    sheet.set_row(row - 1, height_of((says(setting), _WIDTHS[2]), (shown, _WIDTHS[1]), (setting.header, _WIDTHS[0])))
    text = note(setting)
    sheet.write_comment(row - 1, 0, text, note_size(text))
    offered = drop_down(setting)
    if offered:
        sheet.data_validation(row - 1, _VALUE - 1, row - 1, _VALUE - 1, offered)
    for formula in wrong_when(setting, f"B{row}"):
        rule = {"type": "formula", "criteria": formula, "format": formats.of(WRONG)}
        sheet.conditional_format(row - 1, _VALUE - 1, row - 1, _VALUE - 1, rule)


def says(setting: Column) -> str:
    """Return what stands beside a setting: its meaning, its choices, and what a blank is taken for."""
    parts = [spoken(setting.help)]
    if setting.kind.choices:
        parts.append(f"Choices: {', '.join(setting.kind.choices)}.")
    if setting.kind == LONG_TEXT:
        parts.append("The sample stands here until you change it.")
    elif setting.default:
        parts.append(f"Blank: {setting.default}.")
    elif setting.default == "":
        parts.append("Blank: left out.")
    return " ".join(parts)
