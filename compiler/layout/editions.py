"""The ways a booklet is set: a paper, the styles of its sessions, the sizes of its other pages. Data."""

from __future__ import annotations

from dataclasses import replace

from compiler.documents.booklet_value import Format, Paper
from compiler.frozen import frozen
from compiler.layout.measures import BODY, DENSE, FOOTER_SIZE, MM, SHEETS, STANDARD, LogPlace, Sheet, Style


@frozen
class CoverSizes:
    """Sizes of type on the cover; a plan of more weeks than `weeks_across` is turned."""

    gym: float
    title: float
    title_floor: float
    client: float
    client_floor: float
    about: float
    about_floor: float
    found: float
    plan: float
    row: float
    row_floor: float
    weeks_across: int
    scale: float


@frozen
class Edition:
    """One way to set a booklet.

    `styles` are tried in turn for a session, the first is used where none makes it fit. `body` is running text,
    `safety` the sizes tried for the safety page, `callout` the numbers in circles. A session may take `long` pages
    before the coach is told. A `folded` booklet is stapled in the fold: sessions over two pages face each other, and
    pages come in fours.
    """

    sheet: Sheet
    styles: tuple[Style, ...]
    body: float
    safety: tuple[float, ...]
    footer: float
    callout: float
    cover: CoverSizes
    long: int = 1
    folded: bool = False

    @property
    def style(self) -> Style:
        """The style that is preferred, and that the other pages take their titles from."""
        return self.styles[0]

    @property
    def floor(self) -> float:
        """The smallest type."""
        return self.style.floor


_FULL_COVER = CoverSizes(
    gym=13,
    title=24,
    title_floor=15,
    client=46,
    client_floor=20,
    about=15,
    about_floor=11,
    found=10,
    plan=BODY,
    row=12 * MM,
    row_floor=6.4 * MM,
    weeks_across=6,
    scale=1.0,
)

_HALF_COVER = CoverSizes(
    gym=10.5,
    title=17.5,
    title_floor=12,
    client=33,
    client_floor=16,
    about=11.5,
    about_floor=10,
    found=9,
    plan=10.5,
    row=10.5 * MM,
    row_floor=6.4 * MM,
    weeks_across=4,
    scale=0.72,
)

_LARGE_COVER = CoverSizes(
    gym=16,
    title=24,
    title_floor=16,
    client=46,
    client_floor=20,
    about=16,
    about_floor=16,
    found=16,
    plan=16,
    row=12 * MM,
    row_floor=8.4 * MM,
    weeks_across=4,
    scale=1.0,
)

_HALF = replace(
    STANDARD,
    title=18,
    title_floor=12,
    when=11,
    head=10,
    head_height=5.8 * MM,
    name=11.5,
    figure=13.5,
    extra=11,
    small=9,
    tick=9.5,
    box_floor=10.5 * MM,
    box_ceiling=13 * MM,
    reps_left_box=13 * MM,
    fields=(24 * MM, 19 * MM),
    field_height=11 * MM,
)

_HALF_DENSE = replace(
    _HALF,
    title=16,
    name=11,
    figure=12.5,
    tick=9,
    row_space=1.7 * MM,
    box_floor=9.5 * MM,
    notes_give_way=True,
)

_LARGE = replace(
    STANDARD,
    title=26,
    title_floor=17,
    when=16,
    head=16,
    head_height=9.6 * MM,
    name=18,
    name_floor=16,
    figure=20,
    figure_floor=16,
    extra=18,
    small=16,
    tick=16,
    tick_box=5 * MM,
    tick_columns=1,
    caption=16,
    floor=16,
    row_space=3 * MM,
    box_floor=16 * MM,
    box_ceiling=16 * MM,
    most_boxes=4,
    fewest_columns=4,
    reps_left_box=25 * MM,
    reps_left_gap=2 * MM,
    fields=(38 * MM, 36 * MM),
    field_height=16 * MM,
)


def _tighter(style: Style) -> Style:
    """Return a style with its sizes, where the notes under a load may begin further left."""
    return replace(style, notes_give_way=True)


def _half_page(width: float, height: float, log: float) -> Sheet:
    return Sheet(
        width=width,
        height=height,
        binding=14 * MM,
        outer=9 * MM,
        top=9 * MM,
        bottom=8.5 * MM,
        footer=6 * MM,
        gutter=9 * MM,
        gap=2.5 * MM,
        log=log,
        load_stop=0.5,
        place=LogPlace.CORNER,
    )


def _large(sheet: Sheet) -> Sheet:
    gutter = 15 * MM
    return replace(
        sheet,
        footer=10 * MM,
        gutter=gutter,
        gap=0.0,
        log=sheet.live - gutter,
        load_stop=0.5,
        place=LogPlace.UNDER,
    )


_FULL_EDITIONS = {
    paper: Edition(
        sheet=sheet,
        styles=(STANDARD, _tighter(STANDARD), DENSE),
        body=BODY,
        safety=(14.0, 13.0, 12.0),
        footer=FOOTER_SIZE,
        callout=8.5,
        cover=_FULL_COVER,
    )
    for paper, sheet in SHEETS.items()
}

_HALF_EDITIONS = {
    paper: Edition(
        sheet=_half_page(width, height, log),
        styles=(_HALF, _tighter(_HALF), _HALF_DENSE),
        body=10.5,
        safety=(12.0, 11.0, 10.5, 10.0, 9.5),
        footer=8.5,
        callout=8.0,
        cover=_HALF_COVER,
        long=2,
        folded=True,
    )
    for paper, (width, height, log) in {
        Paper.A4: (148.5 * MM, 210 * MM, 68 * MM),
        Paper.LETTER: (5.5 * 72, 8.5 * 72, 66 * MM),
    }.items()
}

_LARGE_EDITIONS = {
    paper: Edition(
        sheet=_large(sheet),
        styles=(_LARGE, _tighter(_LARGE)),
        body=16.0,
        safety=(16.0,),
        footer=16.0,
        callout=16.0,
        cover=_LARGE_COVER,
        long=4,
    )
    for paper, sheet in SHEETS.items()
}


def lying(sheet: Sheet) -> Sheet:
    """Return a full page turned to its long side, for the weeks of a session; bound or clipped on its left."""
    return Sheet(
        width=sheet.height,
        height=sheet.width,
        binding=18 * MM,
        outer=9 * MM,
        top=10 * MM,
        bottom=9 * MM,
        footer=6 * MM,
        gutter=8.5 * MM,
        gap=0.0,
        log=0.0,
        load_stop=0.0,
    )


def edition_of(form: Format, paper: Paper) -> Edition:
    """Return how a booklet is set. A weeks sheet has the other pages of a full-page booklet."""
    match form:
        case Format.HALF_PAGE:
            return _HALF_EDITIONS[paper]
        case Format.LARGE_PRINT:
            return _LARGE_EDITIONS[paper]
        case Format.FULL_PAGE | Format.WEEKS_SHEET:
            return _FULL_EDITIONS[paper]
