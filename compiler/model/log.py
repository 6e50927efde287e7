"""The rows of the Log and History sheets as frozen records."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from compiler.cellref import RowRef
from compiler.frozen import frozen
from compiler.model.field import Field
from compiler.notation.log_values import LogText
from compiler.notation.values import NotThisWeek, Prescription, Reps, Sets, Weight


@frozen
class LogWeek:
    """What a log row says of one week."""

    done: Field[LogText]
    date: Field[date]


@frozen
class LogRow:
    """One exercise of one client, or with a blank exercise one session; `weeks[0]` is week 1."""

    row: RowRef
    client: Field[str]
    session: Field[str]
    order: Field[str]
    exercise: Field[str]
    weeks: tuple[LogWeek, ...]


@frozen
class HistoryRow:
    """Sets of an earlier month that were alike; `set` are the numbers of the first and the last."""

    row: RowRef
    client: Field[str]
    date: Field[date]
    week: Field[int]
    session: Field[str]
    order: Field[str]
    exercise: Field[str]
    set: Field[Sets | NotThisWeek | Prescription]
    load: Field[Weight]
    unit: Field[str]
    reps: Field[Reps]
    rpe: Field[Decimal]
