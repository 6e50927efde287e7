"""Percentages outside the Block's range, settings that contradict each other, and the sample safety text."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from compiler.cellref import CellRef
from compiler.checks.lookups import called, client_flag
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.folding import fold
from compiler.model.book import Book
from compiler.model.effective import LoadChain
from compiler.model.field import Field
from compiler.notation.load import HIGHEST_PERCENT, LOWEST_PERCENT
from compiler.quantities import plain
from compiler.schema.safety_sample import BEFORE, STOP_SESSION, STOP_SET
from compiler.schema.sheets import BLOCK


def check_percentages(book: Book) -> Iterator[Flag]:
    """Check that percentages, with the steps in points since, lie in the Block's range."""
    seen: set[CellRef] = set()
    chains = [says.load for row in book.programme for says in book.weeks_of[row.row].values() if says.load]
    chains += [LoadChain(change.load, 1) for change in book.changes if not change.load.blank]
    for chain in chains:
        cell = chain.place_field
        reached = _reached(chain)
        if reached is None or cell.place in seen:
            continue
        seen.add(cell.place)
        remark = _out_of_range(book, chain, *reached)
        if remark is not None:
            yield flag(remark, cell.place, found=cell.text, related=_related(chain))


def _reached(chain: LoadChain) -> tuple[Decimal, Decimal] | None:
    """Return the lowest and highest percentage of a chain; None where it is none, or a cell of it failed."""
    reached = chain.percentages
    return None if reached is None else (min(low.value for low, _ in reached.items), reached.heaviest)


def _out_of_range(book: Book, chain: LoadChain, low: Decimal, high: Decimal) -> Remark | None:
    if low < LOWEST_PERCENT or high > HIGHEST_PERCENT:
        far = high if high > HIGHEST_PERCENT else low
        return Remark(
            "impossible-percentage",
            f'With "{chain.place_field.text}" the load comes to {plain(far)}%;'
            f" expected {plain(LOWEST_PERCENT)}% to {plain(HIGHEST_PERCENT)}%.",
            "A step in % adds points to the week before. Write the percentage in full, or a smaller step.",
        )
    lowest, highest = book.block.lowest_percent.known, book.block.highest_percent.known
    if lowest is None or highest is None or lowest.value > highest.value:
        return None
    if low < lowest.value:
        return Remark(
            "unusual-percentage",
            f"{plain(low)}% is under the Block's lowest percentage, {lowest}.",
            "Check the cell, or change the range on the Block sheet.",
        )
    if high > highest.value:
        return Remark(
            "unusual-percentage",
            f"{plain(high)}% is over the Block's highest percentage, {highest}.",
            "Check the cell, or change the range on the Block sheet.",
        )
    return None


def _related(chain: LoadChain) -> tuple[CellRef, ...]:
    return (chain.base.place,) if chain.steps else ()


def check_settings(book: Book) -> Iterator[Flag]:
    """Check that no two settings of the Block contradict each other."""
    block = book.block
    lowest, highest = block.lowest_percent.known, block.highest_percent.known
    if lowest is not None and highest is not None and lowest.value > highest.value:
        message = f"The lowest percentage is {lowest}, the highest {highest}."
        yield _contradiction(block.highest_percent, block.lowest_percent, message, "Swap the two, or correct one.")
    good, used = block.test_good_days.known, block.test_used_days.known
    if good is not None and used is not None and used < good:
        message = f"A test is good for {good} days, and not used after {used}."
        hint = "Make the second number the larger one."
        yield _contradiction(block.test_used_days, block.test_good_days, message, hint)
    easier, weeks = block.easier_weeks.known, block.weeks.known
    late = [week for week in (easier.numbers or () if easier else ()) if weeks is not None and week > weeks]
    if late:
        message = f"Easier weeks names week {late[0]}, and the block has {weeks}."
        yield _contradiction(block.easier_weeks, block.weeks, message, "Correct one of the two.")


def _contradiction(cell: Field[Any], other: Field[Any], message: str, hint: str) -> Flag:
    """Return the flag of two settings, at the one that was typed: the other may be a default."""
    at = cell if cell.text else other
    related = [field.place for field in (cell, other) if field is not at and field.text]
    return flag(
        Remark("cells-disagree", message, hint),
        _written(at),
        sheet=BLOCK.name,
        found=at.text or None,
        related=related,
    )


def _written(cell: Field[Any]) -> CellRef | None:
    """Return the place of a setting; None where the sheet has no row for it and the default holds."""
    return cell.place if cell.place.row > 1 else None


def check_safety_text(book: Book) -> Iterator[Flag]:
    """Check that the safety text has been made the gym's own."""
    block = book.block
    lists: tuple[tuple[Field[str], str], ...] = (
        (block.safety_before, BEFORE),
        (block.safety_stop_set, STOP_SET),
        (block.safety_stop_session, STOP_SESSION),
    )
    sample = [cell for cell, text in lists if cell.known is not None and fold(cell.known) == fold(text)]
    if sample:
        which = ("One of the 3 safety texts is", "Two of the 3 safety texts are", "The safety text is")[len(sample) - 1]
        remark = Remark(
            "sample-safety-text",
            f"{which} still the sample; every booklet prints it.",
            "Read it with whoever is responsible for safety here, and put your own words on the Block sheet.",
        )
        related = [cell.place for cell in sample[1:] if _written(cell)]
        yield flag(remark, _written(sample[0]), sheet=BLOCK.name, related=related)


def check_client_numbers(book: Book) -> Iterator[Flag]:
    """Check that numbers of one client do not contradict each other or the Block."""
    weeks = book.block.weeks.known
    for client in book.clients:
        first, rest = client.first_week.known, client.resting_hr.known
        if first is not None and weeks is not None and first > weeks:
            remark = Remark(
                "cells-disagree",
                f"{called(client)} joins in week {first}, and the block has {weeks}.",
                f"Write a week from 1 to {weeks} in First week, or change Weeks on the Block sheet.",
            )
            yield client_flag(remark, client, client.first_week)
        for cell, header in ((client.max_hr, "Max HR"), (client.highest_hr, "Highest HR")):
            if rest is not None and cell.known is not None and cell.known <= rest:
                remark = Remark(
                    "cells-disagree",
                    f"{header} is {cell.known}, and Resting HR is {rest}; expected the resting rate to be lower.",
                    "Correct whichever of the two is a slip.",
                )
                yield client_flag(remark, client, cell, related=(client.resting_hr.place,))


def check_test_units(book: Book) -> Iterator[Flag]:
    """Check that a test's load has one unit."""
    for test in book.tests:
        load, unit = test.load.known, test.unit.known
        if load is not None and load.unit is not None and unit is not None and load.unit.value != unit:
            remark = Remark(
                "cells-disagree",
                f'The load says "{test.load.text}", and Unit says "{unit}".',
                "Clear one of the two.",
            )
            yield flag(remark, test.unit.place, found=test.unit.text, related=(test.load.place,))
