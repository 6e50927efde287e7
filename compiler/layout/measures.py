"""Measures of the booklet: papers and styles of type, as data. Points, except where a name says otherwise.

Another paper, a half-page booklet or large print is another row here. What the sizes rest on: print is read
at full speed when the x-height is at least 0.2 degrees (Legge and Bigelow, Journal of Vision 11(5), 2011),
which this typeface has in 12 pt at 61 cm and in 14 pt at 71 cm, the distance of a page on the bench; captions
keep the 8 pt minimum of state forms standards; boxes give a digit room (clerks' rule: five characters an
inch). The binding margin clears the holes of a punch (ISO 838: 6 mm at 12 mm; US three-hole).
"""

from __future__ import annotations

from dataclasses import dataclass

from compiler.documents.booklet_value import Paper

MM = 72 / 25.4


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet of paper and the columns on it.

    `bottom` is the baseline of the footer above the lower edge, `footer` the band that it takes. From the
    left of the live area: gutter with bracket and label, text column, gap, log column flush right. Loads
    begin at `load_stop`, a share of the text column.
    """

    width: float
    height: float
    binding: float
    outer: float
    top: float
    bottom: float
    footer: float
    gutter: float
    gap: float
    log: float
    load_stop: float

    @property
    def live(self) -> float:
        """The width between the margins."""
        return self.width - self.binding - self.outer

    @property
    def text(self) -> float:
        """The width of the text column."""
        return self.live - self.gutter - self.gap - self.log

    @property
    def log_x(self) -> float:
        """The left edge of the log column."""
        return self.live - self.log

    @property
    def foot(self) -> float:
        """The lowest y that content may reach."""
        return self.height - self.bottom - self.footer

    def origin(self, number: int, *, simplex: bool) -> float:
        """Return the left edge of the live area: the binding is left on odd pages, right on even."""
        return self.binding if simplex or number % 2 else self.outer


def _full_page(width: float, height: float) -> Sheet:
    return Sheet(
        width=width,
        height=height,
        binding=20 * MM,
        outer=10 * MM,
        top=11 * MM,
        bottom=10 * MM,
        footer=7 * MM,
        gutter=10 * MM,
        gap=3 * MM,
        log=78 * MM,
        load_stop=0.54,
    )


SHEETS = {
    Paper.A4: _full_page(210 * MM, 297 * MM),
    Paper.LETTER: _full_page(8.5 * 72, 11 * 72),
}


@dataclass(frozen=True, slots=True)
class Style:
    """Sizes of type and of boxes on a session page. A `_floor` is the smallest a fitted size may get."""

    title: float
    title_floor: float
    when: float
    head: float
    name: float
    name_floor: float
    figure: float
    figure_floor: float
    extra: float
    small: float
    tick: float
    caption: float
    row_space: float
    box_floor: float
    box_ceiling: float
    reps_left_box: float
    reps_left_gap: float

    @property
    def small_lead(self) -> float:
        """The leading of cues and qualifiers."""
        return self.small * 1.22


STANDARD = Style(
    title=22,
    title_floor=14.5,
    when=12,
    head=10.5,
    name=12,
    name_floor=11,
    figure=14,
    figure_floor=12.5,
    extra=11.5,
    small=9.5,
    tick=10.5,
    caption=8,
    row_space=2.2 * MM,
    box_floor=10 * MM,
    box_ceiling=14.5 * MM,
    reps_left_box=12 * MM,
    reps_left_gap=1.5 * MM,
)

DENSE = Style(
    title=20,
    title_floor=14.5,
    when=11,
    head=10,
    name=11,
    name_floor=11,
    figure=12.5,
    figure_floor=12.5,
    extra=11,
    small=9,
    tick=10,
    caption=8,
    row_space=1.7 * MM,
    box_floor=9.5 * MM,
    box_ceiling=14.5 * MM,
    reps_left_box=12 * MM,
    reps_left_gap=1.5 * MM,
)

FOOTER_SIZE = 9.0
BODY = 12.0
BODY_LEAD = 1.32
SAFETY_BODIES = (14.0, 13.0, 12.0)
NAME_LEAD = 1.13
FIGURE_LEAD = 1.16
ROW_OPENING = 2.5 * MM
NOTES_STEP = 9 * MM
NOTES_MOST = 6
