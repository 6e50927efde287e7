"""Every way a booklet can be set, and booklets laid out in each, once a test run."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache

from compiler.documents.booklet_value import Booklet, Format, Paper
from compiler.layout.booklet import lay_out_booklet
from compiler.layout.editions import Edition, edition_of, lying
from compiler.layout.measures import Sheet
from compiler.layout.page import Page, Pages
from tests.unit.layout.extremes import BOOKLETS
from tests.unit.layout.sample_booklet import BOOKLET

EVERY = {"sample": BOOKLET, **BOOKLETS}


@dataclass(frozen=True)
class Setting:
    """A format on a paper."""

    format: Format
    paper: Paper

    def __str__(self) -> str:
        return f"{self.format} {self.paper}".replace(" ", "-")

    def of(self, booklet: Booklet) -> Booklet:
        """Return a booklet set in this way."""
        return replace(booklet, format=self.format, paper=self.paper)

    def sheet_of(self, page: Page) -> Sheet:
        """Return the measures of the sheet that a page stands on."""
        return lying(self.edition.sheet) if page.lying else self.edition.sheet

    @property
    def edition(self) -> Edition:
        """The measures of this way."""
        return edition_of(self.format, self.paper)


SETTINGS = tuple(Setting(form, paper) for form in Format for paper in Paper)
A4 = Setting(Format.FULL_PAGE, Paper.A4)
HALF_A4 = Setting(Format.HALF_PAGE, Paper.A4)
LARGE_A4 = Setting(Format.LARGE_PRINT, Paper.A4)
WEEKS_A4 = Setting(Format.WEEKS_SHEET, Paper.A4)


def _tells(name: str, setting: Setting) -> bool:
    """Tell whether a booklet set in this way shows something that another way does not."""
    if setting.format is Format.WEEKS_SHEET:
        return bool(EVERY[name].sheets)
    return name == "sample" or "sheet" not in name


PAIRS = tuple((name, setting) for name in EVERY for setting in SETTINGS if _tells(name, setting))
"""Every booklet in every way that tells something."""


@cache
def laid_out(name: str, setting: Setting) -> Pages:
    """Return a booklet of the samples, laid out."""
    return lay_out_booklet(setting.of(EVERY[name]))
