"""The declaration of the sheets and the examples of the grammars -> the field reference, as Markdown.

Nothing is told here that the declaration does not say; the forms of the cells are those that the tests read.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from compiler.notation.languages import LANGUAGES, Language
from compiler.render.template_rules import short_example
from compiler.schema.column import Column, SheetSpec
from compiler.schema.kinds import NAME, Kind
from compiler.schema.sheets import FORMAT_VERSION, SHEETS

_LANGUAGE_NAMES = frozenset(language.name for language in LANGUAGES)

_INTRODUCTION = f"""\
# Field reference

Every sheet, column and cell form of the block workbook (format {FORMAT_VERSION}). This page is generated from
the declaration that the tool reads workbooks with.

One header row a sheet, in the first ten rows. Case, spaces, line breaks and punctuation of a header do not
count. Sheets and columns of your own are left alone. Spaces, case, `x` or `×` and any dash do not matter in a
cell. A percentage is one only where a `%` stands.
"""


def render_field_reference() -> str:
    """Return the whole page."""
    parts = [
        _INTRODUCTION,
        _contents(),
        *map(_sheet, SHEETS),
        "## What a cell may say\n",
        *map(_form, LANGUAGES),
    ]
    return "\n".join(parts)


def _contents() -> str:
    lines = [f"- [{spec.name}](#{_anchor(spec.name)})" for spec in SHEETS]
    return "\n".join([*lines, "- [What a cell may say](#what-a-cell-may-say)", ""])


def _sheet(spec: SheetSpec) -> str:
    lines = [f"## {spec.name}", "", _sentence(spec), ""]
    if spec.settings:
        lines += _table(("Setting", "What it does", "Blank", "Example", "Written as"), map(_setting, spec.columns))
    else:
        lines += _table(("Column", "", "What it is", "Example", "Written as"), map(_column, spec.columns))
    if spec.weekly:
        lines += ["", "For every week of the block, here for week 1:", ""]
        lines += _table(("Column", "", "What it is", "Example", "Written as"), map(_column, spec.weekly))
    return "\n".join([*lines, ""])


def _sentence(spec: SheetSpec) -> str:
    return f"{spec.help} The sheet may be left out." if spec.optional else spec.help


def _setting(column: Column) -> tuple[str, ...]:
    default = "" if column.default is None else _first_line(column.default)
    return column.header, column.help, default, _code(short_example(column)), _written_as(column.kind)


def _column(column: Column) -> tuple[str, ...]:
    need = "needed" if column.required else "may be left out" if column.optional else "may be blank"
    header = column.header.format(week=1)
    also = [_code(alias.format(week=1)) for alias in column.aliases]
    name = f"{header} (or {', '.join(also)})" if also else header
    return name, need, column.help, _code(short_example(column)), _written_as(column.kind)


def _written_as(kind: Kind[Any]) -> str:
    if kind.name in _LANGUAGE_NAMES:
        return f"[{kind.name}](#{_anchor(kind.name)})"
    if not kind.names_of:
        return kind.says
    named = f"A name of the {kind.names_of} sheet"
    return f"{named}." if replace(kind, names_of=None) == NAME else f"{named}, or several with commas between."


def _form(language: Language) -> str:
    written = " · ".join(dict.fromkeys(_code(text) for text, _ in language.examples))
    says = _says(language)
    return "\n\n".join([f"### {language.name}", *([says] if says else []), f"{written}\n"])


def _says(language: Language) -> str:
    """Return the line of the kind that has this language's name; empty where no sheet has such a kind yet."""
    columns = (column for spec in SHEETS for column in (*spec.columns, *spec.weekly))
    return next((column.kind.says for column in columns if column.kind.name == language.name), "")


def _table(headers: tuple[str, ...], rows: Iterable[tuple[str, ...]]) -> list[str]:
    ruled = [headers, tuple("---" for _ in headers), *rows]
    return ["| " + " | ".join(cell.replace("|", "\\|") for cell in row) + " |" for row in ruled]


def _code(text: str) -> str:
    fence = "``" if "`" in text else "`"
    return f"{fence}{text}{fence}" if text.strip() else "(blank)"


def _first_line(text: str) -> str:
    first, _, more = text.partition("\n")
    return f"{first} …" if more else first


def _anchor(title: str) -> str:
    return title.lower().replace(" ", "-")
