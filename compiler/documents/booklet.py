"""A client's plan -> the booklet: cover, how to read, sessions, safety; every string that will be printed."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from compiler.documents.booklet_value import (
    LANGUAGE,
    Booklet,
    Cover,
    Format,
    MonthPlan,
    Paper,
    PlanRow,
    PlanWords,
    Session,
    SessionRef,
)
from compiler.documents.figures import Figures, period_words
from compiler.documents.how_to import how_to
from compiler.documents.labels import initials
from compiler.documents.progress import progress
from compiler.documents.safety import safety
from compiler.documents.session import Pages, session_page, usual_bar
from compiler.documents.weeks_sheet import WEEKS_ON_A_SHEET, weeks_sheet
from compiler.documents.weeks_value import WeeksSheet
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.resolve.sessions import DAYS_IN_A_WEEK
from compiler.resolve.values import ClientPlan, PlannedSession

FOUND = "Found this booklet? Please hand it in at the front desk."
NOT_THIS_WEEK = "\u2013"


@frozen
class _Keyed:
    """A planned session with the key of its page and its row in the plan of the month."""

    session: PlannedSession
    key: str
    row: str


@frozen
class Look:
    """How booklets are to be printed: `simplex` on one side, with `label` in place of the client's name."""

    simplex: bool = False
    label: str = ""


AS_USUAL = Look()


@frozen
class Setting:
    """How one client's booklet is set, and the name on it."""

    format: Format
    paper: Paper
    simplex: bool
    name: str


def setting_of(book: Book, plan: ClientPlan, look: Look = AS_USUAL) -> Setting:
    """Return how the booklet of a client is set. A half page is never printed on one side: it is folded."""
    form = _format(book, plan)
    name = look.label or plan.client.print_name.value or plan.name
    return Setting(form, Paper(book.block.paper.needed), look.simplex and form is not Format.HALF_PAGE, name)


def build_booklet(book: Book, plan: ClientPlan, look: Look = AS_USUAL) -> Booklet:
    """Return the booklet of one client."""
    block, setting = book.block, setting_of(book, plan, look)
    figures = Figures("," if block.decimal_sign.needed == "comma" else ".")
    pages = Pages(
        figures=figures,
        percents=bool(block.print_percent.value),
        usual_bar=usual_bar(plan.sessions, figures),
        weeks=plan.weeks,
    )
    easier = block.easier_weeks.value
    lighter = set(easier.numbers or ()) if easier else set()
    keyed = _keyed(plan)
    made = {
        entry.key: session_page(entry.session, entry.key, pages, easier=entry.session.week in lighter)
        for entry in keyed
    }
    paged = [(entry.session, made[entry.key]) for entry in _in_page_order(keyed, block.page_order.needed)]
    sessions = tuple(page for _, page in paged)
    name = setting.name
    period = _period(book, plan)
    gym = block.gym.value or ""
    return Booklet(
        language=LANGUAGE,
        title=", ".join(part for part in (name, block.title.value, period) if part),
        author=block.coach.value or "",
        subject="Training booklet",
        paper=setting.paper,
        cover=_cover(book, plan, keyed, name, period),
        how_to=how_to(book, plan, paged, pages),
        sessions=sessions,
        safety=safety(book, plan),
        progress=progress(book, plan, figures),
        footer=tuple(part for part in (name, period, gym) if part),
        label_prefix=f"{look.label or initials(name)}-",
        simplex=setting.simplex,
        sheets=tuple(_sheets(keyed, made)) if setting.format is Format.WEEKS_SHEET else (),
        format=setting.format,
    )


def _sheets(keyed: list[_Keyed], made: dict[str, Session]) -> Iterator[WeeksSheet]:
    """Yield a weeks sheet for each session and each four weeks of it, where its weeks can stand side by side."""
    for row in dict.fromkeys(entry.row for entry in keyed):
        weeks = sorted((entry for entry in keyed if entry.row == row), key=lambda entry: entry.session.week)
        for start in range(0, len(weeks), WEEKS_ON_A_SHEET):
            sheet = weeks_sheet(
                [(entry.session, made[entry.key]) for entry in weeks[start : start + WEEKS_ON_A_SHEET]]
            )
            if sheet is not None:
                yield sheet


def _format(book: Book, plan: ClientPlan) -> Format:
    """Return how the pages are set: large print for a client who asked for it, whatever the Block says."""
    if plan.client.print.value == "large":
        return Format.LARGE_PRINT
    return Format(book.block.booklet.needed)


def sessions_by_key(plan: ClientPlan) -> dict[str, PlannedSession]:
    """Return the planned sessions of a client by the key that their pages have in the booklet."""
    return {entry.key: entry.session for entry in _keyed(plan)}


def _keyed(plan: ClientPlan) -> list[_Keyed]:
    """Give every session a key; where a session comes twice in a week, its place in the week names the row."""
    keyed = []
    twice = len({(s.week, s.name) for s in plan.sessions}) < len(plan.sessions)
    place: dict[int, int] = {}
    for number, session in enumerate(plan.sessions, start=1):
        place[session.week] = place.get(session.week, 0) + 1
        row = f"Session {place[session.week]}" if twice else session.name
        keyed.append(_Keyed(session, f"{session.week}-{number}", row))
    return keyed


def _in_page_order(keyed: list[_Keyed], order: str) -> list[_Keyed]:
    if order == "by week":
        return keyed
    rows = list(dict.fromkeys(entry.row for entry in keyed))
    return sorted(keyed, key=lambda entry: (rows.index(entry.row), entry.session.week))


def _period(book: Book, plan: ClientPlan) -> str:
    start = plan.client.start_date.value or book.block.start_date.value
    if start is None:
        return ""
    return period_words(start, start + timedelta(days=DAYS_IN_A_WEEK * plan.weeks - 1))


def _cover(book: Book, plan: ClientPlan, keyed: list[_Keyed], name: str, period: str) -> Cover:
    block = book.block
    coach = block.coach.value
    about = [f"Coach: {coach}" if coach else "", block.contact.value or ""]
    return Cover(
        gym=block.gym.value or "",
        title=tuple(part for part in (block.title.value, period) if part),
        client=name,
        about=tuple(part for part in about if part),
        plan=_month(plan, keyed),
        found=FOUND,
    )


def _month(plan: ClientPlan, keyed: list[_Keyed]) -> MonthPlan:
    weeks = range(1, plan.weeks + 1)
    at = {(entry.row, entry.session.week): entry.key for entry in keyed}
    rows = []
    for row in dict.fromkeys(entry.row for entry in keyed):
        cells: list[SessionRef | PlanWords] = []
        for week in weeks:
            key = at.get((row, week))
            if key is not None:
                cells.append(SessionRef(key))
            else:
                cells.append(PlanWords("away" if week in plan.away else NOT_THIS_WEEK))
        rows.append(PlanRow(row, tuple(cells)))
    return MonthPlan(
        "Tick each session when it is done", tuple(f"Week {week}" for week in weeks), tuple(rows)
    )
