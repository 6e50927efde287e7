"""The Changes sheet: every exception speaks of somebody, says all that it needs, and meets a row.

A change that does not hold leaves its client with the load or the exercise it was to take away. So every error
here stops the clients it speaks of, and the one whose name a misspelt name is nearest to.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from compiler.checks.lookups import (
    called_people,
    change_header,
    client_names,
    exercise_names,
    key_of,
    people_of,
    site_names,
)
from compiler.checks.references import nearest_keys, unknown_exercise
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.folding import name_key
from compiler.model.book import Book
from compiler.model.records import Change
from compiler.notation.effort import read_effort_limit
from compiler.notation.values import EffortLimit, NotThisWeek, Step
from compiler.schema.kinds_numbers import LOOKS_LIKE_A_SHARE
from compiler.schema.words import EVERY


def check_change_people(book: Book) -> Iterator[Flag]:
    """Check that every word of Client is a client, a group, a level, a programme, or `all`."""
    known, everybody = called_people(book), people_of(book)
    for change in book.changes:
        for word in change.who.known or ():
            if word in known:
                continue
            near = nearest_keys(word, known)
            meant = [client for client in book.clients if key_of(client.name) in near]
            remark = Remark(
                "unknown-client",
                f'"{word}" is not a client, group, level or programme.',
                known.hint(word),
            )
            touches = client_names([*everybody.concerned(change), *meant])
            yield flag(remark, change.who.place, found=change.who.text, touches=dict.fromkeys(touches))


def check_change_names(book: Book) -> Iterator[Flag]:
    """Check that the exercise, and the exercise or site of With, are there; a scale is a percentage."""
    exercises, sites, everybody = exercise_names(book), site_names(book), people_of(book)
    for change in book.changes:
        touches = everybody.stopped_by(change)
        name = change.exercise.known
        if name and name not in exercises and name_key(name) != EVERY:
            yield unknown_exercise(change.exercise, exercises, touches=touches)
        other = change.with_.known
        if not other:
            continue
        if change.do.known == "swap" and other not in exercises:
            yield unknown_exercise(change.with_, exercises, touches=touches)
        if change.do.known == "train at" and sites.keys and other not in sites:
            remark = Remark("unknown-site", f'"{other}" is not on the {sites.where} sheet.', sites.hint(other))
            yield flag(remark, change.with_.place, found=change.with_.text, touches=touches)
        if change.do.known == "scale":
            yield from _scale(change, touches)


def _scale(change: Change, touches: tuple[str, ...]) -> Iterator[Flag]:
    text = change.with_.known or ""
    read = read_effort_limit(text)
    if isinstance(read, EffortLimit) and read.percent is not None:
        return
    bare = text.replace(".", "", 1).isdecimal()
    slug = "bare-percentage" if bare else "not-a-number"
    message = (
        f'"{text}" has no % sign; a scale is a percentage.'
        if bare
        else f'"{text}" is not a percentage, and `scale` needs one.'
    )
    hint = "Write it in figures with its sign, %."
    if bare and Decimal(text) > LOOKS_LIKE_A_SHARE:
        hint = f"Write {text}%."
    yield flag(Remark(slug, message, hint), change.with_.place, found=change.with_.text, touches=touches)


def check_change_cells(book: Book) -> Iterator[Flag]:
    """Check that every kind of change has the cell that it cannot do without."""
    everybody = people_of(book)
    for change in book.changes:
        touches = everybody.stopped_by(change)
        doing = change.do.known
        if doing in {"swap", "scale", "train at"} and change.with_.blank:
            what = {"swap": "the exercise to do instead", "scale": "a percentage", "train at": "a site"}[doing]
            remark = Remark(
                "missing-name",
                f'"{change_header("with_")}" is blank, and "{doing}" needs {what} there.',
                "Fill it in, or delete the row.",
            )
            yield flag(remark, change.with_.place, related=(change.do.place,), touches=touches)
        if doing == "load" and change.load.blank:
            remark = Remark(
                "missing-load",
                f'"{change_header("load")}" is blank, and "load" needs this client\'s own load there.',
                "Fill it in, or delete the row.",
            )
            yield flag(remark, change.load.place, related=(change.do.place,), touches=touches)
        if doing == "train at" and not (change.exercise.blank and change.order.blank):
            cell, head = (
                (change.order, change_header("order"))
                if change.exercise.blank
                else (change.exercise, change_header("exercise"))
            )
            remark = Remark(
                "cells-disagree",
                f'"train at" moves whole sessions, and {head} says "{cell.text}".',
                f"Clear {head}, or choose another change for this one exercise.",
            )
            yield flag(remark, cell.place, found=cell.text, related=(change.do.place,), touches=touches)


def check_change_doses(book: Book) -> Iterator[Flag]:
    """Check that a change states its load and sets in full: it has no week before it."""
    everybody = people_of(book)
    for change in book.changes:
        touches = everybody.stopped_by(change)
        if isinstance(change.load.known, Step):
            remark = Remark(
                "step-without-start",
                f'"{change.load.text}" is a step on the week before, and a change has no week before it.',
                "Write the load in full: 75%, 60 kg, own + 2.5 kg, RPE 7.",
            )
            yield flag(remark, change.load.place, found=change.load.text, touches=touches)
        if isinstance(change.sets.known, NotThisWeek):
            remark = Remark(
                "unreadable-reps",
                f'"{change.sets.text}" is not a number of sets; a dash leaves out a week on the Programme sheet alone.',
                'Choose "leave out", or type the sets.',
            )
            yield flag(remark, change.sets.place, found=change.sets.text, touches=touches)


def check_keep_reasons(book: Book) -> Iterator[Flag]:
    """Check that keeping an exercise against a restriction has a reason."""
    everybody = people_of(book)
    for change in book.changes:
        if change.do.known == "keep" and change.why.blank:
            remark = Remark(
                "keep-without-reason",
                f'"keep" keeps an exercise in spite of a restriction, and "{change_header("why")}" is blank.',
                "Write who agreed and when. It is never printed.",
            )
            touches = everybody.stopped_by(change)
            yield flag(remark, change.why.place, related=(change.do.place,), touches=touches)
