"""Kinds written in the small languages of cells: sets, reps, load, rest, tempo and the rest.

The notation reads text; this module brings every stored form to the text that was typed, and recovers what a
spreadsheet made of it on the way.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable
from decimal import Decimal
from typing import Generic, TypeVar

from compiler.flags.model import Remark
from compiler.folding import fold
from compiler.frozen import frozen
from compiler.notation.done_as import read_done_as
from compiler.notation.effort import read_effort_limit
from compiler.notation.load import read_load
from compiler.notation.log import read_log
from compiler.notation.log_values import LogText
from compiler.notation.numbers import had_decimal_comma
from compiler.notation.ramp import read_ramp
from compiler.notation.reps import read_reps
from compiler.notation.rest import read_rest
from compiler.notation.result import read_result
from compiler.notation.sets import read_sets
from compiler.notation.sizes import read_bands, read_sizes
from compiler.notation.tempo import read_tempo
from compiler.notation.values import (
    BandNames,
    Count,
    DoneAs,
    EffortLimit,
    LoadText,
    NotThisWeek,
    Prescription,
    Ramp,
    Reps,
    Rest,
    Result,
    Sets,
    Sizes,
    Tempo,
    Timed,
    Weekday,
    Weeks,
    Weight,
    Zones,
)
from compiler.notation.weekdays import read_weekdays
from compiler.notation.weeks import read_weeks
from compiler.notation.weight import read_tested_weight, read_weight
from compiler.notation.zones import read_zones
from compiler.schema.kinds_base import (
    Kind,
    Refusal,
    Understood,
    cleaned,
    refuse,
    refuse_small_figure,
    section_of,
    unusable,
)
from compiler.schema.kinds_numbers import decimal_comma, lost, written_number
from compiler.schema.kinds_recovered import (
    cleared_date,
    cleared_time,
    pair_from_date,
    seconds_from_time,
)
from compiler.schema.kinds_text import YES_NO
from compiler.source.cells import CellType, SourceCell
from compiler.source.shown import shown

T = TypeVar("T")
LONGEST_TIME_OF_DAY_REST = 600  # seconds; a time over it was typed as minutes:seconds
LONGEST_TIME_OF_DAY_RESULT = 3600
_QUOTES = "'\"‘’“”„‚"


@frozen
class _Language(Generic[T]):
    """One small language and what else its cells may hold.

    `expected` completes "expected ..."; `slug` is that of a text that cannot be read. `recover` takes date and
    time cells, `suspect` finds numbers that were something else before their format was cleared.
    """

    expected: str
    slug: str
    read: Callable[[str], T | Remark]
    recover: Callable[[SourceCell, str], Understood[T] | Refusal] = lost
    suspect: tuple[Callable[[SourceCell, str], Refusal | None], ...] = (cleared_date,)


def _read(language: _Language[T], cell: SourceCell) -> Understood[T] | Refusal:
    refused = unusable(cell, language.expected)
    if refused:
        return refused
    if cell.type is CellType.DATE:
        return language.recover(cell, language.expected)
    if cell.type is CellType.NUMBER:
        for suspicion in language.suspect:
            refused = suspicion(cell, language.expected)
            if refused:
                return refused
        written = written_number(cell)
        if isinstance(written, Refusal):
            return written
        return _from_text(language, *written)
    text, remarks = cleaned(str(cell.value))
    if text.lstrip().startswith("="):
        return refuse(
            language.slug,
            f'"{text.strip()}" is a formula typed as text; expected {language.expected}.',
            "Type the value itself, or format the cell as General and type the formula again.",
        )
    refused = refuse_small_figure(text, language.slug, language.expected)
    if refused:
        return refused
    return _from_text(language, text, (*remarks, *_odd(text)))


def _from_text(language: _Language[T], text: str, remarks: tuple[Remark, ...]) -> Understood[T] | Refusal:
    result = language.read(text)
    if isinstance(result, Remark):
        return Refusal(result)
    if had_decimal_comma(text):
        remarks += (decimal_comma(text),)
    return Understood(result, remarks)


def _odd(text: str) -> tuple[Remark, ...]:
    """Return a note where figures are not the plain ones, or a quotation mark stands in front."""
    wide = [c for c in text if not c.isascii() and unicodedata.normalize("NFKC", c)[:1].isdigit()]
    if wide or text.strip()[:1] in _QUOTES:
        return (Remark("odd-characters", f'"{text.strip()}" was read as {fold(text).strip(_QUOTES)}.'),)
    return ()


def _seconds(cell: SourceCell, expected: str, longest: int) -> Understood[int] | Refusal:
    return seconds_from_time(cell, expected, longest) if section_of(cell).is_time else lost(cell, expected)


def _sets_from_date(cell: SourceCell, expected: str) -> Understood[Sets | NotThisWeek | Prescription] | Refusal:
    found = pair_from_date(cell, expected)
    if isinstance(found, Refusal):
        return found
    return Understood(Sets(found.value.low, found.value.high), found.remarks)


def _reps_from_date(cell: SourceCell, expected: str) -> Understood[Reps] | Refusal:
    if section_of(cell).is_time:
        time = _seconds(cell, expected, LONGEST_TIME_OF_DAY_REST)
        if isinstance(time, Refusal):
            return time
        if not time.value:
            return lost(cell, expected)
        return Understood(Reps((Timed(time.value, time.value),)), time.remarks)
    found = pair_from_date(cell, expected)
    if isinstance(found, Refusal):
        return found
    return Understood(Reps((Count(found.value.low, found.value.high),)), found.remarks)


def _rest_from_time(cell: SourceCell, expected: str) -> Understood[Rest] | Refusal:
    found = _seconds(cell, expected, LONGEST_TIME_OF_DAY_REST)
    if isinstance(found, Refusal):
        return found
    return Understood(Rest(found.value, found.value), found.remarks)


def _result_from_time(cell: SourceCell, expected: str) -> Understood[Result] | Refusal:
    found = _seconds(cell, expected, LONGEST_TIME_OF_DAY_RESULT)
    if isinstance(found, Refusal):
        return found
    if not found.value:
        return lost(cell, expected)
    return Understood(Result(Decimal(found.value), "s"), found.remarks)


def _tempo_lost(cell: SourceCell, expected: str) -> Understood[Tempo] | Refusal:
    """Refuse a tempo of three numbers that became a date: their order was the country's, and the file lost it."""
    return refuse(
        "lost-to-date",
        f'The cell holds a date or a time, shown as "{shown(cell)}"; the order of the numbers typed is lost. '
        f"Expected {expected}.",
        "Format the column as Text and type the tempo again, or write four parts: 3-1-1-0.",
    )


def _sizes_or_bands(text: str) -> Sizes | BandNames | Remark:
    if "=" in fold(text):
        return read_bands(text)
    sizes = read_sizes(text)
    if isinstance(sizes, Remark) and not any(char.isdigit() for char in fold(text)):
        return read_bands(text)
    return sizes


def _kind(name: str, language: _Language[T], says: str) -> Kind[T]:
    def read(cell: SourceCell) -> Understood[T] | Refusal:
        return _read(language, cell)

    return Kind(name, read, says=says)


def _read_ramp_or_no(cell: SourceCell) -> Understood[bool | Ramp] | Refusal:
    word = fold(shown(cell))
    if cell.type is CellType.TRUTH or word in {"yes", "no", "y", "n"}:
        answer = YES_NO.read(cell)
        return answer if isinstance(answer, Refusal) else Understood(answer.value, answer.remarks)
    ramp = RAMP.read(cell)
    return ramp if isinstance(ramp, Refusal) else Understood(ramp.value, ramp.remarks)


SETS: Kind[Sets | NotThisWeek | Prescription] = _kind(
    "sets",
    _Language("sets", "unreadable-reps", read_sets, _sets_from_date),
    "3, 2-3, a whole prescription such as 3 x 8 @ 75%, or a dash: not this week.",
)
REPS: Kind[Reps] = _kind(
    "reps",
    _Language("repetitions, a time or a distance", "unreadable-reps", read_reps, _reps_from_date),
    "8, 8-10, 12, 10, 8, 8 each side, AMRAP, 30 s, 400 m.",
)
LOAD: Kind[LoadText] = _kind(
    "load",
    _Language("a load", "unreadable-load", read_load),
    "75%, 60 kg, RPE 8, own + 2.5 kg, body weight, 60-70% HRR.",
)
REST: Kind[Rest] = _kind(
    "rest",
    _Language("a rest", "unreadable-rest", read_rest, _rest_from_time, (cleared_date, cleared_time)),
    "60 (seconds), 60-90 s, 1:30, 2 min, 0.",
)
TEMPO: Kind[Tempo] = _kind(
    "tempo",
    _Language("a tempo", "unreadable-tempo", read_tempo, _tempo_lost),
    "3-1-1-0, 31X0: lowering, pause, lifting, pause.",
)
DONE_AS: Kind[DoneAs] = _kind(
    "done as",
    _Language("a way to do a group", "unknown-choice", read_done_as),
    "circuit, EMOM 10 min, every 2 min x 5, AMRAP 12 min, for time, drop last set 20% x 2, rest-pause.",
)
RAMP: Kind[Ramp] = _kind("ramp", _Language("ramp sets", "unreadable-load", read_ramp), "bar x 8, 50% x 5, 70% x 3.")
RAMP_OR_NO: Kind[bool | Ramp] = Kind("ramp or no", _read_ramp_or_no, says="yes, no, or a list: bar x 8, 50% x 5.")
WEIGHT: Kind[Weight] = _kind("weight", _Language("a weight", "not-a-number", read_weight), "80, 80 kg, 176 lb.")
TESTED_WEIGHT: Kind[Weight] = _kind(
    "tested weight",
    _Language("a weight", "not-a-number", read_tested_weight),
    "80, 80 kg, 176 lb; for body weight with help -20 kg.",
)
WEEKS: Kind[Weeks] = _kind("weeks", _Language("weeks", "not-a-number", read_weeks), "1-4, or 2, 4, or all.")
WEEKDAYS: Kind[tuple[Weekday, ...]] = _kind(
    "days", _Language("days of the week", "unknown-choice", read_weekdays), "Mon Wed Fri."
)
SIZES_OR_BANDS: Kind[Sizes | BandNames] = _kind(
    "sizes",
    _Language("sizes, or bands", "not-a-number", _sizes_or_bands),
    "25, 20, 15; 2-40 by 2; 20 x2, 10 x4; for bands: light = yellow.",
)
EFFORT_LIMIT: Kind[EffortLimit] = _kind(
    "highest effort", _Language("an effort", "unreadable-load", read_effort_limit), "RPE 7, or 80%."
)
RESULT: Kind[Result] = _kind(
    "result",
    _Language("a test result", "not-a-number", read_result, _result_from_time, (cleared_date, cleared_time)),
    "45 s, 12 reps, 1000 m, 112 bpm.",
)
ZONES: Kind[Zones] = _kind(
    "zones", _Language("heart-rate zones", "unreadable-load", read_zones), "easy 40-59%, steady 60-74%."
)
LOG: Kind[LogText] = _kind(
    "log", _Language("what was done", "unreadable-reps", read_log), "ok, -, 95x5, 95x5 @8, 95x5, 95x5, 90x4, 45 s."
)
