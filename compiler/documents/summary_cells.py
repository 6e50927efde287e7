"""Which load cells the plans rest on: from the cell that a planned load names back to what was typed there."""

from __future__ import annotations

from collections.abc import Iterable

from compiler.cellref import CellRef
from compiler.model.book import Book
from compiler.model.effective import LoadChain, unroll


def chains_by_cell(book: Book) -> dict[CellRef, LoadChain]:
    """Return what stands behind every load cell of Programme and Changes: the load typed and the steps on it."""
    found: dict[CellRef, LoadChain] = {}
    for row in book.programme:
        for says in unroll(row).values():
            if says.load is not None:
                found.setdefault(says.load.place_field.place, says.load)
    for change in book.changes:
        if not change.load.blank:
            found[change.load.place] = LoadChain(change.load, 1)
    return found


def as_typed(chain: LoadChain) -> str:
    """Return the words of a load cell and of the steps since: `75%, then +2.5 kg`."""
    return ", then ".join(field.text for field in (chain.base, *chain.steps))


def cells_text(cells: Iterable[CellRef]) -> str:
    """Return places with each sheet named once: `Programme!L12, M12; Changes!K3`."""
    sheets: dict[str, list[str]] = {}
    for cell in cells:
        sheets.setdefault(cell.sheet, []).append(cell.a1)
    return "; ".join(f"{sheet}!{', '.join(places)}" for sheet, places in sheets.items())


def spans(numbers: list[int]) -> str:
    """Return whole numbers as people write them: `1-3, 5`."""
    runs: list[list[int]] = []
    for number in sorted(set(numbers)):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(f"{run[0]}-{run[-1]}" if len(run) > 1 else f"{run[0]}" for run in runs)
