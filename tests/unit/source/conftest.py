"""A workbook written part by part, so that a test can write what no library would."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable, Mapping

import pytest

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
RELS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
PACKAGE = "http://schemas.openxmlformats.org/package/2006/relationships"

Writer = Callable[..., bytes]


def parts_of(rows: str, *, after: str = "", workbook_pr: str = "", tail: str = "") -> dict[str, str]:
    """Return the parts of a workbook with one sheet; `rows` is the inside of its sheetData."""
    return {
        "_rels/.rels": f'<Relationships xmlns="{PACKAGE}"><Relationship Id="r1" Type="{RELS}/officeDocument"'
        ' Target="xl/workbook.xml"/></Relationships>',
        "xl/_rels/workbook.xml.rels": f'<Relationships xmlns="{PACKAGE}">'
        f'<Relationship Id="r1" Type="{RELS}/worksheet" Target="worksheets/sheet1.xml"/>'
        f'<Relationship Id="r2" Type="{RELS}/styles" Target="styles.xml"/></Relationships>',
        "xl/workbook.xml": f'<workbook xmlns="{MAIN}" xmlns:r="{RELS}"><workbookPr{workbook_pr}/>'
        f'<sheets><sheet name="Tests" sheetId="1" r:id="r1"/></sheets>{tail}</workbook>',
        "xl/styles.xml": f'<styleSheet xmlns="{MAIN}"><cellXfs><xf numFmtId="0"/><xf numFmtId="9"/>'
        '<xf numFmtId="16"/></cellXfs></styleSheet>',
        "xl/worksheets/sheet1.xml": f'<worksheet xmlns="{MAIN}"><sheetData>{rows}</sheetData>{after}</worksheet>',
    }


def packed(parts: Mapping[str, str | bytes]) -> bytes:
    """Return the parts as a zip."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in parts.items():
            archive.writestr(name, content)
    return out.getvalue()


@pytest.fixture
def raw() -> Writer:
    """Return a writer of workbooks; it takes the rows, and parts to put in, or to leave out where they are None."""

    def write(rows: str = "", changes: Mapping[str, str | bytes | None] | None = None, **options: str) -> bytes:
        parts: dict[str, str | bytes | None] = {**parts_of(rows, **options), **(changes or {})}
        return packed({name: content for name, content in parts.items() if content is not None})

    return write
