"""Repetitions against percentage: whether a set can be done, with a rep or two to spare.

At the true percentage of 1RM the handbook's table gives the repetitions of one set to failure (NSCA, Essentials of
Strength Training and Conditioning, 4th edition, table 17.7, and the NSCA training load chart). One spare is wanted
for three sets and more, two with rests under 90 s or lowering of four seconds and more. Fewer is a warning; under
two thirds of what is asked, for free bars at 80% and above, an error. Silent under 65%, where the table ends. How many
reps to keep in reserve is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from compiler.cellref import CellRef
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.model.book import Book
from compiler.quantities import plain
from compiler.resolve.loads import heaviest_reps
from compiler.resolve.plan import Resolution
from compiler.resolve.rep_table import reps_for_percent
from compiler.resolve.values import Fitted, LoadKind, Part, PlannedExercise

SILENT_UNDER = Decimal(65)
ERROR_FROM = Decimal(80)
SHORT_REST = 90
SLOW_LOWERING = 4
MANY_SETS = 3
TWO_THIRDS = Decimal(2) / Decimal(3)
HUNDRED = Decimal(100)


@dataclass(frozen=True, slots=True)
class _Doubt:
    """One prescription that the table calls doubtful, the same for all whose percentages mean the same."""

    place: CellRef
    slug: str
    percent: Decimal
    asked: int
    possible: Decimal
    spare: int
    text: str


def review_reps(book: Book, resolution: Resolution) -> Iterator[Flag]:
    """Yield one flag a cell: on the row where everybody's percentage says so, else with the clients named."""
    doubts: dict[_Doubt, list[str]] = {}
    for plan in resolution.plans:
        for session in plan.sessions:
            for part in (Part.MAIN, Part.CONDITIONING):
                for planned in session.parts[part]:
                    doubt = _doubt(planned)
                    if doubt is not None:
                        doubts.setdefault(doubt, []).append(plan.name)
    told: set[tuple[CellRef, str]] = set()
    for doubt, names in doubts.items():
        who = tuple(dict.fromkeys(names))
        if (doubt.place, doubt.slug) not in told:
            told.add((doubt.place, doubt.slug))
            yield _flag(book, doubt, who)


def _doubt(planned: PlannedExercise) -> _Doubt | None:
    load = planned.load
    known = load.maximum
    if (
        load.kind is not LoadKind.WEIGHT
        or load.about
        or load.stop_at
        or known is None
        or known.one_rm is None
    ):
        return None
    if known.lent_by is not None or load.source is None:
        return None  # the share of this exercise's own 1RM is not known
    reps = heaviest_reps(planned.reps)
    share = max((_share(item.high, known.one_rm.amount) for item in load.items), default=Decimal(0))
    if reps is None or share < SILENT_UNDER:
        return None
    possible = reps_for_percent(share)
    spare = _spare(planned)
    if possible is None or possible >= reps + spare:
        return None
    free_bar = planned.exercise.implement.value == "barbell"
    hopeless = possible < TWO_THIRDS * reps and free_bar and share >= ERROR_FROM
    slug = "reps-far-beyond-percentage" if hopeless else "reps-beyond-percentage"
    return _Doubt(
        load.source, slug, share.quantize(Decimal("0.1")), reps, possible, spare, planned.exercise.name.needed
    )


def _share(end: Fitted, one_rm: Decimal) -> Decimal:
    return end.exact.amount * HUNDRED / one_rm if one_rm else Decimal(0)


def _spare(planned: PlannedExercise) -> int:
    short = planned.rest is not None and planned.rest.high < SHORT_REST
    slow = planned.tempo is not None and (planned.tempo.lowering or 0) >= SLOW_LOWERING
    if short or slow:
        return 2
    many = planned.sets is not None and planned.sets.high >= MANY_SETS
    return 1 if many else 0


def _flag(book: Book, doubt: _Doubt, clients: tuple[str, ...]) -> Flag:
    far = doubt.slug == "reps-far-beyond-percentage"
    spare = "" if not doubt.spare else f", with {doubt.spare} to spare" if not far else ""
    possible = plain(doubt.possible.quantize(Decimal("0.1")))
    remark = Remark(
        doubt.slug,
        f"{doubt.text}: {doubt.asked} repetitions at {plain(doubt.percent)}% of the 1RM{spare};"
        f" by the table about {possible} to the last one possible.",
        "Fewer repetitions, a lower percentage, or more rest.",
    )
    everybody = len(clients) == sum(1 for c in book.clients if c.name.known)
    client = clients[0] if len(clients) == 1 and not everybody else None
    return flag(remark, doubt.place, client=client, touches=clients if far else ())
