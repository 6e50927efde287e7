"""Measures of the booklet: papers and styles of type, as data. Points, except where a name says otherwise.

Another paper is another row here; half pages and large print are in `editions`. What the sizes rest on: print is read
at full speed when the x-height is at least 0.2 degrees (Legge and Bigelow, Journal of Vision 11(5), 2011),
which this typeface has in 12 pt at 61 cm and in 14 pt at 71 cm, the distance of a page on the bench; captions
keep the 8 pt minimum of state forms standards; boxes give a digit room (clerks' rule: five characters an
inch). The binding margin clears the holes of a punch (ISO 838: 6 mm at 12 mm; US three-hole).
"""

from __future__ import annotations

from dataclasses import replace
from enum import Enum

from compiler.documents.booklet_value import Paper
from compiler.frozen import frozen

MM = 72 / 25.4


class LogPlace(Enum):
    """Where the boxes of an exercise stand."""

    BESIDE = "right of everything"
    CORNER = "below the figures, right of the cue"
    UNDER = "below everything"


@frozen
class Sheet:
    """A sheet of paper and the columns on it.

    `bottom` is the baseline of the footer above the lower edge, `footer` the band that it takes. From the
    left of the live area: gutter with bracket and label, text column, gap, log column flush right. Where the boxes
    do not stand beside the text, it runs on over the log column. Loads begin at `load_stop`, a share of the text
    column; above boxes in the corner they begin where the boxes do.
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
    place: LogPlace = LogPlace.BESIDE

    @property
    def live(self) -> float:
        """The width between the margins."""
        return self.width - self.binding - self.outer

    @property
    def text(self) -> float:
        """The width of names and figures."""
        return self.cue if self.place is LogPlace.BESIDE else self.live - self.gutter

    @property
    def cue(self) -> float:
        """The width of cues, which stand left of the boxes where these are not below everything."""
        if self.place is LogPlace.UNDER:
            return self.live - self.gutter
        return self.live - self.gutter - self.gap - self.log

    @property
    def stop(self) -> float:
        """Where loads begin, from the left edge of the text."""
        if self.place is LogPlace.CORNER:
            return self.log_x - self.gutter
        return self.text * self.load_stop

    @property
    def head(self) -> float:
        """The width for the head of a block, which has the set numbers on its right where boxes stand beside."""
        return self.log_x - self.gap if self.place is LogPlace.BESIDE else self.live

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


@frozen
class Style:
    """Sizes of type and of boxes on a session page.

    A `_floor` is the smallest a fitted size may get, `floor` the smallest of all.
    `most_boxes` stand on one line of boxes. Of the fields for date and effort: the widths, and their height.
    `notes_give_way`: notes under a load may begin left of it, where that saves a line.
    """

    title: float
    title_floor: float
    when: float
    head: float
    head_height: float
    name: float
    name_floor: float
    figure: float
    figure_floor: float
    extra: float
    small: float
    tick: float
    tick_box: float
    tick_columns: int
    caption: float
    floor: float
    row_space: float
    box_floor: float
    box_ceiling: float
    most_boxes: int
    fewest_columns: int
    reps_left_box: float
    reps_left_gap: float
    fields: tuple[float, float]
    field_height: float
    notes_give_way: bool = False

    @property
    def small_lead(self) -> float:
        """The leading of cues and qualifiers."""
        return self.small * 1.22

    @property
    def tick_text(self) -> float:
        """Where the words after a box to tick begin."""
        return self.tick_box * 1.48


STANDARD = Style(
    title=22,
    title_floor=14.5,
    when=12,
    head=10.5,
    head_height=6.3 * MM,
    name=12,
    name_floor=11,
    figure=14,
    figure_floor=12.5,
    extra=11.5,
    small=9.5,
    tick=10.5,
    tick_box=3.1 * MM,
    tick_columns=2,
    caption=8,
    floor=8,
    row_space=2.2 * MM,
    box_floor=10 * MM,
    box_ceiling=14.5 * MM,
    most_boxes=5,
    fewest_columns=3,
    reps_left_box=12 * MM,
    reps_left_gap=1.5 * MM,
    fields=(27 * MM, 22 * MM),
    field_height=12 * MM,
)

DENSE = replace(
    STANDARD,
    title=20,
    when=11,
    head=10,
    name=11,
    figure=12.5,
    extra=11,
    small=9,
    tick=10,
    row_space=1.7 * MM,
    box_floor=9.5 * MM,
    notes_give_way=True,
)

FOOTER_SIZE = 9.0
BODY = 12.0
BODY_LEAD = 1.32
NAME_LEAD = 1.13
FIGURE_LEAD = 1.16
ROW_OPENING = 2.5 * MM
NOTES_STEP = 9 * MM
NOTES_MOST = 6
