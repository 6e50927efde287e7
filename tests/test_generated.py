"""Files in the repository that the program writes: each must be what the code gives now.

`pytest --update-expected tests/test_generated.py` writes them anew. Workbooks are compared by content, because
another release of the writer may order the same content differently.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from compiler.demo.workbooks import WEEKS, demo_workbook
from compiler.notation.tables import kinds, made_from, tables_of
from compiler.render.field_reference import render_field_reference
from compiler.render.template import render_template
from tests.workbook_content import workbook_content

ROOT = Path(__file__).parents[1]
TEMPLATE_WEEKS = 4

GENERATED: dict[str, Callable[[], bytes]] = {
    "examples/field-reference.md": lambda: render_field_reference().encode(),
    **{f"examples/{name}.xlsx": (lambda name=name: demo_workbook(name)) for name in WEEKS},  # type: ignore[misc]  # bound early
    **{
        f"workbook_templates/block-{TEMPLATE_WEEKS}-weeks-{sessions}-sessions.xlsx": (
            lambda sessions=sessions: render_template(TEMPLATE_WEEKS, sessions)  # type: ignore[misc]  # bound early
        )
        for sessions in (2, 3, 4)
    },
}


@pytest.mark.parametrize("path", GENERATED)
def test_generated_file_is_what_the_code_gives_now(path: str, update_expected: bool) -> None:
    """A stale file fails; the remedy is to run with --update-expected and to read the diff."""
    file, now = ROOT / path, GENERATED[path]()
    if update_expected:
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(now)
    assert file.exists(), f"{path} is missing: run pytest --update-expected"
    stored = file.read_bytes()
    if file.suffix == ".xlsx":
        assert workbook_content(stored) == workbook_content(now)
    else:
        assert stored == now


def test_no_template_is_left_over() -> None:
    """Every workbook beside the templates is one that is generated."""
    here = {f"workbook_templates/{file.name}" for file in (ROOT / "workbook_templates").glob("*.xlsx")}
    assert here == {path for path in GENERATED if path.startswith("workbook_templates/")}


@pytest.mark.parametrize("kind", kinds())
def test_tables_of_the_grammars_are_up_to_date(kind: str, update_expected: bool) -> None:
    """They say what they were made from; their content may be ordered otherwise the next time."""
    file = ROOT / "compiler" / "notation" / "tables" / f"{kind}.json"
    if update_expected and not (file.exists() and made_from() in file.read_text(encoding="utf-8")):
        file.parent.mkdir(exist_ok=True)
        file.write_bytes(tables_of(kind))
    assert file.exists(), f"{file} is missing: run pytest --update-expected"
    assert json.loads(file.read_bytes())["made from"] == made_from()


def test_no_tables_are_left_over() -> None:
    """Every file of tables belongs to a grammar."""
    assert {file.stem for file in (ROOT / "compiler" / "notation" / "tables").iterdir()} == set(kinds())
