"""Tests that are far from what the same client showed before: pounds read as kilograms, and other jumps.

A row without a unit among tests in the other unit is told too, whatever it shows.

Sets are compared by the 1RM they stand for, by the Block's method. Of each day the best counts, as in the plans, and
working weights are compared with working weights. Tests that are past their use are left in peace.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal
from itertools import pairwise

from compiler.cellref import CellRef
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.folding import name_key
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.model.field import Field
from compiler.model.records import Client, Exercise, Test
from compiler.notation.values import Weight
from compiler.quantities import POUNDS_IN_A_KILOGRAM, Load, Unit, plain
from compiler.resolve.maxima import HUNDRED
from compiler.resolve.plan import Resolution
from compiler.resolve.strength import Estimate, Method, estimate_one_rm
from compiler.schema.implements import SYSTEM

CLOSE_TO_POUNDS = Decimal("0.05")
A_QUARTER = Decimal("0.25")
A_WEEK = timedelta(days=7)
WORKING_WEIGHT = "working weight"
LIFTED = frozenset({"tested", "log", "estimate"})


@frozen
class Shown:
    """What one row of Tests shows: `strength` in kilograms, the 1RM it stands for or a working weight."""

    test: Test
    client: str
    exercise: Exercise
    day: date
    strength: Decimal
    unit: Unit
    is_lift: bool


def review_tests(book: Book, _resolution: Resolution) -> Iterator[Flag]:
    """Yield a warning for each test that looks like pounds, and for each latest test over a quarter from the last."""
    histories = _histories(book)
    told: dict[CellRef, Flag] = {}
    for history in histories.values():
        for before, now in pairwise(history):
            if _looks_like_pounds(before.strength, now.strength) and now.exercise.implement.known != SYSTEM:
                suspect, other = _suspect(before, now)
                told.setdefault(suspect.test.load.place, _pounds(suspect, other, f"the {_words(other)}"))
        if len(history) == 1:
            for found in _against_the_lender(book, history[0], histories):
                told.setdefault(history[0].test.load.place, found)
    for test in book.tests:
        without = _without_unit(book, test)
        if without is not None:
            told.setdefault(test.load.place, without)
    yield from told.values()
    for history in histories.values():
        if len(history) > 1 and history[-1].is_lift:
            before, now = history[-2:]
            jumped = abs(now.strength - before.strength) > A_QUARTER * before.strength
            if jumped and not {before.test.load.place, now.test.load.place} & set(told):
                yield _jump(before, now)
    yield from _body_weights(book)


# ---------------------------------------------------------------- what the rows show


def _histories(book: Book) -> dict[tuple[str, str, bool], list[Shown]]:
    """Return by client, exercise and kind the best of each day, in order."""
    days: defaultdict[tuple[str, str, bool], dict[date, Shown]] = defaultdict(dict)
    for test in book.tests:
        shown = _shown(book, test)
        if shown is None:
            continue
        best = days[name_key(shown.client), name_key(test.exercise.known or ""), shown.is_lift]
        if shown.day not in best or best[shown.day].strength < shown.strength:
            best[shown.day] = shown
    return {key: [own[day] for day in sorted(own)] for key, own in days.items()}


def _shown(book: Book, test: Test) -> Shown | None:
    client = book.client_named.get(name_key(test.client.known or ""))
    exercise, day = book.exercise(test.exercise.known), test.date.known
    cells: tuple[Field[object], ...] = (test.load, test.unit, test.reps, test.rpe, test.source)  # type: ignore[assignment]  # only `failed` is read
    if client is None or exercise is None or day is None or any(cell.failed for cell in cells):
        return None
    source = test.source.known or "tested"
    load = _load(book, test, test.load)
    if load is None or source not in {*LIFTED, WORKING_WEIGHT} or _past_use(book, client, day):
        return None
    is_lift = source != WORKING_WEIGHT
    strength = _one_rm(book, client, exercise, test, load) if is_lift else load.to(Unit.KG).amount
    if strength is None or strength <= 0:
        return None
    return Shown(test, client.name.known or "", exercise, day, strength, load.unit, is_lift)


def _load(book: Book, test: Test, cell: Field[Weight]) -> Load | None:
    """Return a weight of a row; None where its two units contradict each other, which is told by itself."""
    typed, unit = cell.known, test.unit.known
    if typed is None or (
        typed.unit is not None and unit is not None and typed.unit.value != unit and cell is test.load
    ):
        return None
    return Load(typed.amount, typed.unit or (Unit(unit) if unit else book.block.kit_unit))


def _one_rm(book: Book, client: Client, exercise: Exercise, test: Test, load: Load) -> Decimal | None:
    method = book.block.method.known
    if exercise.implement.known == SYSTEM:
        body = _load(book, test, test.body_weight) or _body_weight(book, client)
        if body is None or exercise.share.failed:
            return None
        load = body.times((exercise.share.known or HUNDRED).share).plus(load)
    if method is None:
        return None
    found = estimate_one_rm(load, test.reps.known or 1, test.rpe.known, Method(method))
    return found.one_rm.to(Unit.KG).amount if isinstance(found, Estimate) else None


def _body_weight(book: Book, client: Client) -> Load | None:
    typed = client.body_weight.known
    return None if typed is None else Load(typed.amount, typed.unit or book.block.kit_unit)


def _past_use(book: Book, client: Client, day: date) -> bool:
    start = client.start_date.known or book.block.start_date.known
    used = book.block.test_used_days.known
    return start is not None and used is not None and start - day > timedelta(days=used)


# ---------------------------------------------------------------- pounds


def _looks_like_pounds(one: Decimal, other: Decimal) -> bool:
    """Tell whether two amounts are as far apart as kilograms and pounds, to one part in twenty."""
    ratio = max(one, other) / min(one, other)
    return abs(ratio / POUNDS_IN_A_KILOGRAM - 1) <= CLOSE_TO_POUNDS


def _suspect(before: Shown, now: Shown) -> tuple[Shown, Shown]:
    """Return the test whose unit is likely wrong, and the other.

    Pounds under kg are too heavy, kilograms under lb too light; where both could be, the later one.
    """
    heavy, light = (before, now) if before.strength > now.strength else (now, before)
    if heavy.unit is Unit.KG and light.unit is Unit.KG:
        return heavy, light
    if heavy.unit is Unit.LB and light.unit is Unit.LB:
        return light, heavy
    return now, before


def _against_the_lender(book: Book, own: Shown, histories: dict[tuple[str, str, bool], list[Shown]]) -> Iterator[Flag]:
    """Compare the only test of an exercise with the one that its loads would come from without it."""
    lender, ratio = book.exercise(own.exercise.load_from.known), own.exercise.ratio
    if not own.is_lift or lender is None or lender.implement.known == SYSTEM or ratio.failed:
        return
    lent = histories.get((name_key(own.client), name_key(lender.name.known or ""), True))
    if not lent:
        return
    share = ratio.known or HUNDRED
    expected = lent[-1].strength * share.share
    if _looks_like_pounds(own.strength, expected) and (own.strength > expected) == (own.unit is Unit.KG):
        yield _pounds(own, lent[-1], f"{share} of the {lender.name.known}")


def _pounds(suspect: Shown, other: Shown, than: str) -> Flag:
    heavier = suspect.strength > other.strength
    times = f"about {plain(POUNDS_IN_A_KILOGRAM.quantize(Decimal('0.1')))} times" if heavier else "less than half"
    looks = "pounds under kg" if suspect.unit is Unit.KG else "kilograms under lb"
    remark = Remark(
        "test-in-pounds",
        f"{suspect.client} has {_typed(suspect)} in {suspect.exercise.name.known}, {times} {than}:"
        f" it looks like {looks}.",
        "Correct the load or the unit. If the test is right, leave it.",
    )
    return flag(
        remark,
        suspect.test.load.place,
        client=suspect.client,
        found=suspect.test.load.text,
        related=(other.test.load.place,),
    )


def _without_unit(book: Book, test: Test) -> Flag | None:
    """Flag a row without a unit among tests of the same client and week that are in the unit it was not read in."""
    if test.load.known is None or _typed_unit(test) is not None or test.unit.failed or test.date.known is None:
        return None
    read_in, day = book.block.kit_unit, test.date.known
    near = [
        other
        for other in book.tests_of.get(name_key(test.client.known or ""), ())
        if other.date.known is not None
        and abs(other.date.known - day) < A_WEEK
    ]
    others = [other for other in near if _typed_unit(other) not in {None, read_in}]
    if len(others) <= sum(_typed_unit(other) is read_in for other in near):
        return None
    remark = Remark(
        "test-in-pounds",
        f"{test.client.known}'s test of {test.exercise.known} has no unit and was read in {read_in}; other tests of the"
        f" client in that week are in {_typed_unit(others[0])}.",
        "Write kg or lb in Unit.",
    )
    related = (others[0].unit.place,) if others[0].unit.known else (others[0].load.place,)
    return flag(remark, test.load.place, client=test.client.known, found=test.load.text, related=related)


def _typed_unit(test: Test) -> Unit | None:
    """Return the unit that a row says, beside its load or within it."""
    load, unit = test.load.known, test.unit.known
    if load is None:
        return None
    return load.unit or (Unit(unit) if unit else None)


def _body_weights(book: Book) -> Iterator[Flag]:
    """Compare the body weight of a test with that of the Clients sheet."""
    for test in book.tests:
        client = book.client_named.get(name_key(test.client.known or ""))
        if client is None or test.unit.failed or test.date.known is None:
            continue
        then, now = _load(book, test, test.body_weight), _body_weight(book, client)
        if then is None or now is None or min(then.amount, now.amount) <= 0:
            continue
        if not _looks_like_pounds(then.to(Unit.KG).amount, now.to(Unit.KG).amount):
            continue
        remark = Remark(
            "test-in-pounds",
            f"{client.name.known} weighs {then} here and {now} on the Clients sheet: one of the two looks like the"
            " other unit.",
            "Type the unit with the weight: 71 kg.",
        )
        yield flag(
            remark,
            test.body_weight.place,
            client=client.name.known,
            found=test.body_weight.text,
            related=(client.body_weight.place,),
        )


# ---------------------------------------------------------------- jumps


def _jump(before: Shown, now: Shown) -> Flag:
    percent = abs(now.strength - before.strength) * 100 / before.strength
    way = "above" if now.strength > before.strength else "below"
    by = ""
    if (before.test.reps.known or 1, now.test.reps.known or 1) != (1, 1):
        by = " by the 1RM they stand for"
    remark = Remark(
        "test-jump",
        f"{now.client} has {_typed(now)} in {now.exercise.name.known}, {plain(percent.quantize(Decimal(1)))}% {way} the"
        f" {_words(before)}{by}.",
        "Check both tests. If they are right, leave them.",
    )
    return flag(
        remark,
        now.test.load.place,
        client=now.client,
        found=now.test.load.text,
        related=(before.test.load.place,),
    )


def _typed(shown: Shown) -> str:
    load = shown.test.load.known
    amount = f"{plain(load.amount)} {shown.unit}" if load else shown.test.load.text
    reps = shown.test.reps.known or 1
    return amount if reps == 1 or not shown.is_lift else f"{amount} for {reps}"


def _words(shown: Shown) -> str:
    return f"{_typed(shown)} of {shown.day.isoformat()}"
