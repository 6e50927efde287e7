"""Sessions on days that the gym is closed: told once a day, never moved."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.model.book import Book
from compiler.resolve.plan import Resolution


def review_closed_days(book: Book, resolution: Resolution) -> Iterator[Flag]:
    """Yield a warning for each session and week that falls on a closed day, with how many clients it concerns."""
    clients: defaultdict[tuple[int, str, str], list[str]] = defaultdict(list)
    for plan in resolution.plans:
        for session in plan.sessions:
            if session.closed:
                clients[session.week, session.weekday or "", session.name].append(plan.name)
    for (week, weekday, name), names in sorted(clients.items()):
        who = names[0] if len(names) == 1 else f"{len(names)} clients"
        remark = Remark(
            "closed-date",
            f"{name} of week {week} falls on a closed {weekday} for {who}; it is printed without a date.",
            "Agree another day, or change Closed dates on the Block sheet.",
        )
        yield flag(remark, book.block.closed_dates.place, found=book.block.closed_dates.text)
