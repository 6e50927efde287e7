"""Text of the coach's -> text that any workbook can hold, as a string and nothing else."""

from __future__ import annotations

import re
from html import escape

from xlsxwriter.format import Format
from xlsxwriter.worksheet import Worksheet

LONGEST = 32_767
"""Characters that a cell can hold: Excel's published limit, counted in UTF-16 units."""

_LINE_ENDS = re.compile("\r\n?|[\v\f\x85\u2028\u2029]")
_NOT_IN_XML = re.compile("[\x00-\x08\x0e-\x1f\x7f-\x84\x86-\x9f\ud800-\udfff\ufdd0-\ufdef\ufffe\uffff]")
_KEPT_IN_VALUES = {ord("\t"): "&#9;", ord("\n"): "&#10;", ord("\r"): "&#13;"}
_MARKUP = re.compile("<r>.*</r>", re.DOTALL)


def clean_text(text: str) -> str:
    """Return a text without control characters and halves of characters, of a length that a cell can hold.

    Line ends become one kind and tabs spaces. What is left means what it meant: a leading = stays where it is.
    """
    if text.isascii() and text.isprintable() and len(text) <= LONGEST:
        return text
    text = _NOT_IN_XML.sub("", _LINE_ENDS.sub("\n", text).replace("\t", " "))
    if len(text) * 2 <= LONGEST:
        return text
    units = text.encode("utf-16-le")
    return units[: LONGEST * 2].decode("utf-16-le", errors="ignore") if len(units) > LONGEST * 2 else text


def escaped(text: str) -> str:
    """Return a text as it stands between the tags of XML.

    `xml.sax.saxutils` has this, too, and loads what a program needs to fetch pages from the web.
    """
    return escape(text, quote=False)


def as_value(text: str) -> str:
    """Return a text as the value of an attribute of XML, with its quotes; line ends and tabs stay what they are."""
    return f'"{escape(text).translate(_KEPT_IN_VALUES)}"'


def as_markup(text: str) -> str:
    """Return a text for XlsxWriter's table of texts: as one run of its markup, where it would take it for markup."""
    return f'<r><t xml:space="preserve">{escaped(text)}</t></r>' if _MARKUP.fullmatch(text) else text


def write_text(sheet: Worksheet, row: int, column: int, text: str, look: Format | None = None) -> None:
    """Write a text, cleaned, as a string and nothing else; see `write_string`. Counted from 0."""
    write_string(sheet, row, column, clean_text(text), look)


def write_string(sheet: Worksheet, row: int, column: int, text: str, look: Format | None = None) -> None:
    """Write a text as a string, never as a formula, a link or markup; an empty one as a blank. Counted from 0.

    XlsxWriter takes a string from <r> to </r> for markup of its own; such a text goes in as three runs, the
    fewest it takes, and is escaped.
    """
    if not text:
        sheet.write_blank(row, column, None, look)
    elif text.startswith("<r>") and _MARKUP.fullmatch(text):
        sheet.write_rich_string(row, column, text[:1], text[1:2], text[2:], look)
    else:
        sheet.write_string(row, column, text, look)
