"""Small months for the tests of progress: a block of Markdown tables -> what next month makes of it."""

from __future__ import annotations

from dataclasses import replace

from compiler.binding.records import bind_book
from compiler.pipeline.check import check_source
from compiler.progress.next_block import next_month
from compiler.progress.values import NextMonth
from compiler.review.logged import read_log
from compiler.source.cells import SourceBook
from tests.fragments import fragment_book

BLOCK = """
## Block

| Setting                     | Value                       |
| --------------------------- | --------------------------- |
| Start date                  | 2027-01-04                  |
| Weeks                       | 4                           |
| Easier weeks                | 4                           |
| Unit                        | kg                          |
| Safety: before you start    | Tell the coach how you are. |
| Safety: stop the set if     | Anything hurts.             |
| Safety: stop the session if | You feel faint.             |
{settings}

## Exercises

| Exercise       | Implement | Area  | Load from  | Ratio |
| -------------- | --------- | ----- | ---------- | ----- |
| Back squat     | barbell   | lower |            |       |
| Front squat    | barbell   | lower | Back squat | 85%   |
| Bench press    | barbell   | upper |            |       |
| Goblet squat   | dumbbell  | lower |            |       |
| Weighted dip   | body weight plus load | upper | |      |

## Kit

| Site | Kind      | Name      | Sizes                          | Unit |
| ---- | --------- | --------- | ------------------------------ | ---- |
| Gym  | bar       | 20 kg bar | 20                             | kg   |
| Gym  | plates    |           | 20 x6, 10 x6, 5 x6, 2.5, 1.25  | kg   |
| Gym  | dumbbells |           | 2-40 by 2                      | kg   |
{kit}

## Programme

{heads}
| --------- | ------- | ----- | -------- | ------- | ------- | ------- | ------- | ------- | ------- |
{programme}

## Clients

| Client          | Programme | Site | Born | Restrictions | Body weight | Screening | Screened on | Guardian consent |
| --------------- | --------- | ---- | ---- | ------------ | ----------- | --------- | ----------- | ---------------- |
| Imogen Thackray | Strength  | Gym  | {born} | {restricted} | 70 kg    | clear     | 2026-12-01  | 2026-12-01       |

## Restrictions

| Restriction | Avoid tags | Raise loads |
| ----------- | ---------- | ----------- |
| tired       | note only  | no          |

## Tests

| Client          | Date       | Exercise   | Load | Unit | Reps | RPE | Source         |
| --------------- | ---------- | ---------- | ---- | ---- | ---- | --- | -------------- |
{tests}

## Changes

| Client          | Session | Order | Exercise   | Weeks | Do   | With | Load  |
| --------------- | ------- | ----- | ---------- | ----- | ---- | ---- | ----- |
{changes}

## Log

| Client          | Session | Order | Exercise   | Week 1 | Week 2 | Week 3 | Week 4 |
| --------------- | ------- | ----- | ---------- | ------ | ------ | ------ | ------ |
{log}
"""

HEADS = ("Programme", "Session", "Order", "Exercise", "Week 1 sets", "Week 1 reps", "Week 1 load", "Week 2 load")
HEADS += ("Week 3 load", "Week 4 sets")


def source_of(
    programme: str,
    log: str,
    tests: str = "",
    *,
    changes: str = "",
    settings: str = "",
    born: str = "",
    restricted: str = "",
    rotating: str = "",
    kit: str = "",
) -> SourceBook:
    """Return a block: rows of Programme and Log after the names, rows of Tests after the client, further rows of Kit.

    `rotating` are the days of a client to whom the sessions are dealt out in turn.
    """
    rows = "\n".join(f"| Strength | Press | {row} |" for row in programme.splitlines())
    logged = "\n".join(f"| Imogen Thackray | Press | {row} |" for row in log.splitlines())
    tested = "\n".join(f"| Imogen Thackray | {row} |" for row in tests.splitlines())
    text = BLOCK.format(
        heads=f"| {' | '.join(HEADS)} |",
        programme=rows,
        log=logged,
        tests=tested,
        changes=changes,
        kit=kit,
        settings=settings,
        born="rotate" if rotating else born,
        restricted=rotating or restricted,
    )
    if rotating:
        text = text.replace("| Born | Restrictions |", "| Sessions | Training days |")
    book = fragment_book(text)
    return replace(book, sheets=tuple(sheet for sheet in book.sheets if len(list(sheet.rows())) > 1))


def with_cell(source: SourceBook, name: str, at: tuple[int, int], text: str) -> SourceBook:
    """Return a workbook with another text in one cell."""
    sheets = [
        replace(sheet, cells={**sheet.cells, at: replace(sheet.cells[at], value=text)}) if sheet.name == name else sheet
        for sheet in source.sheets
    ]
    return replace(source, sheets=tuple(sheets))


def month_of(source: SourceBook) -> NextMonth:
    """Return what next month makes of a block."""
    checked = check_source(source)
    book = bind_book(source).book
    if book is None or not checked.plans:
        raise AssertionError([flag.message for flag in checked.flags])
    return next_month(book, checked.plans, read_log(book, checked.plans))
