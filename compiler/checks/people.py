"""Screening and consent: who may not train before somebody has signed.

Ages count to the client's start date.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from compiler.checks.lookups import called, client_flag
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.model.book import Book
from compiler.model.records import Client


def _printed(book: Book) -> list[Client]:
    return [client for client in book.clients if client.has_booklet]


def check_screening_answers(book: Book) -> Iterator[Flag]:
    """Check that `ask first` holds the booklet until somebody has signed."""
    for client in _printed(book):
        if client.screening.known != "ask first" or not client.signed_off_by.blank:
            continue
        remark = Remark(
            "ask-first",
            f'{called(client)} is marked "ask first", and nobody has signed off.',
            "Fill in Signed off by when a doctor or physiotherapist has agreed.",
        )
        yield client_flag(remark, client, client.screening, related=(client.signed_off_by.place,))


def check_minors(book: Book) -> Iterator[Flag]:
    """Check that a client under the adult age has a guardian's consent. Without any date nobody's age is known."""
    adult = book.block.adult_age.known
    for client in _printed(book):
        born, day = client.born.known, start_of(book, client)
        if adult is None or born is None or day is None:
            continue
        age = born.age_on(day)
        if age < 0:
            yield _unborn(client, day)
        elif age < adult and client.guardian_consent.blank:
            remark = Remark(
                "minor-without-consent",
                f"{called(client)} is {age} on {day.isoformat()}, under {adult},"
                " and has no guardian's consent.",
                "Fill in Guardian consent with the day a guardian agreed.",
            )
            yield client_flag(remark, client, client.guardian_consent, related=(client.born.place,))


def start_of(book: Book, client: Client) -> date | None:
    """Return the day that ages count to: the client's own start, else the Block's; None where a cell failed."""
    if client.start_date.failed:
        return None
    return client.start_date.known or book.block.start_date.known


def check_start_date(book: Book) -> Iterator[Flag]:
    """Check that there is a day to count to, where there are ages of people or of tests to be counted."""
    start = book.block.start_date
    waiting = [client for client in _printed(book) if client.start_date.blank]
    unseen = ["who is a minor"] if any(not client.born.blank for client in waiting) else []
    unseen += ["how old the tests are"] if book.tests else []
    if not start.blank or not waiting or not unseen:
        return
    remark = Remark(
        "no-start-date",
        f"There is no start date, so it was not checked {' and '.join(unseen)}.",
        "Fill in Start date on the Block sheet, or for each client on the Clients sheet.",
    )
    yield flag(remark, start.place)


def _unborn(client: Client, day: date) -> Flag:
    remark = Remark(
        "unreadable-date",
        f'Born is "{client.born.text}", after the start on {day.isoformat()}.',
        "Write the year or the day of birth: 1984, or 1984-03-15.",
    )
    return client_flag(remark, client, client.born)


def check_screened(book: Book) -> Iterator[Flag]:
    """Check that everybody has been screened; where nobody has, it is flagged once."""
    people = _printed(book)
    missing = [client for client in people if client.screened_on.blank]
    if missing and len(missing) == len(people) and len(people) > 1:
        remark = Remark(
            "not-screened",
            f"None of the {len(people)} clients has a day in Screened on.",
            "Have everybody answer the screening questions before week 1, and fill in the day, written as 2026-11-02.",
        )
        yield flag(remark, sheet=missing[0].row.sheet)
        return
    for client in missing:
        remark = Remark(
            "not-screened",
            f"{called(client)} has no day in Screened on.",
            "Ask the screening questions, and fill in the day they were answered, written as 2026-11-02.",
        )
        yield client_flag(remark, client, client.screened_on, stops=False)
