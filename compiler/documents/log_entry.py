"""Plans -> the log entry workbook as a value: a row for every session and exercise of every client, in booklet order.

Beside each week's cell stands what was planned. A session that is done twice in a week has rows for either time.
Warm-up and cool-down are not logged.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from sys import intern

from compiler.documents.dose import dose_text
from compiler.documents.figures import TIMES, Figures, day_words
from compiler.documents.load_words import added_words, load_text
from compiler.folding import name_key
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.resolve.sessions import names_in_log
from compiler.resolve.values import ClientPlan, LoadKind, PlannedExercise, PlannedSession
from compiler.review.logged import LOGGED_PARTS
from compiler.schema.implements import PAIRS

WHOLE_SESSION = "session as planned"
BLANK = "____"


@frozen
class LogEntryRow:
    """One row. A session's own row has neither order nor exercise. `targets[0]` is week 1; None: not planned then."""

    client: str
    session: str
    order: str
    exercise: str
    targets: tuple[str | None, ...]


@frozen
class LogEntry:
    """The whole workbook. `start` is the first day of the block, by which a log is known to be of this block."""

    title: str
    start: date | None
    weeks: int
    paper: str
    rows: tuple[LogEntryRow, ...]


def build_log_entry(book: Book, plans: Sequence[ClientPlan]) -> LogEntry:
    """Return the log entry workbook of the clients that have a plan."""
    block = book.block
    weeks = block.weeks.needed
    figures = Figures()
    rows = tuple(row for plan in plans for row in _client_rows(plan, weeks, figures))
    return LogEntry(block.title.known or "", block.start_date.known, weeks, block.paper.known or "A4", rows)


def _client_rows(plan: ClientPlan, weeks: int, figures: Figures) -> list[LogEntryRow]:
    sessions: dict[str, list[PlannedSession]] = {}
    names = names_in_log([(session.name, session.week) for session in plan.sessions])
    for name, session in zip(names, plan.sessions, strict=True):
        sessions.setdefault(name, []).append(session)
    rows: list[LogEntryRow] = []
    for name, done in sessions.items():
        days = {session.week: day_words(session.day) if session.day else WHOLE_SESSION for session in done}
        rows.append(LogEntryRow(plan.name, name, "", "", _by_week(days, weeks)))
        rows += _exercise_rows(plan.name, name, done, weeks, figures)
    return rows


def _exercise_rows(
    client: str, name: str, sessions: Sequence[PlannedSession], weeks: int, figures: Figures
) -> list[LogEntryRow]:
    """Return the rows of one session: each exercise once, in the order of the booklet, with its target by week."""
    found: dict[tuple[int, str, str], tuple[PlannedExercise, dict[int, str]]] = {}
    for session in sessions:
        for number, part in enumerate(LOGGED_PARTS):
            for planned in session.parts[part]:
                key = (number, name_key(planned.order), name_key(planned.exercise.name.needed))
                _, targets = found.setdefault(key, (planned, {}))
                words = intern(target_words(planned, figures))  # one text for all who do the same
                targets.setdefault(session.week, words)
    ordered = sorted(found.items(), key=lambda item: (item[0][0], item[1][0].row.row.row))
    return [
        LogEntryRow(client, name, planned.order, planned.exercise.name.needed, _by_week(targets, weeks))
        for _, (planned, targets) in ordered
    ]


def _by_week(found: dict[int, str], weeks: int) -> tuple[str | None, ...]:
    return tuple(found.get(week) for week in range(1, weeks + 1))


def target_words(planned: PlannedExercise, figures: Figures) -> str:
    """Return what was planned, short: 4 × 5 @ 95 kg."""
    words = dose_text(planned, figures)
    load = _load_words(planned, figures)
    return f"{words} @ {load}" if load else words


def _load_words(planned: PlannedExercise, figures: Figures) -> str | None:
    items = planned.load.items
    if planned.load.kind is LoadKind.ADDED and len(items) > 1:
        words = [added_words(item, figures) for item in items]
        return ", ".join(word or BLANK for word in words).replace("body weight", "BW")
    if planned.load.kind is LoadKind.WEIGHT and len(items) > 1:
        unit, implement = planned.unit, planned.exercise.implement.value
        amounts = [(figures.loads(item) or BLANK).removesuffix(f" {unit}") for item in items]
        before = f"2 {TIMES} " if implement in PAIRS else "bar + " if implement == "landmine" else ""
        return f"{before}{', '.join(amounts)} {unit}"
    text = load_text(planned, figures)
    if text is not None and planned.load.kind is LoadKind.HEART_RATE:
        return f"{text} bpm"
    return text.replace("Body weight", "BW") if text is not None else None
