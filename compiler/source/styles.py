"""Styles, as far as they tell what a cell holds: number formats, and fonts that strike a whole cell out.

No other formatting is read, so that broken formatting cannot stop the reading.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from xml.etree.ElementTree import Element

from compiler.frozen import frozen
from compiler.source.container import Package
from compiler.source.formats import BUILT_IN, GENERAL, has_dates, section_for
from compiler.source.parts import TRUE_WORDS, attribute, children, root_of, whole_number


@frozen
class Style:
    """What a style says about a value. `always_date` is None where it depends on the value."""

    code: str = GENERAL
    always_date: bool | None = False
    struck: bool = False

    def is_date(self, value: Decimal) -> bool:
        """Tell whether a number of this style is shown as a day or a time."""
        if self.always_date is None:
            return section_for(self.code, value).is_date
        return self.always_date


PLAIN = Style()


def read_styles(package: Package, part: str | None) -> tuple[Style, ...]:
    """Return the cell styles in order; a workbook without any has plain cells only."""
    if part is None:
        return ()
    root = root_of(package, part)
    codes = dict(BUILT_IN)
    for entry in _entries(root, "numFmts", "numFmt"):
        codes[_number(entry, "numFmtId")] = attribute(entry, "formatCode", GENERAL)
    struck = [_is_struck(font) for font in _entries(root, "fonts", "font")]
    styles = []
    for entry in _entries(root, "cellXfs", "xf"):
        code = codes.get(_number(entry, "numFmtId"), GENERAL)
        font = _number(entry, "fontId")
        styles.append(Style(code, has_dates(code), 0 <= font < len(struck) and struck[font]))
    return tuple(styles)


def _entries(root: Element, group: str, entry: str) -> Iterator[Element]:
    for found in children(root, group):
        yield from children(found, entry)


def _number(element: Element, name: str) -> int:
    return whole_number(attribute(element, name)) or 0


def _is_struck(font: Element) -> bool:
    return any(attribute(strike, "val", "1").casefold() in TRUE_WORDS for strike in children(font, "strike"))
