"""A room of people who train as planned, more or less: fills in a log entry workbook as a clerk would type it.

Everybody has a true 1RM in every lift, some percent from the tested one. What a set costs follows from it by the
handbook's table, so that what the log says is what the plans lead to. The same seed gives the same room.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import ROUND_FLOOR, Decimal
from io import BytesIO
from random import Random

from openpyxl import load_workbook

from compiler.folding import name_key
from compiler.notation.values import AtLeast, Count, TestSet
from compiler.quantities import Load, Unit, plain
from compiler.resolve.rep_table import percent_for_reps, reps_for_percent
from compiler.resolve.values import ClientPlan, LoadKind, PlannedExercise
from compiler.review.log_sets import planned_load
from compiler.review.turns import reps_of

STRENGTHS = range(-3, 9)
"""By how many percent a true 1RM may lie from the tested one."""

HARDEST, EASIEST_WRITTEN = Decimal(10), Decimal(6)
HALF, STEP, HUNDRED = Decimal("0.5"), Decimal("2.5"), Decimal(100)
NO_LOG, MISSED_TWO = "Mabel Stannard", "Callum Wraith"

Key = tuple[str, str, str, str, int]


@dataclass(frozen=True)
class Room:
    """What everybody does, by client, session, order, exercise and week, and the true 1RM by client and exercise."""

    planned: dict[Key, PlannedExercise]
    true_max: dict[tuple[str, str], Load]
    random: Random


def train(log: bytes, plans: tuple[ClientPlan, ...], seed: int) -> bytes:
    """Return the log entry workbook filled in."""
    random = Random(seed)  # noqa: S311 - a simulated room, no secret
    planned = dict(_planned(plans))
    known = {(key[0], key[3]): one.load.maximum.one_rm for key, one in planned.items() if one.load.maximum}
    true_max = {key: load.times((HUNDRED + random.choice(STRENGTHS)) / HUNDRED) for key, load in known.items() if load}
    room = Room(planned, true_max, random)
    book = load_workbook(BytesIO(log))
    sheet = book["Log"]
    heads = {cell.value: cell.column for cell in sheet[1]}
    for row in range(2, sheet.max_row + 1):
        client, session, order, exercise = (str(sheet.cell(row, column).value or "") for column in range(1, 5))
        names = (name_key(client), name_key(session), name_key(order), name_key(exercise))
        for week in range(1, 5):
            if sheet.cell(row, heads[f"Week {week} target"]).value != "–":
                sheet.cell(row, heads[f"Week {week}"]).value = _typed(room, client, (*names, week))
    out = BytesIO()
    book.save(out)
    return out.getvalue()


def _planned(plans: tuple[ClientPlan, ...]) -> Iterator[tuple[Key, PlannedExercise]]:
    for plan in plans:
        for session in plan.sessions:
            for part in session.parts.values():
                for one in part:
                    names = (plan.name, session.name, one.order, one.exercise.name.needed)
                    client, name, order, exercise = map(name_key, names)
                    yield (client, name, order, exercise, one.week), one


def _typed(room: Room, client: str, key: Key) -> str | None:
    """Return what is typed: `-` for who was away, `ok` in the session's row, sets where somebody wrote them down."""
    if client == NO_LOG:
        return None
    if client == MISSED_TWO and key[4] in {2, 3}:
        return "-"
    one = room.planned.get(key)
    if one is None:
        return "ok"
    if room.random.random() > 0.8 or one.sets is None or one.done_as is not None:
        return None
    if one.load.kind is LoadKind.WORK_UP:
        return _heaviest(room, key, one)
    return _sets(room, key, one) if one.load.kind is LoadKind.WEIGHT else None


def _heaviest(room: Room, key: Key, one: PlannedExercise) -> str | None:
    """Return the heaviest set of a test day: what the table gives for the repetitions, down to the next 2.5 kg."""
    item, truth = reps_of(one, 0), room.true_max.get((key[0], key[3]))
    share = percent_for_reps(Decimal(item.count)) if isinstance(item, TestSet) else None
    if truth is None or share is None or not isinstance(item, TestSet):
        return None
    exact = truth.to(Unit.KG).amount * share / HUNDRED
    return f"{plain((exact / STEP).to_integral_value(ROUND_FLOOR) * STEP)} kg x {item.count}"


def _sets(room: Room, key: Key, one: PlannedExercise) -> str | None:
    texts = []
    for number in range(one.sets.low if one.sets else 1):
        item, load = reps_of(one, number), planned_load(one, number)
        weight = load.low.load if load else None
        reps = item.low if isinstance(item, Count) else item.count if isinstance(item, AtLeast) else None
        if weight is None or reps is None:
            return None
        texts.append(f"{plain(weight.amount)}{weight.unit}x{reps}")
    effort = _effort(room, key, one)
    if effort is not None:
        texts[-1] += f" @{plain(effort)}"
    return ", ".join(texts)


def _effort(room: Room, key: Key, one: PlannedExercise) -> Decimal | None:
    """Return how hard the last set was, None where nobody would write it down or it was easier than RPE 6."""
    last = (one.sets.low if one.sets else 1) - 1
    item, load = reps_of(one, last), planned_load(one, last)
    if not isinstance(item, Count) or load is None or load.low.load is None:
        return None
    truth = room.true_max.get((key[0], key[3])) if one.load.maximum else None
    if truth is None:
        return Decimal(room.random.choice(["7", "7.5", "8", "8.5", "9"]))
    to_failure = reps_for_percent(load.low.load.to(truth.unit).amount * HUNDRED / truth.amount)
    if to_failure is None:
        return None
    rounded = ((HARDEST - max(to_failure - item.low, Decimal(0))) / HALF).to_integral_value() * HALF
    return rounded if rounded >= EASIEST_WRITTEN else None
