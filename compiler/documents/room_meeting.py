"""Who meets when: plans -> the clients of each group, programme, session and week of the block.

People who train at the same time meet in the week of the block in which they do, whatever week of their own calendar
that is.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import timedelta
from itertools import chain

from compiler.documents.figures import Figures
from compiler.documents.held import Held
from compiler.folding import name_key
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.model.records import Client
from compiler.resolve.values import ClientPlan, Part, PlannedExercise, PlannedSession

FLOOR_PARTS = (Part.MAIN, Part.CONDITIONING)


@frozen
class Meeting:
    """Who meets when: folded names of group, programme and session, the week of the block, and which time it is."""

    group: str
    programme: str
    week: int
    session: str
    time: int


@frozen
class Present:
    """One client in one session, and the place of the session in the client's own month."""

    plan: ClientPlan
    session: PlannedSession
    position: int

    def floor(self) -> Iterator[PlannedExercise]:
        """Yield the exercises that stand on the sheet."""
        return chain.from_iterable(self.session.parts[part] for part in FLOOR_PARTS)


@frozen
class Room:
    """What all sheets of a block have in common. `untested` are folded names of clients and exercises.

    `together` are the plans of each group and programme, by their folded names.
    """

    book: Book
    plans: tuple[ClientPlan, ...]
    held: tuple[Held, ...]
    figures: Figures
    untested: frozenset[tuple[str, str]]
    together: Mapping[tuple[str, str], Sequence[ClientPlan]]


def group_key(client: Client) -> str:
    """Return the folded name of a client's group, empty without one."""
    return name_key(client.group.known or "")


def together(plans: Iterable[ClientPlan]) -> dict[tuple[str, str], list[ClientPlan]]:
    """Return the plans of each group and programme, by their folded names."""
    found: defaultdict[tuple[str, str], list[ClientPlan]] = defaultdict(list)
    for plan in plans:
        found[group_key(plan.client), name_key(plan.client.programme.known or "")].append(plan)
    return dict(found)


def weeks_late(book: Book, client: Client) -> int:
    """Return how many weeks after the block a client's own calendar starts."""
    own, start = client.start_date.known, book.block.start_date.known
    return (own - start) // timedelta(days=7) if own and start else 0


def meetings_of(room: Room) -> dict[Meeting, list[Present]]:
    """Return everybody who is present at each meeting, in the order of the plans."""
    found: defaultdict[Meeting, list[Present]] = defaultdict(list)
    for plan in room.plans:
        late = weeks_late(room.book, plan.client)
        times: Counter[tuple[int, str]] = Counter()
        for position, session in enumerate(plan.sessions):
            key = name_key(session.name)
            times[session.week, key] += 1
            meeting = Meeting(
                group=group_key(plan.client),
                programme=name_key(plan.client.programme.known or ""),
                week=session.week + late,
                session=key,
                time=times[session.week, key],
            )
            found[meeting].append(Present(plan, session, position))
    return dict(found)
