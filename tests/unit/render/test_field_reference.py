"""The field reference tells every sheet, column and form, and nothing else."""

from __future__ import annotations

import re

from compiler.notation.languages import LANGUAGES
from compiler.render.field_reference import render_field_reference
from compiler.schema.sheets import SHEETS


def test_every_sheet_and_column_is_there() -> None:
    page = render_field_reference()
    for spec in SHEETS:
        part = page.split(f"\n## {spec.name}\n")[1].split("\n## ")[0]
        for column in (*spec.columns, *spec.weekly):
            assert f"| {column.header.format(week=1)}" in part
            assert column.help in part


def test_every_form_of_every_grammar_is_there() -> None:
    page = render_field_reference()
    for language in LANGUAGES:
        part = page.split(f"\n### {language.name}\n")[1].split("\n### ")[0]
        for text, _ in language.examples:
            assert text in part


def test_every_link_leads_somewhere() -> None:
    page = render_field_reference()
    titles = {title.lower().replace(" ", "-") for title in re.findall(r"^#+ (.+)$", page, re.MULTILINE)}
    assert set(re.findall(r"\]\(#([^)]+)\)", page)) <= titles


def test_tables_have_as_many_cells_in_every_row() -> None:
    for table in re.findall(r"(?:^\|.*\|\n)+", render_field_reference(), re.MULTILINE):
        widths = {len(re.findall(r"(?<!\\)\|", line)) for line in table.splitlines()}
        assert len(widths) == 1
