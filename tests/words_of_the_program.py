"""Every word of the program's own that a user meets, gathered from what it has: sheets, options, labels, files."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import fields
from pathlib import Path

import click

from compiler.cli import programme
from compiler.documents.booklet import build_booklet
from compiler.documents.booklet_value import BlankLoad, Block, Booklet, Format, Session, Wording
from compiler.documents.neutral import Sheet
from compiler.documents.progress_sheet import HEADINGS as PROGRESS_HEADINGS
from compiler.documents.progress_sheet import NAME as PROGRESS
from compiler.documents.run_list import FOLDED_RUN
from compiler.flags.catalogue import CATALOGUE
from compiler.flags.model import Severity
from compiler.model.book import Book
from compiler.model.records import Exercise
from compiler.notation.languages import LANGUAGES
from compiler.pipeline.check import Checked, check_workbook
from compiler.pipeline.compile import compile_workbook, held_clients
from compiler.schema.sheets import NOT_READ, SHEETS
from tests.all_at_once import summarise

EXAMPLES = Path(__file__).parents[1] / "examples"
EXAMPLE, MISTAKES = EXAMPLES / "ottermere-winter-block.xlsx", EXAMPLES / "ottermere-with-mistakes.xlsx"


def words_of_the_program(folder: Path) -> dict[str, set[str]]:
    """Return the words by kind, a week's number as N. The example is compiled into a folder for the names of files."""
    compiled = compile_workbook(EXAMPLE, folder)
    checked = [check_workbook(EXAMPLE), check_workbook(MISTAKES)]
    columns = [column for sheet in SHEETS for column in (*sheet.columns, *sheet.weekly)]
    settings = {column.header for sheet in SHEETS if sheet.settings for column in sheet.columns}
    summary = [sheet for one in checked for sheet in _summary(one)]
    return {
        "sheets": {sheet.name for sheet in SHEETS} | set(NOT_READ),
        "settings": settings,
        "columns": {column.header.format(week="N") for column in columns} - settings,
        "choices": {choice for column in columns for choice in column.kind.choices},
        "cell words": set(_cell_words()),
        "commands": set(programme.commands),
        "options": {option for command in programme.commands.values() for option in _options(command)},
        "severities": set(Severity),
        "flags": set(CATALOGUE),
        "sheets of the summary": {sheet.name for sheet in summary} | {PROGRESS},
        "columns of the summary": {heading for sheet in summary for heading in _headings(sheet, checked)}
        | {heading.text for heading in PROGRESS_HEADINGS} - {column.header for column in columns},
        "labels of the booklet": {_bare(label) for one in checked for label in _labels(one)},
        "files": {_place(name) for name in (*compiled.written.places, FOLDED_RUN)},
    }


def _options(command: click.Command) -> Iterator[str]:
    return (name for parameter in command.params for name in parameter.opts if name.startswith("-"))


def _cell_words() -> Iterator[str]:
    """Yield the words in the accepted forms of cells, as the field reference prints them."""
    for language in LANGUAGES:
        if language.name not in {"zones", "bands"}:  # the coach's own names
            for text, _ in language.examples:
                yield from re.findall(r"\b[a-z]+(?:-[a-z]+)*\b", text.casefold())


def _summary(checked: Checked) -> tuple[Sheet, ...]:
    book = book_of(checked)
    return summarise(book, checked.plans, checked.flags, held_clients(book, checked.flags, checked.clients))


def _headings(sheet: Sheet, checked: Iterable[Checked]) -> Iterator[str]:
    """Yield the headings of a sheet but blank ones and those that name a site's kit or a muscle of the coach's."""
    works = {muscle for one in checked for exercise in book_of(one).exercises for muscle in _muscles(exercise)}
    for heading in sheet.headings:
        if heading.text and ": " not in heading.text and heading.text not in works:
            yield heading.text


def _muscles(exercise: Exercise) -> Iterator[str]:
    for field in (exercise.works, exercise.also_works):
        yield from field.value or ()


def book_of(checked: Checked) -> Book:
    """Return the book of a workbook that has every sheet it needs."""
    if checked.book is None:
        raise AssertionError("the example has lost a sheet")
    return checked.book


def _place(name: str) -> str:
    """Return where a file stands, a client's booklet by the folder alone."""
    return "booklets" if name.startswith("booklets/") else name


def _bare(label: str) -> str:
    """Return a label without what is filled in and without its full stop."""
    return label.replace("{}", "").strip(" .,()")


def _labels(checked: Checked) -> Iterator[str]:
    for field in fields(Wording):
        words = field.default
        yield from [words] if isinstance(words, str) else words  # type: ignore[misc]
    yield from Format
    for plan in checked.plans:
        yield from _of_booklet(build_booklet(book_of(checked), plan))


def _of_booklet(booklet: Booklet) -> Iterator[str]:
    yield booklet.cover.plan.title
    yield booklet.how_to.title
    yield from (point.head for point in booklet.how_to.points if point.head)
    yield booklet.safety.title
    yield booklet.safety.emergency_title
    if booklet.progress:
        yield booklet.progress.title
    for session in booklet.sessions:
        yield from _of_session(session)


def _of_session(session: Session) -> Iterator[str]:
    for ticks in (session.warm_up, session.cool_down):
        if ticks:
            yield ticks.title
    for block in session.blocks:
        yield from _of_block(block)


def _of_block(block: Block) -> Iterator[str]:
    yield re.sub(r"\d.*", "", block.kind).rstrip(", ")
    for row in block.rows:
        if row.log.count:
            yield row.log.caption
        if row.spotter:
            yield row.spotter
        if isinstance(row.load, BlankLoad):
            yield row.load.unit
    if block.result:
        yield block.result.words
